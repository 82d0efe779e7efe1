package rationing

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestABagByHand(t *testing.T) {
	// 60 g, 12 g kept; 15 g and 1 g of purge at each of three attempts: nothing left.
	p, err := For(Bag{Grams: 60, Kept: 12, Dose: 15, Purge: 1, Accuracy: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	if p.Attempts != 3 || p.Each != 16 || p.Left != 0 || !p.Reliable {
		t.Errorf("%+v", p)
	}
	// Two times 0.1/sqrt(3) in five hundredths of the dose: 2.31 g, so 2.5.
	if p.SmallestDose != 2.5 || p.MostAttempts != 13 {
		t.Errorf("%+v", p)
	}
	// Three bowls of 8 g.
	if p, _ = For(Bag{Grams: 60, Dose: 8, Bowls: 3, Purge: 2, Accuracy: 0.1}); p.Attempts != 2 || p.Left != 8 {
		t.Errorf("bowls: %+v", p)
	}
	// A kitchen scale of whole grams.
	if p, _ = For(Bag{Grams: 60, Dose: 12, Accuracy: 1}); p.Reliable || p.SmallestDose != 23.5 || p.MostAttempts != 0 {
		t.Errorf("whole grams: %+v", p)
	}
	// Decimal grams that binary does not have: 0.3 g in 0.1 g.
	if p, _ = For(Bag{Grams: 0.9, Dose: 0.3, Accuracy: 0.01}); p.Attempts != 3 {
		t.Errorf("tenths: %+v", p)
	}
}

func TestNothingIsLostOrInvented(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := Bag{
			Grams: rapid.Float64Range(0, 1000).Draw(t, "grams"), Dose: rapid.Float64Range(1, 60).Draw(t, "dose"), Bowls: rapid.IntRange(0, 5).Draw(t, "bowls"),
			Purge: rapid.Float64Range(0, 5).Draw(t, "purge"), Accuracy: rapid.Float64Range(0.01, 2).Draw(t, "accuracy"),
		}
		b.Kept = b.Grams * rapid.Float64Range(0, 1).Draw(t, "kept")
		p, err := For(b)
		if err != nil {
			t.Fatal(err)
		}
		if sum := b.Kept + float64(p.Attempts)*p.Each + p.Left; math.Abs(sum-b.Grams) > 1e-6 {
			t.Fatalf("%v of %v", sum, b.Grams)
		}
		if p.Left > p.Each+1e-6 || p.Reliable && p.MostAttempts < p.Attempts {
			t.Fatalf("%+v", p)
		}
	})
}

func TestImpossibleBagsAreRefused(t *testing.T) {
	good := Bag{Grams: 60, Kept: 12, Dose: 15, Purge: 1, Accuracy: 0.1}
	for field, spoil := range map[string]func(*Bag){
		"bag":              func(b *Bag) { b.Grams = -1 },
		"kept portion":     func(b *Bag) { b.Kept = 61 },
		"dose":             func(b *Bag) { b.Dose = 0 },
		"purge":            func(b *Bag) { b.Purge = math.NaN() },
		"scale's accuracy": func(b *Bag) { b.Accuracy = 0 },
		"number of bowls":  func(b *Bag) { b.Bowls = -1 },
	} {
		b := good
		spoil(&b)
		var e *Error
		if _, err := For(b); !errors.As(err, &e) || e.Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
}

func TestDaysInTheFreezerHardlyCount(t *testing.T) {
	for name, c := range map[string]struct {
		fresh Fresh
		today int
		want  float64
		ok    bool
	}{
		"never frozen":         {Fresh{Roasted: 100}, 114, 14, true},
		"frozen still":         {Fresh{Roasted: 100, Frozen: 110}, 130, 11, true},
		"frozen and thawed":    {Fresh{Roasted: 100, Frozen: 110, Thawed: 150}, 154, 16, true},
		"not roasted yet":      {Fresh{Roasted: 100}, 99, 0, false},
		"thawed before frozen": {Fresh{Roasted: 100, Frozen: 120, Thawed: 110}, 130, 0, false},
		"thawed, never frozen": {Fresh{Roasted: 100, Thawed: 110}, 130, 0, false},
		"frozen before roast":  {Fresh{Roasted: 100, Frozen: 90}, 130, 0, false},
		"frozen tomorrow":      {Fresh{Roasted: 100, Frozen: 131}, 130, 0, false},
	} {
		if got, ok := c.fresh.Days(c.today); ok != c.ok || math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %v, %v; want %v, %v", name, got, ok, c.want, c.ok)
		}
	}
}
