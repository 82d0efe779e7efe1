package grinder

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestOrder(t *testing.T) {
	got := Order([]Lot{{"417", false, true}, {"528", true, false}, {"639", false, false}, {"286", true, true}, {"751", false, false}})
	var ids []string
	for _, l := range got {
		ids = append(ids, l.ID)
	}
	if want := []string{"639", "751", "528", "417", "286"}; !slices.Equal(ids, want) {
		t.Errorf("got %v, want %v", ids, want)
	}
}

func TestPurge(t *testing.T) {
	plain, other, infused, nuts := Lot{ID: "417"}, Lot{ID: "528"}, Lot{ID: "639", Infused: true}, Lot{ID: "751", Allergens: true}
	for name, row := range map[string]struct {
		stays float64
		last  *Lot
		next  Lot
		grams float64
		codes []string
	}{
		// 1 g stays, 1 % of 12 g is 0.12 g: ln(1/0.12) = 2.1203 g.
		"changed":        {1, &plain, other, 2.1203, []string{ReasonChanged}},
		"not measured":   {0, &plain, other, 2.1203, []string{ReasonGuessed, ReasonChanged}},
		"same":           {1, &plain, plain, 0, []string{ReasonSameCoffee}},
		"little stays":   {0.1, &plain, other, 0, []string{ReasonLittle}},
		"unknown before": {1, nil, other, 2.1203, []string{ReasonFirst, ReasonChanged}},
		// Ten times as little may be left: ln(1/0.012) = 4.4228 g.
		"after infused":   {1, &infused, other, 4.4228, []string{ReasonAfterInfused, ReasonChanged}},
		"after allergens": {1, &nuts, other, 4.4228, []string{ReasonAfterAllergen, ReasonChanged}},
		"before infused":  {1, &plain, infused, 2.1203, []string{ReasonChanged, ReasonLast}},
		"before nuts":     {1, &plain, nuts, 2.1203, []string{ReasonChanged, ReasonLast, ReasonAllergen}},
	} {
		got, err := Purge(row.stays, 12, row.last, row.next)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(got.Grams-row.grams) > 0.0001 || !slices.Equal(codes(got.Reasons), row.codes) {
			t.Errorf("%s: %.4f g, %v", name, got.Grams, got.Reasons)
		}
	}
}

// TestPurgeIsEnough lets coffee through a well mixed grinder in small steps.
func TestPurgeIsEnough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stays, dose := rapid.Float64Range(0.05, 4).Draw(t, "stays"), rapid.Float64Range(5, 30).Draw(t, "dose")
		advice, err := Purge(stays, dose, &Lot{ID: "417"}, Lot{ID: "528"})
		if err != nil {
			t.Fatal(err)
		}
		old := stays
		const steps = 5000
		for range steps {
			old -= old / stays * advice.Grams / steps
		}
		if old > plainShare*dose*1.001 {
			t.Fatalf("%v g of the last coffee may be in %v g", old, dose)
		}
	})
}

func TestPurgeRefuses(t *testing.T) {
	for _, row := range [][2]float64{{-1, 12}, {math.NaN(), 12}, {1, 0}, {1, math.Inf(1)}} {
		if _, err := Purge(row[0], row[1], nil, Lot{}); err == nil {
			t.Errorf("%v is accepted", row)
		}
	}
}
