package app_test

import (
	"math"
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
)

// told is a refusal with what it says to the person.
type told struct {
	code, field, why string
	limit            float64 // in the field's unit
}

func (want told) is(t *testing.T, what string, err *app.Error) {
	t.Helper()
	if err == nil || err.Code != want.code || err.Field != want.field || err.Why != want.why || math.Abs(err.Limit-want.limit) > 0.2 {
		t.Errorf("%s: %+v, not %+v", what, err, want)
	}
}

// TestANumberIsRefusedAtItsFieldWithItsLimit in a kitchen at 2,600 m, where water boils at 91.3 °C (ISO 2533, IAPWS-IF97).
func TestANumberIsRefusedAtItsFieldWithItsLimit(t *testing.T) {
	vega := newVillage().Phone("vega")
	do[app.Nothing](t, vega, app.CmdHomeSave, app.Home{Altitude: 2600})
	for what, c := range map[string]struct {
		change func(*app.BrewSetup)
		want   told
	}{
		"-1 g of dose":         {func(s *app.BrewSetup) { s.Dose = -1 }, told{app.CodeImpossible, "dose", "too-little", 0.3}},
		"150 g of dose":        {func(s *app.BrewSetup) { s.Dose, s.Ratio = 150, 10 }, told{app.CodeSurprising, "dose", "too-much", 80}},
		"2 g of dose":          {func(s *app.BrewSetup) { s.Dose, s.Ratio, s.Water = 2, 0, 40 }, told{app.CodeSurprising, "dose", "too-little", 4}},
		"2 kg of dose":         {func(s *app.BrewSetup) { s.Dose = 2000 }, told{app.CodeImpossible, "dose", "too-much", 1000}},
		"-1 g of water":        {func(s *app.BrewSetup) { s.Ratio, s.Water = 0, -1 }, told{app.CodeImpossible, "water", "too-little", 1}},
		"a barrel of water":    {func(s *app.BrewSetup) { s.Ratio, s.Water = 0, 20_000 }, told{app.CodeImpossible, "water", "too-much", 10_000}},
		"water for forty":      {func(s *app.BrewSetup) { s.Ratio, s.Water = 0, 600 }, told{app.CodeSurprising, "ratio", "too-much", 25}},
		"130 °C":               {func(s *app.BrewSetup) { s.Kettle = 130 }, told{app.CodeImpossible, "kettle", "above-boiling", 102}},
		"100 °C at 2,600 m":    {func(s *app.BrewSetup) { s.Kettle = 100 }, told{app.CodeSurprising, "kettle", "above-boiling", 91.3}},
		"a kettle of 40 °C":    {func(s *app.BrewSetup) { s.Kettle = 40 }, told{app.CodeSurprising, "kettle", "too-little", 60}},
		"a kettle of -1 °C":    {func(s *app.BrewSetup) { s.Kettle = -1 }, told{app.CodeImpossible, "kettle", "too-little", 1}},
		"scoops without a cup": {func(s *app.BrewSetup) { s.Scoops = -1 }, told{app.CodeImpossible, "scoops", "", 0}},
	} {
		s := setup()
		s.Kettle = 90
		c.change(&s)
		_, err := village.Do[app.BrewStarted](vega, app.CmdBrewStart, app.BrewStart{Setup: s})
		c.want.is(t, what, err)
		if c.want.code != app.CodeSurprising {
			continue
		}
		if _, err := village.Do[app.BrewStarted](vega, app.CmdBrewStart, app.BrewStart{Setup: s, Sure: []string{c.want.field}}); err != nil {
			t.Errorf("%s is refused though it was confirmed: %v", what, err)
		}
	}
}

func TestAnOutcomeIsRefusedAtItsFieldWithItsLimit(t *testing.T) {
	vega := newVillage().Phone("vega")
	do[app.Nothing](t, vega, app.CmdHomeSave, app.Home{Altitude: 2600})
	s := setup()
	s.Kettle = 90
	b := start(t, vega, s)
	for what, c := range map[string]struct {
		outcome app.BrewOutcome
		want    told
	}{
		"TDS of 14 %, meant 1.4":    {app.BrewOutcome{TDS: 14, Beverage: 208}, told{app.CodeImpossible, "extraction", "too-much", 45}},
		"TDS of 2.2 %":              {app.BrewOutcome{TDS: 2.2, Beverage: 208}, told{app.CodeSurprising, "extraction", "too-much", 27}},
		"TDS of 35 %":               {app.BrewOutcome{TDS: 35}, told{app.CodeImpossible, "tds", "too-much", 30}},
		"TDS of -1 %":               {app.BrewOutcome{TDS: -1}, told{app.CodeImpossible, "tds", "too-little", 0.05}},
		"TDS of 0.5 %":              {app.BrewOutcome{TDS: 0.5, Beverage: 208}, told{app.CodeSurprising, "tds", "too-little", 0.7}},
		"-1 g in the cup":           {app.BrewOutcome{Beverage: -1}, told{app.CodeImpossible, "beverage", "too-little", 1}},
		"more out than in":          {app.BrewOutcome{Beverage: 400}, told{app.CodeImpossible, "beverage", "more-than-went-in", 245}},
		"a little more out":         {app.BrewOutcome{Beverage: 242}, told{app.CodeSurprising, "beverage", "more-than-went-in", 240}},
		"-1 g added":                {app.BrewOutcome{Bypass: -1}, told{app.CodeImpossible, "bypass", "too-little", 0.1}},
		"a kilogram added":          {app.BrewOutcome{Bypass: 1000}, told{app.CodeSurprising, "bypass", "too-much", 800}},
		"a bed hotter than boiling": {app.BrewOutcome{Slurry: 97}, told{app.CodeSurprising, "slurry", "above-boiling", 91.3}},
		"a bed at 130 °C":           {app.BrewOutcome{Slurry: 130}, told{app.CodeImpossible, "slurry", "above-boiling", 102}},
		"half a second":             {app.BrewOutcome{Drawdown: 0.5}, told{app.CodeImpossible, "drawdown", "too-little", 1}},
		"ten seconds":               {app.BrewOutcome{Drawdown: 10}, told{app.CodeSurprising, "drawdown", "too-little", 20}},
		"an hour":                   {app.BrewOutcome{Drawdown: 3600}, told{app.CodeSurprising, "drawdown", "too-much", 1800}},
		"four days":                 {app.BrewOutcome{Drawdown: 4 * 24 * 3600}, told{app.CodeImpossible, "drawdown", "too-much", 72 * 3600}},
		"a pour back in time":       {app.BrewOutcome{Pours: []app.Pour{{At: 30, Grams: 100}, {At: 10, Grams: 200}}}, told{app.CodeImpossible, "pours.1", "backwards", 30_000}},
		"a pour of -1 g":            {app.BrewOutcome{Pours: []app.Pour{{At: 0, Grams: -1}}}, told{app.CodeImpossible, "pours.0", "too-little", 0}},
		"a pour past the water":     {app.BrewOutcome{Pours: []app.Pour{{At: 0, Grams: 300}}}, told{app.CodeSurprising, "pours.0", "too-much", 240}},
	} {
		_, err := village.Do[app.Nothing](vega, app.CmdBrewEdit, app.BrewEdit{Book: b.Book, Brew: b.Brew, Outcome: &c.outcome})
		c.want.is(t, what, err)
		if c.want.code != app.CodeSurprising {
			continue
		}
		if _, err := village.Do[app.Nothing](vega, app.CmdBrewEdit, app.BrewEdit{Book: b.Book, Brew: b.Brew, Outcome: &c.outcome, Sure: []string{c.want.field, "extraction"}}); err != nil {
			t.Errorf("%s is refused though it was confirmed: %v", what, err)
		}
	}
}
