package app_test

import (
	"testing"

	"hushcup/pwa/app"
)

// TestALaterBrewIsMatchedToTheStrengthOfAnEarlier: 15 g to 240 g dripping, 1.50 % against 1.25 %. With 2 g kept by a gram, equal
// extraction asks for 2 + (16 - 2) 1.50/1.25 = 18.8 g of water to a gram; the brewer's own brews move the 2 a little.
func TestALaterBrewIsMatchedToTheStrengthOfAnEarlier(t *testing.T) {
	k := newKitchen(t, 6)
	brew := func(tds float64) app.BrewParams {
		return k.brew(k.setup, nil, 180, app.BrewOutcome{TDS: tds, Beverage: 210})
	}
	compare := func(a, b app.BrewParams) *app.Interval {
		return see[app.CompareView](t, k.vega, app.ViewCompare, app.CompareParams{First: a, Second: b}).Match
	}
	weak, strong, alike := brew(1.25), brew(1.50), brew(1.51)
	m := compare(weak, strong)
	if m == nil || !near(m.Value, 18.8, 0.01) || !(m.Low < m.Value-0.3 && m.High > m.Value+0.3) {
		t.Errorf("to be as strong as 1.25 %%: %+v", m)
	}
	if m := compare(strong, alike); m != nil {
		t.Errorf("1.50 and 1.51 %% are one to a kitchen's refractometer: %+v", m)
	}
	if m := compare(weak, k.brew(k.setup, nil, 180, app.BrewOutcome{Beverage: 210})); m != nil {
		t.Errorf("without a TDS: %+v", m)
	}
}
