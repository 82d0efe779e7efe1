package chance

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.12g, want %.12g", what, got, want)
	}
}

// TestTAgainstTheHandbook compares with the table of critical values of
// Student's t distribution in the NIST/SEMATECH e-Handbook of Statistical
// Methods, section 1.3.6.7.2, three decimals.
func TestTAgainstTheHandbook(t *testing.T) {
	for _, row := range []struct {
		freedom                   float64
		p90, p95, p975, p99, p995 float64
	}{
		{1, 3.078, 6.314, 12.706, 31.821, 63.657},
		{2, 1.886, 2.920, 4.303, 6.965, 9.925},
		{3, 1.638, 2.353, 3.182, 4.541, 5.841},
		{5, 1.476, 2.015, 2.571, 3.365, 4.032},
		{10, 1.372, 1.812, 2.228, 2.764, 3.169},
		{30, 1.310, 1.697, 2.042, 2.457, 2.750},
		{100, 1.290, 1.660, 1.984, 2.364, 2.626},
		{math.Inf(1), 1.282, 1.645, 1.960, 2.326, 2.576},
	} {
		for p, want := range map[float64]float64{0.90: row.p90, 0.95: row.p95, 0.975: row.p975, 0.99: row.p99, 0.995: row.p995} {
			near(t, "t", TQuantile(p, row.freedom), want, 0.00051)
			near(t, "t from below", TQuantile(1-p, row.freedom), -want, 0.00051)
		}
	}
}

// TestChiSquaredAgainstTheHandbook compares with the same handbook's section
// 1.3.6.7.4.
func TestChiSquaredAgainstTheHandbook(t *testing.T) {
	for _, row := range []struct{ freedom, p05, p95, p975 float64 }{
		{1, 0.004, 3.841, 5.024},
		{2, 0.103, 5.991, 7.378},
		{5, 1.145, 11.070, 12.833},
		{10, 3.940, 18.307, 20.483},
		{30, 18.493, 43.773, 46.979},
	} {
		near(t, "chi-squared", ChiSquaredQuantile(0.05, row.freedom), row.p05, 0.00051)
		near(t, "chi-squared", ChiSquaredQuantile(0.95, row.freedom), row.p95, 0.00051)
		near(t, "chi-squared", ChiSquaredQuantile(0.975, row.freedom), row.p975, 0.00051)
	}
}

func TestNormalAgainstTheHandbook(t *testing.T) {
	// NIST/SEMATECH e-Handbook 1.3.6.7.1: area from 0 to z, five decimals.
	for z, area := range map[float64]float64{0.5: 0.19146, 1: 0.34134, 1.96: 0.47500, 2.58: 0.49506} {
		near(t, "normal", Normal(z), 0.5+area, 0.0000051)
		near(t, "normal quantile", NormalQuantile(Normal(z)), z, 1e-9)
	}
}

func TestAgainstGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		freedom := rapid.Float64Range(0.3, 400).Draw(t, "freedom")
		p := rapid.Float64Range(1e-6, 1-1e-6).Draw(t, "p")
		student := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: freedom}
		if x := TQuantile(p, freedom); math.Abs(student.CDF(x)-p) > 1e-9 {
			t.Fatalf("t quantile %v of %v with %v: %v there", x, p, freedom, student.CDF(x))
		}
		if x := ChiSquaredQuantile(p, freedom); math.Abs(distuv.ChiSquared{K: freedom}.CDF(x)-p) > 1e-9 {
			t.Fatalf("chi-squared quantile %v of %v with %v", x, p, freedom)
		}
		x := rapid.Float64Range(0, 1).Draw(t, "x")
		b := rapid.Float64Range(0.3, 50).Draw(t, "b")
		if got, want := incompleteBeta(x, freedom, b), mathext.RegIncBeta(freedom, b, x); math.Abs(got-want) > 1e-10 {
			t.Fatalf("I_%v(%v, %v) = %v, want %v", x, freedom, b, got, want)
		}
	})
}

func TestThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		freedom := rapid.Float64Range(0.5, 200).Draw(t, "freedom")
		p := rapid.Float64Range(1e-4, 1-1e-4).Draw(t, "p")
		if got := T(TQuantile(p, freedom), freedom); math.Abs(got-p) > 1e-11 {
			t.Fatalf("t: %v comes back as %v", p, got)
		}
		if got := ChiSquared(ChiSquaredQuantile(p, freedom), freedom); math.Abs(got-p) > 1e-11 {
			t.Fatalf("chi-squared: %v comes back as %v", p, got)
		}
	})
}

func TestEdges(t *testing.T) {
	for _, bad := range []float64{TQuantile(0.9, 0), TQuantile(1.1, 3), TQuantile(math.NaN(), 3), ChiSquaredQuantile(-0.1, 3), ChiSquaredQuantile(0.5, math.NaN()), T(math.NaN(), 3)} {
		if !math.IsNaN(bad) {
			t.Errorf("%v, want NaN", bad)
		}
	}
	if !math.IsInf(TQuantile(1, 3), 1) || !math.IsInf(TQuantile(0, 3), -1) || TQuantile(0.5, 3) != 0 {
		t.Error("t at its edges")
	}
	if ChiSquaredQuantile(0, 3) != 0 || !math.IsInf(ChiSquaredQuantile(1, 3), 1) || ChiSquared(-1, 3) != 0 || ChiSquared(math.Inf(1), 3) != 1 {
		t.Error("chi-squared at its edges")
	}
}
