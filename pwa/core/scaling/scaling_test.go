package scaling

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestCarmansConstant: Carman (1937) writes the permeability as e³/(5 S² (1-e)²)
// with S the surface per volume of grounds, 6/d for spheres.
func TestCarmansConstant(t *testing.T) {
	const size, porosity = 800e-6, 0.38
	surface := 6 / size
	want := math.Pow(porosity, 3) / (5 * surface * surface * math.Pow(1-porosity, 2))
	if got := Permeability(size, porosity); math.Abs(got-want) > 1e-12*want {
		t.Errorf("permeability %v, want %v", got, want)
	}
}

// TestFallingHead is the falling-head example of Das, Principles of Geotechnical
// Engineering (chapter on permeability): a specimen 8 in long of 1.6 in², a
// standpipe of 0.06 in², heads of 20 in and, 180 s later, 12 in, give a
// conductivity of 8.52e-4 in/s. Drawdown runs from bed+head down to the bed.
func TestFallingHead(t *testing.T) {
	const conductivity = 8.52e-4
	standpipe := (0.06 / 1.6) * (8.0 / 12.0)
	if got := standpipe * Drawdown(8, 12, conductivity); math.Abs(got-180) > 0.2 {
		t.Errorf("%v s, want 180 s", got)
	}
}

// TestConductivityOfSand: with water at 20 °C (density 998.2 kg/m³, viscosity
// 1.002 mPa s, CRC Handbook) a permeability of one darcy, 9.869e-13 m², is a
// conductivity of 9.64e-6 m/s (Freeze and Cherry, Groundwater, 1979, table 2.3:
// 9.66e-6 m/s).
func TestConductivityOfSand(t *testing.T) {
	if got := Conductivity(9.869e-13, 998.2, 1.002e-3); math.Abs(got-9.66e-6) > 0.03e-6 {
		t.Errorf("%v m/s, want 9.66e-6 m/s", got)
	}
}

// TestGeometryByIntegration lets water run through beds step by step, knowing no
// exponent, and reads the exponent from two doses.
func TestGeometryByIntegration(t *testing.T) {
	const k = 1e-4
	cylinder := func(dose float64) float64 {
		bed, head := dose*2e-3, dose*13e-3
		return fall(head, func(h float64) float64 { return k * (h + bed) / bed })
	}
	// A cone of half-angle 30°: the radius at a height z is z tan 30°. The bed
	// fills it to b, the water to b+h; all flow leaves through the bed.
	cone := func(dose float64) float64 {
		height := func(volume float64) float64 { return math.Cbrt(3 * volume / (math.Pi / 3)) }
		bed := height(dose * 2e-6)
		head := height(dose*15e-6) - bed
		return fall(head, func(h float64) float64 {
			area := func(z float64) float64 { return math.Pi * z * z / 3 }
			return k * (h + bed) / bed * area(bed) / area(bed+h)
		})
	}
	for shape, time := range map[Shape]func(float64) float64{Cone: cone, FlatBed: cylinder, Cylinder: cylinder} {
		got := math.Log(time(24)/time(12)) / math.Log(2)
		if math.Abs(got-shape.Exponent()) > 1e-3 {
			t.Errorf("%v: exponent %v, want %v", shape, got, shape.Exponent())
		}
	}
	bed, head := 12*2e-3, 12*13e-3
	if got, want := Drawdown(head, bed, k), cylinder(12); math.Abs(got-want) > 1e-3*want {
		t.Errorf("drawdown %v s, integrated %v s", got, want)
	}
}

// fall integrates dh/dt = -speed(h) down to nothing, by the midpoint rule.
func fall(head float64, speed func(float64) float64) (seconds float64) {
	const steps = 20000
	for i := range steps {
		seconds += head / steps / speed(head*(float64(i)+0.5)/steps)
	}
	return seconds
}

func TestCoarserKeepsTheTime(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		factor := rapid.Float64Range(0.2, 5).Draw(t, "factor")
		size := 700e-6
		before := Drawdown(0.1, 0.02, Conductivity(Permeability(size, 0.4), 965, 0.315e-3))
		after := factor * Drawdown(0.1, 0.02, Conductivity(Permeability(size*Coarser(factor), 0.4), 965, 0.315e-3))
		if math.Abs(after-before) > 1e-9*before {
			t.Fatalf("%v s, want %v s", after, before)
		}
	})
}

func cone(dose float64) Setup {
	return Setup{Brewer: "cone, 60 degrees", Shape: Cone, Grinder: "conical", Setting: 24, Set: true, Dose: dose, Water: 16 * dose}
}

func fit(t failer, brews []Brew, about Setup) *Model {
	t.Helper()
	m, err := Fit(brews, about)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

type failer interface {
	Helper()
	Fatal(...any)
}

func has(p Prediction, code string) bool {
	return slices.ContainsFunc(p.Reasons, func(r Reason) bool { return r.Code == code })
}

func TestNoBrewsIsTheHint(t *testing.T) {
	for shape, want := range map[Shape]float64{Cone: 1.0 / 3, FlatBed: 1, Cylinder: 1, Immersion: 0} {
		from, to := cone(15), cone(30)
		from.Shape, to.Shape = shape, shape
		p, err := fit(t, nil, to).Rescale(180, from, to)
		if err != nil {
			t.Fatal(err)
		}
		if got := math.Log(p.Seconds.Value/180) / math.Log(2); math.Abs(got-want) > 1e-9 || math.Abs(p.Exponent.Value-want) > 1e-9 {
			t.Errorf("%v: exponents %v and %v, want %v", shape, got, p.Exponent.Value, want)
		}
		if p.Enough || shape != Immersion && !has(p, ReasonTooFew) || shape == Immersion && !has(p, ReasonSteeped) {
			t.Errorf("%v: reasons %v", shape, p.Reasons)
		}
	}
}

// vega brewed the same cone at several doses; her time goes with dose^0.6.
func vega(doses ...float64) (out []Brew) {
	for i, d := range doses {
		wobble := 1 + 0.02*float64(i%3-1)
		out = append(out, Brew{cone(d), 170 * wobble * math.Pow(d/15, 0.6)})
	}
	return out
}

// turned is a brew with the grinder at another setting.
func turned(b Brew, setting float64) Brew {
	b.Setting = setting
	return b
}

func TestReasons(t *testing.T) {
	for name, row := range map[string]struct {
		brews  []Brew
		to     Setup
		enough bool
		codes  []string
	}{
		"none":           {nil, cone(20), false, []string{ReasonTooFew, ReasonGeometry, ReasonNewBrewer, ReasonNewGrinder}},
		"two":            {vega(12, 24), cone(20), false, []string{ReasonTooFew, ReasonGeometry}},
		"one dose":       {vega(15, 15, 15, 15, 15, 15.1), cone(15), false, []string{ReasonDosesAlike, ReasonGeometry}},
		"several":        {vega(10, 12, 15, 20, 25, 30), cone(18), true, []string{ReasonFitted}},
		"beyond":         {vega(10, 12, 15, 20, 25, 30), cone(60), true, []string{ReasonFitted, ReasonBeyond}},
		"below":          {vega(10, 12, 15, 20, 25, 30), cone(6), true, []string{ReasonFitted, ReasonBeyond, ReasonSmallDose}},
		"grind along":    {[]Brew{turned(vega(12)[0], 23), turned(vega(15)[0], 24), turned(vega(24)[0], 25)}, turned(Brew{Setup: cone(15)}, 60).Setup, false, []string{ReasonDosesAlike, ReasonGeometry, ReasonFarSetting}},
		"at other ratio": {vega(10, 12, 15, 20, 25, 30), Setup{Brewer: "press", Shape: Cylinder, Dose: 15, Water: 90}, false, []string{ReasonTooFew, ReasonGeometry, ReasonNewBrewer}},
	} {
		p, err := fit(t, row.brews, row.to).Time(row.to)
		if err != nil {
			t.Fatal(err)
		}
		var codes []string
		for _, r := range p.Reasons {
			codes = append(codes, r.Code)
		}
		if p.Enough != row.enough || !slices.Equal(codes, row.codes) {
			t.Errorf("%s: enough %v, %v", name, p.Enough, codes)
		}
	}
}

func TestOwnBrewsOverrule(t *testing.T) {
	var brews []Brew
	for range 5 {
		brews = append(brews, vega(10, 12, 15, 20, 25, 30)...)
	}
	p, err := fit(t, brews, cone(20)).Rescale(170, cone(15), cone(20))
	if err != nil {
		t.Fatal(err)
	}
	if want := 170 * math.Pow(20.0/15, 0.6); math.Abs(p.Seconds.Value-want) > 3 {
		t.Errorf("%v s, want about %v s", p.Seconds.Value, want)
	}
	if p.Exponent.Low > 0.6 || p.Exponent.High < 0.6 || p.Exponent.Low < 1.0/3 {
		t.Errorf("exponent %v, 0.6 planted", p.Exponent)
	}
}

// TestAnotherBrewer: with brews in both, the step from one brewer to another is
// learned; without, the answer says so and is wide.
func TestAnotherBrewer(t *testing.T) {
	basket := func(dose float64) Setup {
		s := cone(dose)
		s.Brewer, s.Shape = "basket, flat", FlatBed
		return s
	}
	brews := vega(12, 15, 18, 20, 24, 15)
	unknown, err := fit(t, brews, cone(15)).Rescale(170, cone(15), basket(15))
	if err != nil {
		t.Fatal(err)
	}
	if !has(unknown, ReasonNewBrewer) || unknown.Seconds.High/unknown.Seconds.Low < 2 {
		t.Errorf("%+v", unknown)
	}
	for i, dose := range []float64{12, 15, 18, 20, 24, 15} {
		wobble := 1 + 0.02*float64(i%3-1)
		brews = append(brews, Brew{basket(dose), 240 * wobble * dose / 15})
	}
	known, err := fit(t, brews, cone(15)).Rescale(170, cone(15), basket(20))
	if err != nil {
		t.Fatal(err)
	}
	if want := 240 * 20.0 / 15; math.Abs(known.Seconds.Value-want) > 0.04*want || has(known, ReasonNewBrewer) {
		t.Errorf("%v s, want about %v s; %v", known.Seconds, want, known.Reasons)
	}
	if known.Seconds.High/known.Seconds.Low > 1.5 {
		t.Errorf("interval %v", known.Seconds)
	}
}

func TestThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dose := rapid.Float64Range(5, 60)
		var brews []Brew
		for range rapid.IntRange(0, 8).Draw(t, "brews") {
			b := Brew{drawSetup(t, dose), rapid.Float64Range(60, 400).Draw(t, "seconds")}
			brews = append(brews, b)
		}
		from, to := drawSetup(t, dose), drawSetup(t, dose)
		seconds := rapid.Float64Range(30, 600).Draw(t, "time")
		m := fit(t, brews, from)
		there, err := m.Rescale(seconds, from, to)
		if err != nil {
			t.Fatal(err)
		}
		back, err := m.Rescale(there.Seconds.Value, to, from)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(back.Seconds.Value-seconds) > 1e-9*seconds {
			t.Fatalf("%v s comes back as %v s", seconds, back.Seconds.Value)
		}
		if math.Abs(there.Factor.Low*back.Factor.High-1) > 1e-9 {
			t.Fatalf("factor there %v, back %v", there.Factor, back.Factor)
		}
		for _, e := range []Estimate{there.Seconds, there.Factor, there.Coarser, there.Exponent} {
			if !(e.Low <= e.Value && e.Value <= e.High) {
				t.Fatalf("interval out of order: %v", e)
			}
		}
		if once := Scale(Scale(seconds, from.Dose, to.Dose, 0.7), to.Dose, from.Dose, 0.7); math.Abs(once-seconds) > 1e-9*seconds {
			t.Fatalf("%v s comes back as %v s", seconds, once)
		}
	})
}

func drawSetup(t *rapid.T, dose *rapid.Generator[float64]) Setup {
	s := Setup{
		Brewer:  rapid.SampledFrom([]string{"cone", "basket", "press"}).Draw(t, "brewer"),
		Shape:   rapid.SampledFrom([]Shape{Cone, FlatBed, Cylinder, Immersion}).Draw(t, "shape"),
		Grinder: rapid.SampledFrom([]string{"", "conical", "flat"}).Draw(t, "grinder"),
		Setting: rapid.Float64Range(0, 40).Draw(t, "setting"),
		Set:     rapid.Bool().Draw(t, "set"),
		Dose:    dose.Draw(t, "dose"),
	}
	s.Water = 16 * s.Dose
	return s
}

// TestIntervalsHoldNinetyPercent brews for a thousand people whose exponents,
// levels and noise are drawn as the prior says, and looks whether the next brew
// falls into its interval nine times in ten, and the exponent too.
func TestIntervalsHoldNinetyPercent(t *testing.T) {
	for _, brews := range []int{0, 3, 8, 20} {
		times, exponents := coverage(1000, brews)
		// 1,000 draws at 90 % have a standard error of 0.95 %; four of them.
		for what, got := range map[string]float64{"next time": times, "exponent": exponents} {
			if got < 0.862 || got > 0.938 {
				t.Errorf("after %d brews the interval of the %s holds %.1f %%", brews, what, 100*got)
			}
		}
	}
}

// coverage simulates people and returns the shares of next times and exponents
// that fell into their intervals.
func coverage(people, brews int) (times, exponents float64) {
	random := rand.New(rand.NewPCG(1, uint64(brews)))
	for range people {
		made, next, exponent := person(random, brews)
		m, err := Fit(made, next.Setup)
		if err != nil {
			panic(err)
		}
		p, err := m.Time(next.Setup)
		if err != nil {
			panic(err)
		}
		times += share(p.Seconds, next.Seconds, people)
		exponents += share(p.Exponent, exponent, people)
	}
	return times, exponents
}

// person draws an exponent, a level and a noise as the prior says, and brews.
// Whoever would need more than two days for a brew is drawn again.
func person(random *rand.Rand, brews int) (made []Brew, next Brew, exponent float64) {
	unit := math.Sqrt(noiseFreedom / chiSquared(random, noiseFreedom))
	exponent = Cone.Exponent() + Cone.doubt()*unit*random.NormFloat64()
	level := math.Log(usualSeconds) + unit*(levelDoubt*random.NormFloat64()+differDoubt*random.NormFloat64()*math.Sqrt2)
	for range brews + 1 {
		made = append(made, next)
		next.Setup = cone(8 + 22*random.Float64())
		next.Seconds = math.Exp(level + exponent*math.Log(next.Dose/usualDose) + unit*usualNoise*random.NormFloat64())
		if next.Check() != nil {
			return person(random, brews)
		}
	}
	return made[1:], next, exponent
}

func chiSquared(random *rand.Rand, freedom int) (sum float64) {
	for range freedom {
		z := random.NormFloat64()
		sum += z * z
	}
	return sum
}

func share(e Estimate, truth float64, of int) float64 {
	if truth < e.Low || truth > e.High {
		return 0
	}
	return 1 / float64(of)
}

func TestRefusals(t *testing.T) {
	good := Brew{cone(15), 180}
	for field, spoil := range map[string]func(*Brew){
		"dose":    func(b *Brew) { b.Dose = -1 },
		"water":   func(b *Brew) { b.Water = math.NaN() },
		"seconds": func(b *Brew) { b.Seconds = 0 },
		"setting": func(b *Brew) { b.Setting = math.Inf(1) },
		"shape":   func(b *Brew) { b.Shape = 9 },
	} {
		bad := good
		spoil(&bad)
		_, err := Fit([]Brew{good, bad}, cone(15))
		var refused *Error
		if !errors.As(err, &refused) || refused.Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
	m := fit(t, nil, cone(15))
	if _, err := m.Rescale(math.NaN(), cone(15), cone(20)); err == nil {
		t.Error("no time is accepted")
	}
	if _, err := m.Time(Setup{}); err == nil {
		t.Error("nothing is accepted as a setup")
	}
}

// BenchmarkCoverage prints how many in a hundred 90 % intervals held.
func BenchmarkCoverage(b *testing.B) {
	var times, exponents float64
	for b.Loop() {
		times, exponents = coverage(1000, 8)
	}
	b.ReportMetric(100*times, "%-times-held")
	b.ReportMetric(100*exponents, "%-exponents-held")
}
