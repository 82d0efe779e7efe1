package repeat

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

type failer interface {
	Helper()
	Fatal(...any)
}

func of(t failer, cups []Cup, method Method) *Own {
	t.Helper()
	own, err := Of(cups, method)
	if err != nil {
		t.Fatal(err)
	}
	return own
}

func compare(t failer, own *Own, first, second []Cup) Comparison {
	t.Helper()
	c, err := own.Compare(first, second)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// reading makes cups of one recipe that differ in one quantity.
func reading(recipe, coffee string, q Quantity, values ...float64) (out []Cup) {
	for _, v := range values {
		c := Cup{Recipe: recipe, Coffee: coffee}
		c.Values[q] = Read(v)
		out = append(out, c)
	}
	return out
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.6g, want %.6g", what, got, want)
	}
}

// TestStudentsSleep is the data of Student, The Probable Error of a Mean
// (Biometrika 6, 1908): with equal variances t = -1.8608 on 18 degrees of freedom,
// p = 0.07919 (R, help page of t.test). The hours are scaled to fit a line scale,
// which changes neither.
func TestStudentsSleep(t *testing.T) {
	first := []float64{0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0}
	second := []float64{1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4}
	for i := range first {
		first[i], second[i] = first[i]/10, second[i]/10
	}
	a, b := reading("cone", "417", Sweet, first...), reading("cone", "528", Sweet, second...)
	own := of(t, append(a, b...), Brewed)
	got := compare(t, own, a, b)
	if freedom := own.sums[Sweet].freedom; freedom != 18 {
		t.Errorf("%d degrees of freedom, want 18", freedom)
	}
	near(t, "difference", got.By[Sweet].By.Value, 0.158, 1e-12)
	near(t, "p", got.By[Sweet].Chance, 0.07919, 0.000005)
	// R's 95 % interval is -3.363874 to 0.203874 hours for the first less the
	// second: half of it is 1.783874 = t(0.975, 18) spreads; ours is t(0.95, 18).
	half := 1.783874 / 10 * 1.734064 / 2.100922
	near(t, "half interval", got.By[Sweet].By.High-got.By[Sweet].By.Value, half, 1e-6)
}

// TestMeanOfTheHandbook: NIST/SEMATECH e-Handbook 1.3.5.2, ZARR13: 195 values with
// mean 9.261460 and deviation 0.022789 have a 95 % interval of 9.258242 to
// 9.264679, half of it t(0.975, 194) = 1.9723 of their error. Ours is at 90 %:
// t(0.95, 194) = 1.6527.
func TestMeanOfTheHandbook(t *testing.T) {
	const n, deviation = 195, 0.022789
	// Values with just that mean, 0, and deviation.
	var values []float64
	for i := range n {
		switch {
		case i < n/2:
			values = append(values, -deviation)
		case i < n-1:
			values = append(values, deviation)
		default:
			values = append(values, 0)
		}
	}
	got, ok := Mean(reading("cone", "417", Acid, values...), Acid)
	if !ok {
		t.Fatal("no mean")
	}
	near(t, "mean", got.Value, 0, 1e-12)
	near(t, "half interval", got.High-got.Value, (9.264679-9.258242)/2*1.6527/1.9723, 1e-6)
}

// TestDeviationByTheHandbook: with five degrees of freedom chi-squared is 1.145 and
// 11.070 at 5 % and 95 % (NIST/SEMATECH e-Handbook 1.3.6.7.4), so the interval of a
// deviation s is s sqrt(5/11.070) to s sqrt(5/1.145).
func TestDeviationByTheHandbook(t *testing.T) {
	own := of(t, reading("cone", "417", Body, -0.2, -0.1, 0, 0.1, 0.2, 0.3), Brewed)
	s := own.Spread(Body)
	if !s.Enough || s.Freedom != 5 || s.Brews != 6 || s.Recipes != 1 {
		t.Fatalf("%+v", s)
	}
	near(t, "deviation", s.Deviation.Value, math.Sqrt(0.035), 1e-12)
	near(t, "low", s.Deviation.Low, math.Sqrt(0.035*5/11.070), 1e-5)
	near(t, "high", s.Deviation.High, math.Sqrt(0.035*5/1.145), 1e-4)
	// t(0.95, 5) = 2.015 (1.3.6.7.2).
	near(t, "limit", s.Limit, 2.015*math.Sqrt(0.07), 1e-4)
}

// TestLimitOfManyIsTheStandards: ISO 5725-6 has 2.77 deviations for 95 %; at 90 % it
// is 1.645 sqrt 2 = 2.326.
func TestLimitOfManyIsTheStandards(t *testing.T) {
	var values []float64
	random := rand.New(rand.NewPCG(1, 1))
	for range 4000 {
		values = append(values, math.Max(-1, math.Min(0.1*random.NormFloat64(), 1)))
	}
	s := of(t, reading("cone", "417", Acid, values...), Brewed).Spread(Acid)
	near(t, "limit in deviations", s.Limit/s.Deviation.Value, 2.326, 0.002)
}

// TestHolm is the worked example of Wikipedia's "Holm-Bonferroni method", whose
// p-values 0.01, 0.04, 0.03 and 0.005 at 0.05 leave the first and the last; ours
// are twice as large at 0.10.
func TestHolm(t *testing.T) {
	var c Comparison
	var own Own
	for i, p := range []float64{0.02, 0.08, 0.06, 0.01} {
		c.By[int(Acid)+i] = Difference{Known: true, Enough: true, Chance: p}
		own.sums[int(Acid)+i].freedom = 9
	}
	c.holm(&own)
	for i, want := range []bool{true, false, false, true} {
		if got := c.By[int(Acid)+i].Beyond; got != want {
			t.Errorf("%v: %v, want %v", Quantity(int(Acid)+i), got, want)
		}
	}
}

// vega repeats her cone recipe: time and TDS vary by three percent, acid by 0.1.
func vega(coffee string, acid, tds float64, wobble ...float64) (out []Cup) {
	for _, w := range wobble {
		c := Cup{Recipe: "cone", Coffee: coffee}
		c.Values[Seconds] = Read(170 * (1 + 0.03*w))
		c.Values[TDS] = Read(tds * (1 - 0.03*w))
		c.Values[Acid] = Read(acid + 0.1*w)
		out = append(out, c)
	}
	return out
}

func TestVerdicts(t *testing.T) {
	repeats := vega("639", 0, 0.0135, -1, 1, 0, 0.5, -0.5, 1, -1)
	bowl := Cup{Method: Bowl, Coffee: "417"}
	for name, row := range map[string]struct {
		own           []Cup
		first, second []Cup
		verdict       Verdict
		codes         []string
	}{
		"alike":          {repeats, vega("417", 0, 0.0135, 0), vega("528", 0.1, 0.0135, 0), NoDifference, []string{ReasonWithin, ReasonFreedom}},
		"apart":          {repeats, vega("417", 0, 0.0135, 0), vega("528", 0.7, 0.0136, 0), CanBeCoffee, []string{ReasonBeyond, ReasonFreedom}},
		"stronger":       {repeats, vega("417", 0, 0.0135, 0), vega("528", 0.7, 0.0160, 0), MayBeBrewing, []string{ReasonBeyond, ReasonBeyond, ReasonFreedom}},
		"one coffee":     {repeats, vega("417", 0, 0.0135, 0), vega("417", 0.7, 0.0135, 0), NotTheCoffee, []string{ReasonBeyond, ReasonFreedom}},
		"never repeated": {nil, vega("417", 0, 0.0135, 0), vega("528", 0.9, 0.0135, 0), NotEnough, []string{ReasonTooFew}},
		"repeated once":  {repeats[:2], vega("417", 0, 0.0135, 0), vega("528", 0.9, 0.0135, 0), NotEnough, []string{ReasonTooFew}},
		"not tasted":     {repeats, reading("cone", "417", TDS, 0.013), reading("cone", "528", TDS, 0.013), NotEnough, []string{ReasonUntold}},
		"not measured":   {repeats, reading("cone", "417", Acid, -0.4), reading("cone", "528", Acid, 0.4), CanBeCoffee, []string{ReasonBeyond, ReasonUnread, ReasonFreedom}},
		"a bowl":         {repeats, vega("417", 0, 0.0135, 0), []Cup{bowl}, OtherMethods, []string{ReasonMethods}},
	} {
		got := compare(t, of(t, row.own, Brewed), row.first, row.second)
		var codes []string
		for _, r := range got.Reasons {
			codes = append(codes, r.Code)
		}
		if got.Verdict != row.verdict || !slices.Equal(codes, row.codes) {
			t.Errorf("%s: %v %v", name, got.Verdict, got.Reasons)
		}
	}
}

// TestBowlsAreNeverPooled: bowls change nothing about brewed cups but their count.
func TestBowlsAreNeverPooled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var brewed, all []Cup
		for range rapid.IntRange(0, 12).Draw(t, "cups") {
			c := Cup{Method: rapid.SampledFrom([]Method{Brewed, Bowl}).Draw(t, "method"), Recipe: "cone", Coffee: "417"}
			for q := range quantities {
				c.Values[q] = Read(rapid.Float64Range(0.01, 0.9).Draw(t, "value"))
			}
			if all = append(all, c); c.Method == Brewed {
				brewed = append(brewed, c)
			}
		}
		alone, among := of(t, brewed, Brewed), of(t, all, Brewed)
		if among.Left != len(all)-len(brewed) {
			t.Fatalf("%d left out of %d", among.Left, len(all)-len(brewed))
		}
		for q := range quantities {
			if alone.Spread(q) != among.Spread(q) {
				t.Fatalf("%v: %v among bowls, %v alone", q, among.Spread(q), alone.Spread(q))
			}
		}
	})
}

// TestEqualCupsAreSeldomCalledApart brews equal cups by the thousand: a comparison
// of tasted attributes finds a difference once in ten times at most, with however
// few repeats; and the deviation's interval holds nine times in ten.
func TestEqualCupsAreSeldomCalledApart(t *testing.T) {
	for _, repeats := range []int{3, 5, 15} {
		random := rand.New(rand.NewPCG(4, uint64(repeats)))
		wrong, held := 0, 0
		const rounds = 2000
		for range rounds {
			cup := func(coffee string) Cup {
				c := Cup{Recipe: "cone", Coffee: coffee}
				for q := Acid; q < quantities; q++ {
					c.Values[q] = Read(math.Max(-1, math.Min(0.2*random.NormFloat64(), 1)))
				}
				return c
			}
			var cups []Cup
			for range repeats {
				cups = append(cups, cup("639"))
			}
			own := of(t, cups, Brewed)
			if compare(t, own, []Cup{cup("417")}, []Cup{cup("528")}).Verdict == CanBeCoffee {
				wrong++
			}
			if s := own.Spread(Body).Deviation; s.Low <= 0.2 && 0.2 <= s.High {
				held++
			}
		}
		// Four standard errors of 2,000 draws at 10 %.
		if share := float64(wrong) / rounds; share > 0.127 || share < 0.04 {
			t.Errorf("%d repeats: equal cups are called apart in %.1f %%", repeats, 100*share)
		}
		if share := float64(held) / rounds; share < 0.873 || share > 0.927 {
			t.Errorf("%d repeats: the deviation's interval holds %.1f %%", repeats, 100*share)
		}
	}
}

// TestEqualDigitsAreNotCertainty: three brews with the same digits still differ by
// what the digits hide.
func TestEqualDigitsAreNotCertainty(t *testing.T) {
	s := of(t, reading("cone", "417", TDS, 0.0135, 0.0135, 0.0135), Brewed).Spread(TDS)
	if !s.Enough || s.Deviation.Value < 0.001 {
		t.Errorf("%+v", s)
	}
}

func TestSymmetry(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) []Cup {
			return reading("cone", name, Bitter, rapid.SliceOfN(rapid.Float64Range(-1, 1), 1, 4).Draw(t, name)...)
		}
		own := of(t, draw("639"), Brewed)
		a, b := draw("417"), draw("528")
		there, back := compare(t, own, a, b), compare(t, own, b, a)
		if there.Verdict != back.Verdict || math.Abs(there.By[Bitter].By.Value+back.By[Bitter].By.Value) > 1e-12 {
			t.Fatalf("%+v there, %+v back", there, back)
		}
	})
}

func TestRefusals(t *testing.T) {
	for q, bad := range map[Quantity]float64{Seconds: 0, Beverage: -1, TDS: 1.35, EY: math.NaN(), Sweet: 2} {
		_, err := Of(reading("cone", "417", q, bad), Brewed)
		var refused *Error
		if !errors.As(err, &refused) || refused.Field != q.String() {
			t.Errorf("%v: %v", q, err)
		}
	}
	var refused *Error
	if _, err := Of([]Cup{{Method: 7}}, Brewed); !errors.As(err, &refused) || refused.Field != "method" {
		t.Error(err)
	}
	own := of(t, nil, Brewed)
	if _, err := own.Compare(reading("cone", "417", Acid, 5), nil); err == nil {
		t.Error("an acidity of 5 is accepted")
	}
	if got := compare(t, own, nil, nil); got.Verdict != NotEnough {
		t.Errorf("nothing compared with nothing: %v", got.Verdict)
	}
	if _, ok := Mean(reading("cone", "417", Acid, 0.5), Acid); ok {
		t.Error("one cup has an interval")
	}
}

// TestADifferenceCountsExactlyWhenItsIntervalLeavesOutZero: what is said of a difference
// and the interval beside it never contradict each other, however many are judged.
func TestADifferenceCountsExactlyWhenItsIntervalLeavesOutZero(t *testing.T) {
	apart := 0
	rapid.Check(t, func(t *rapid.T) {
		cup := func(name string) Cup {
			c := Cup{Recipe: "cone", Coffee: "639"}
			c.Values[TDS] = Read(rapid.Float64Range(0.012, 0.015).Draw(t, name+" TDS"))
			for q := Acid; q < quantities; q++ {
				if rapid.IntRange(0, 5).Draw(t, name) > 0 {
					c.Values[q] = Read(rapid.Float64Range(-1, 1).Draw(t, name+" "+q.String()))
				}
			}
			return c
		}
		var repeats []Cup
		for range rapid.IntRange(0, 6).Draw(t, "repeats") {
			c := cup("repeat")
			for q := Acid; q < quantities; q++ {
				c.Values[q].Value *= 0.2 // one recipe
			}
			repeats = append(repeats, c)
		}
		own := of(t, repeats, Brewed)
		c := compare(t, own, []Cup{cup("first")}, []Cup{cup("second")})
		for q, d := range c.By {
			if leaves := d.By.Low > 0 || d.By.High < 0; d.Enough && leaves != d.Beyond {
				t.Fatalf("%v is called %v, its interval is %v", Quantity(q), d.Beyond, d.By)
			}
			if d.Beyond && Quantity(q).Tasted() {
				apart++
			}
		}
	})
	if apart == 0 {
		t.Error("no difference was ever large enough to tell anything")
	}
}

// TestFiveIntervalsMissLessThanOneInTen: with nothing apart, all five intervals hold 0 in
// nine comparisons of ten or more, as Holm's correction promises of its tests.
func TestFiveIntervalsMissLessThanOneInTen(t *testing.T) {
	random := rand.New(rand.NewPCG(1979, 6))
	taste := func() Cup {
		c := Cup{Recipe: "cone", Coffee: "639"}
		for q := Acid; q < quantities; q++ {
			c.Values[q] = Read(max(-1, min(0.2*random.NormFloat64(), 1)))
		}
		return c
	}
	const trials = 4000
	missed := 0
	for range trials {
		own := of(t, []Cup{taste(), taste(), taste(), taste(), taste(), taste()}, Brewed)
		for _, d := range compare(t, own, []Cup{taste()}, []Cup{taste()}).By {
			if d.By.Low > 0 || d.By.High < 0 {
				missed++
				break
			}
		}
	}
	if share := float64(missed) / trials; share > 0.1 || share < 0.05 {
		t.Errorf("%.3f of the comparisons have an interval without 0", share)
	}
}
