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

// TestAHomeWithoutAScaleCountsScoops: they stand in the list, and what was counted otherwise is what changed.
func TestAHomeWithoutAScaleCountsScoops(t *testing.T) {
	k := newKitchen(t, 6)
	brew := func(scoops float64, parent *app.BrewParams) app.BrewParams {
		s := k.setup
		s.Dose, s.Scoops = 0, scoops
		return k.brew(s, parent, 180, app.BrewOutcome{})
	}
	two := brew(2, nil)
	three := brew(3, &two)
	list := see[app.BrewsView](t, k.vega, app.ViewBrews, app.BrewsParams{Limit: 10}).Brews
	if len(list) != 2 || list[0].Scoops != 3 || list[1].Scoops != 2 {
		t.Errorf("in the list: %+v", list)
	}
	c := see[app.BrewView](t, k.vega, app.ViewBrew, three).Changes
	if c == nil || c.Verdict != "one" || c.List[0].Field != "scoops" || c.List[0].From != 2 || c.List[0].To != 3 {
		t.Errorf("three scoops after two: %+v", c)
	}
}

// TestAStrengthHasItsInterval: a meter good to 0.02 % leaves open 2 * 0.02/sqrt(3) = 0.023 % each way (JCGM 100:2008, 4.3.7: a
// rectangular distribution has a standard uncertainty of half its width over the root of three); one that nobody named, 0.05 %.
func TestAStrengthHasItsInterval(t *testing.T) {
	k := newKitchen(t, 6)
	strength := func(tds float64) *app.Interval {
		return see[app.BrewView](t, k.vega, app.ViewBrew, k.brew(k.setup, nil, 180, app.BrewOutcome{TDS: tds})).Strength
	}
	if s := strength(1.35); s == nil || s.Value != 1.35 || !near(s.Low, 1.2923, 1e-4) || !near(s.High, 1.4077, 1e-4) {
		t.Errorf("with a meter of which nothing is known: %+v", s)
	}
	if s := strength(0); s != nil {
		t.Errorf("without a TDS: %+v", s)
	}
	meter := do[app.Saved](t, k.vega, app.CmdInstrumentSave, app.Instrument{Name: "pocket meter", What: "refractometer", Precision: 0.02})
	do[app.Nothing](t, k.vega, app.CmdHomeSave, app.Home{Altitude: 2400, Refractometer: meter.ID})
	if s := strength(1.35); s == nil || !near(s.Low, 1.3269, 1e-4) || !near(s.High, 1.3731, 1e-4) {
		t.Errorf("with a good one: %+v", s)
	}
}
