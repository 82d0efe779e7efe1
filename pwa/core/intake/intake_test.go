package intake

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func caffeine(t *testing.T, dose float64, kind Kind) Range {
	t.Helper()
	r, err := Cup{Dose: dose, Kind: kind, Part: 1, Swallowed: Everything}.Caffeine()
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestAgainstPublishedServings compares with the servings in EFSA's "EFSA
// explains risk assessment: caffeine" (2015): an espresso of 60 mL has about
// 80 mg, a cup of filter coffee of 200 mL about 90 mg. Doses: 7 g to an
// espresso and 55 g to a litre (11 g) are what the trade teaches.
func TestAgainstPublishedServings(t *testing.T) {
	for name, c := range map[string]struct {
		dose float64
		want Milligrams
	}{"espresso": {7, 80}, "filter": {11, 90}} {
		if r := caffeine(t, c.dose, Arabica); c.want < r.Low || c.want > r.High {
			t.Errorf("%s: %v to %v mg, published %v", name, r.Low, r.High, c.want)
		}
	}
}

// TestDecafWithinTheRule: at most 0.1 % of dry mass by the European rule.
func TestDecafWithinTheRule(t *testing.T) {
	if r := caffeine(t, 15, Decaf); r.Low != 0 || math.Abs(float64(r.High)-15) > 1e-9 {
		t.Errorf("15 g of decaf: %v", r)
	}
}

func TestSealedCoversEverything(t *testing.T) {
	sealed, regular := caffeine(t, 15, Sealed), caffeine(t, 15, Regular)
	for _, k := range []Kind{Arabica, Canephora, Decaf, Regular} {
		r := caffeine(t, 15, k)
		if r.Low < sealed.Low || r.High > sealed.High {
			t.Errorf("%s: %v is outside %v", k, r, sealed)
		}
		if k != Decaf && (r.Low < regular.Low || r.High > regular.High) {
			t.Errorf("%s: %v is outside %v", k, r, regular)
		}
	}
}

// TestEveningAgainstTheLimits: EFSA 2015: 200 mg at once, 400 mg a day, 200 mg a
// day in pregnancy, 100 mg before sleep.
func TestEveningAgainstTheLimits(t *testing.T) {
	six := make([]Cup, 6)
	for i := range six {
		six[i] = Cup{Dose: 12, Kind: Arabica, Part: 1, Swallowed: Everything}
	}
	got, err := Assess(six, Range{})
	if err != nil {
		t.Fatal(err)
	}
	// 72 g of arabica: 576 to 1,008 mg.
	if got.AtOnce != Over || got.InADay != Over || got.Pregnant != Over || got.Sleep != Over {
		t.Errorf("six cups drunk up: %+v", got)
	}
	for i := range six {
		six[i].Swallowed = Spat
	}
	if got, _ = Assess(six, Range{}); got.AtOnce != Maybe || got.InADay != Under || math.Abs(float64(got.Evening.High)-201.6) > 1e-9 {
		t.Errorf("six cups spat: %+v", got)
	}
	if got, _ = Assess(six[:3], Range{100, 150}); got.AtOnce != Under || got.Pregnant != Maybe || got.Sleep != Maybe {
		t.Errorf("three cups spat after two in the morning: %+v", got)
	}
	if (Range{200, 200}).Against(AtOnceLimit) != Under {
		t.Error("the limit itself is past the limit")
	}
}

func TestSharingKeepsWithinTheLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 10).Draw(t, "cups")
		before := Range{High: Milligrams(rapid.Float64Range(0, 500).Draw(t, "before"))}
		cups := make([]Cup, n)
		for i := range cups {
			cups[i] = Cup{Dose: rapid.Float64Range(1, 30).Draw(t, "dose"), Kind: Regular, Part: 1, Swallowed: Everything}
		}
		evening, _ := Evening(cups)
		part := PartForLimit(evening, before, DayLimit)
		for i := range cups {
			cups[i].Part = part
		}
		after, err := Assess(cups, before)
		if err != nil {
			t.Fatal(err)
		}
		if part > 0 && after.Day.High > DayLimit+1e-9 || part == 0 && before.High < DayLimit {
			t.Fatalf("part %v leaves %v", part, after.Day)
		}
	})
}

func TestBadCupsAreRefused(t *testing.T) {
	good := Cup{Dose: 12, Kind: Arabica, Part: 1, Swallowed: Everything}
	for field, spoil := range map[string]func(*Cup){
		"dose":      func(c *Cup) { c.Dose = -1 },
		"kind":      func(c *Cup) { c.Kind = "tea" },
		"part":      func(c *Cup) { c.Part = math.NaN() },
		"swallowed": func(c *Cup) { c.Swallowed = Swallowed{0.5, 0.2} },
	} {
		c := good
		spoil(&c)
		var e *Error
		if _, err := Assess([]Cup{good, c}, Range{}); !errors.As(err, &e) || e.Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
}
