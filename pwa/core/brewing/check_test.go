package brewing

import (
	"math"
	"slices"
	"testing"
)

// TestEveryFieldIsRefusedAndQuestionedAtItsBounds walks over the four bounds of every
// field, a hair to either side of each.
func TestEveryFieldIsRefusedAndQuestionedAtItsBounds(t *testing.T) {
	for field, c := range map[string]struct {
		of    func(float64) Entry
		bound [4]float64 // refused below, questioned below, questioned above, refused above
	}{
		"dose":     {func(x float64) Entry { return Entry{Dose: Grams(x)} }, [4]float64{0.3, 4, 80, 1000}},
		"water":    {func(x float64) Entry { return Entry{Water: Grams(x)} }, [4]float64{1, 40, 1500, 10_000}},
		"ratio":    {func(x float64) Entry { return Entry{Dose: 20, Water: Grams(20 * x)} }, [4]float64{0.5, 9, 25, 200}},
		"bypass":   {func(x float64) Entry { return Entry{Bypass: Grams(x)} }, [4]float64{0.1, 1, 800, 10_000}},
		"beverage": {func(x float64) Entry { return Entry{Beverage: Grams(x)} }, [4]float64{1, 15, 1500, 10_000}},
		"tds":      {func(x float64) Entry { return Entry{TDS: Fraction(x / 100)} }, [4]float64{0.05, 0.7, 2.5, 30}},
		"extraction": {func(x float64) Entry {
			return Entry{Contact: Percolation, Dose: 20, Beverage: 100, TDS: Fraction(x / 100 / 5)}
		}, [4]float64{0.5, 10, 27, 45}},
		"total": {func(x float64) Entry { return Entry{Total: Millis(1000 * x)} }, [4]float64{1, 20, 30 * 60, 72 * 3600}},
	} {
		b := c.bound
		for i, want := range []struct {
			kind       Kind
			code       string
			at, beyond float64
		}{
			{Impossible, CodeTooLittle, b[0], -1}, {Surprising, CodeTooLittle, b[1], -1}, {Surprising, CodeTooMuch, b[2], 1}, {Impossible, CodeTooMuch, b[3], 1},
		} {
			beyond := want.at * (1 + 2e-3*want.beyond)
			if f, ok := about(field, c.of(beyond)); !ok || f.Kind != want.kind || f.Code != want.code {
				t.Errorf("%s of %v: %+v, want %s %s", field, beyond, f, want.kind, want.code)
			}
			within := want.at * (1 - 2e-3*want.beyond)
			if f, ok := about(field, c.of(within)); ok && (i == 1 || i == 2 || f.Kind != Surprising) {
				t.Errorf("%s of %v: %+v", field, within, f)
			}
		}
		if f, ok := about(field, c.of(-1)); field != "extraction" && field != "ratio" && (!ok || f.Kind != Impossible || f.Code != CodeTooLittle) {
			t.Errorf("%s of -1: %+v", field, f)
		}
	}
}

// about is what is found about a field.
func about(field string, e Entry) (Finding, bool) {
	found := Check(e)
	i := slices.IndexFunc(found, func(f Finding) bool { return f.Field == field })
	if i < 0 {
		return Finding{}, false
	}
	return found[i], true
}

// TestHeatIsJudgedByTheHome: water boils at 100 °C at the sea, and by the steam tables of
// IAPWS-IF97 and ISO 2533 at 92.3 °C at 2,300 m and at 91.3 °C at 2,600 m. The lowest dry
// land lies at -430 m, where it boils at 101.4 °C.
func TestHeatIsJudgedByTheHome(t *testing.T) {
	for _, c := range []struct {
		celsius Celsius
		home    Metres
		kind    Kind // empty: nothing is said
		code    string
	}{
		{100, 0, "", ""}, {100.8, 0, "", ""}, {101.5, 0, Surprising, CodeAboveBoiling}, {101.9, -430, "", ""},
		{102.5, -430, Impossible, CodeAboveBoiling}, {130, 0, Impossible, CodeAboveBoiling}, {130, 2600, Impossible, CodeAboveBoiling},
		{100, 2600, Surprising, CodeAboveBoiling}, {93, 2600, Surprising, CodeAboveBoiling}, {92, 2600, "", ""}, {92, 2300, "", ""},
		{-1, 0, Impossible, CodeTooLittle}, {Celsius(math.NaN()), 0, Impossible, CodeNotANumber},
	} {
		for field, e := range map[string]Entry{"kettle": {Kettle: c.celsius, Home: c.home}, "slurry": {Slurry: c.celsius, Home: c.home}} {
			if f, _ := about(field, e); f.Kind != c.kind || f.Code != c.code {
				t.Errorf("%s of %v °C at %v m: %+v, want %s %s", field, c.celsius, c.home, f, c.kind, c.code)
			}
		}
	}
	if f, _ := about("kettle", Entry{Kettle: 100, Home: 2600}); math.Abs(f.Limit-91.3) > 0.2 {
		t.Errorf("at 2,600 m water is said to boil at %v", f.Limit)
	}
	for celsius, kind := range map[Celsius]Kind{59: Surprising, 0.5: Impossible} {
		if f, _ := about("kettle", Entry{Kettle: celsius}); f.Kind != kind || f.Code != CodeTooLittle {
			t.Errorf("a kettle at %v °C: %+v", celsius, f)
		}
	}
	if f, _ := about("slurry", Entry{Slurry: 4}); f.Kind != "" {
		t.Errorf("steeped cold: %+v", f)
	}
}

// TestLimitsAreThoseThatScreensAskBy: what is handed to the screens is what is checked.
func TestLimitsAreThoseThatScreensAskBy(t *testing.T) {
	all := FieldLimits()
	for field, of := range map[string]func(float64) Entry{
		"dose": func(x float64) Entry { return Entry{Dose: Grams(x)} }, "tds": func(x float64) Entry { return Entry{TDS: Fraction(x)} },
		"kettle": func(x float64) Entry { return Entry{Kettle: Celsius(x), Home: -430} },
	} {
		l, ok := all[field]
		if !ok {
			t.Fatalf("%s has no limits", field)
		}
		for _, inside := range []float64{l.Low, min(l.High, 101)} {
			if f, found := about(field, of(inside)); found {
				t.Errorf("%s of %v: %+v", field, inside, f)
			}
		}
		for _, outside := range []float64{l.Least * 0.999, l.Most * 1.001} {
			if f, _ := about(field, of(outside)); f.Kind != Impossible {
				t.Errorf("%s of %v: %+v", field, outside, f)
			}
		}
	}
}
