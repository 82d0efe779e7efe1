package response

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distmv"
	"pgregory.net/rapid"
)

// TestOrdinaryKriging is the worked example of Isaaks and Srivastava, An
// Introduction to Applied Geostatistics (1989), chapter 12: seven samples around
// (65, 137), covariance 10 exp(-0.3 h). Ordinary kriging is a Gaussian process
// with a level nothing is known of: estimate 592.7, variance 8.96.
func TestOrdinaryKriging(t *testing.T) {
	at := func(x, y float64) place { return place{x: [variables]float64{x, y}} }
	covers := func(a, b place) float64 {
		const unknownLevel = 1e6
		return unknownLevel + 10*math.Exp(-0.3*math.Hypot(a.x[0]-b.x[0], a.x[1]-b.x[1]))
	}
	places := []place{at(61, 139), at(63, 140), at(64, 129), at(68, 128), at(71, 140), at(73, 141), at(75, 128)}
	p, err := learn(covers, places, []float64{477, 696, 227, 646, 606, 791, 783}, 0)
	if err != nil {
		t.Fatal(err)
	}
	got := p.at(at(65, 137), at(65, 137))
	if math.Abs(got.mean[0]-592.7) > 0.06 {
		t.Errorf("estimate %.2f, want 592.7", got.mean[0])
	}
	if math.Abs(got.variance[0]-8.96) > 0.006 {
		t.Errorf("variance %.3f, want 8.96", got.variance[0])
	}
	weights := p.factor.Solve(p.toward(at(65, 137)))
	for i, want := range []float64{0.173, 0.318, 0.129, 0.086, 0.151, 0.057, 0.086} {
		if math.Abs(weights[i]-want) > 0.0006 {
			t.Errorf("weight %d is %.4f, want %.3f", i, weights[i], want)
		}
	}
}

func drawPlaces(t *rapid.T, n int) (out []place) {
	number := rapid.Float64Range(-3, 3)
	for range n {
		var p place
		for v := range p.x {
			p.x[v] = number.Draw(t, "x")
		}
		p.coffee = rapid.SampledFrom([]string{"417", "528"}).Draw(t, "coffee")
		out = append(out, p)
	}
	return out
}

// TestProcessAgainstGonum conditions gonum's multivariate normal on the readings.
func TestProcessAgainstGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "readings")
		places := drawPlaces(t, n+2)
		const noise = 0.2
		sigma := mat.NewSymDense(n+2, nil)
		for i, a := range places {
			for j, b := range places[:i+1] {
				sigma.SetSym(i, j, taste.kernel(a, b))
			}
			if i < n {
				sigma.SetSym(i, i, sigma.At(i, i)+noise*noise)
			} else {
				sigma.SetSym(i, i, sigma.At(i, i)+1e-9)
			}
		}
		y := rapid.SliceOfN(rapid.Float64Range(-1, 1), n, n).Draw(t, "y")
		all, ok := distmv.NewNormal(make([]float64, n+2), sigma, nil)
		if !ok {
			return // two places alike, within rounding
		}
		var observed []int
		for i := range n {
			observed = append(observed, i)
		}
		want, ok := all.ConditionNormal(observed, y, nil)
		if !ok {
			return
		}
		p, err := learn(taste.kernel, places[:n], y, noise)
		if err != nil {
			t.Fatal(err)
		}
		got := p.at(places[n], places[n+1])
		var covariance mat.SymDense
		want.CovarianceMatrix(&covariance)
		for i, mean := range want.Mean(nil) {
			if math.Abs(got.mean[i]-mean) > 1e-5 || math.Abs(got.variance[i]-covariance.At(i, i)) > 1e-5 {
				t.Fatalf("%v and %v, want %v and %v", got.mean[i], got.variance[i], mean, covariance.At(i, i))
			}
		}
		if math.Abs(got.covariance-covariance.At(0, 1)) > 1e-5 {
			t.Fatalf("covariance %v, want %v", got.covariance, covariance.At(0, 1))
		}
		marginal, _ := all.MarginalNormal(observed, nil)
		if evidence := marginal.LogProb(y); math.Abs(p.evidence-evidence) > 1e-6*(1+math.Abs(evidence)) {
			t.Fatalf("evidence %v, want %v", p.evidence, evidence)
		}
	})
}

// TestJudge compares the chance of coming nearer and its mean with drawing.
func TestJudge(t *testing.T) {
	ta := newTaster(3, 0.14)
	m := model(t, ta.taste("417", usual), ta.taste("417", usual))
	to := m.Propose("417").To
	got := m.judge(Cup{Coffee: "417", At: usual}, to)
	random := rand.New(rand.NewPCG(5, 5))
	const draws = 200000
	better, worth := 0.0, 0.0
	for range draws {
		improvement := 0.0
		for _, mix := range m.tastes {
			p := mix.at(place{kitchen.scaled(usual), "417"}, place{kitchen.scaled(to), "417"})
			a := p.mean[0] + math.Sqrt(p.variance[0])*random.NormFloat64()
			slope := p.covariance / p.variance[0]
			left := math.Sqrt(p.variance[1] - slope*p.covariance)
			b := p.mean[1] + slope*(a-p.mean[0]) + left*random.NormFloat64()
			improvement += a*a - b*b
		}
		if improvement > 0 {
			better += 1.0 / draws
			worth += improvement / draws
		}
	}
	// The normal shape is an approximation, its first two moments are not.
	if math.Abs(got.better-better) > 0.05 || math.Abs(got.worth-worth) > 0.1*worth {
		t.Errorf("better %.3f worth %.4f, drawn %.3f and %.4f", got.better, got.worth, better, worth)
	}
}
