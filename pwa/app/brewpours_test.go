package app_test

import (
	"slices"
	"testing"

	"hushcup/pwa/app"
)

// A touch at the end of a pour says its weight; a pour of which only the end was
// touched counts, too, and no weight goes to the pour before it.
func TestPoursByTheTouchesOfTheGuide(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	s := setup()
	s.Geometry, s.Recipe = "cone", "three pours"
	s.Steps = []app.RecipeStep{
		{Kind: "bloom", At: 0, Until: 10, Dose: 2.5},
		{Kind: "pour", At: 40, Until: 60, Water: 0.6},
		{Kind: "pour", At: 75, Until: 95, Water: 1},
		{Kind: "drain", At: 100, Until: 180},
	}
	made := do[app.BrewStarted](t, vega, app.CmdBrewStart, app.BrewStart{Setup: s})
	b := app.BrewParams(made)
	touch := func(word string, step int, grams float64) {
		do[app.Nothing](t, vega, app.CmdBrewMark, app.BrewMark{Book: b.Book, Brew: b.Brew, Mark: word, Step: step, Grams: grams})
	}
	touch("bloom", 1, 0)
	v.Advance(9_000)
	touch("poured", 1, 37.5)
	v.Advance(52_000)
	touch("poured", 2, 144)
	v.Advance(15_000)
	touch("pour", 3, 0)
	v.Advance(20_000)
	touch("poured", 3, 240)
	v.Advance(90_000)
	touch("end", 4, 0)
	seen := see[app.BrewView](t, vega, app.ViewBrew, b)
	want := []app.Pour{{At: 0, Grams: 37.5}, {At: 61, Grams: 144}, {At: 76, Grams: 240}}
	if !slices.Equal(seen.Pours, want) || seen.Drawdown != 186 {
		t.Errorf("the pours %v, and %g s in all; want %v, and 186", seen.Pours, seen.Drawdown, want)
	}
}
