package app_test

import (
	"strings"
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
	"hushcup/pwa/core/brewing"
)

func cupboard(t *testing.T, p *village.Phone) app.CupboardView {
	t.Helper()
	return see[app.CupboardView](t, p, app.ViewCupboard, app.Nothing{})
}

func valleyRecipe() app.Recipe {
	return app.Recipe{
		Title: "Valley, two pours", Geometry: "cone", Dose: 12, Ratio: 15, Kettle: 91, Grind: "medium", Filter: "paper", Note: "for the night shift",
		Steps: []app.RecipeStep{
			{Kind: "rinse", At: -60}, {Kind: "bloom", At: 0, Until: 8, Dose: 3, Pattern: "spiral"}, {Kind: "wait", At: 8, Until: 35},
			{Kind: "pour", At: 35, Until: 70, Water: 1, Pattern: "evenly"}, {Kind: "swirl", At: 72, Times: 2}, {Kind: "drain", At: 75, Until: 150},
		},
	}
}

func TestItemsAreMadeHalfFilledInEditedAndThere(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	vega.Offline(true)
	grinder := do[app.Saved](t, vega, app.CmdGrinderSave, app.Grinder{Name: "by the window"})
	do[app.Saved](t, vega, app.CmdBrewerSave, app.Brewer{Name: "the cone"})
	do[app.Saved](t, vega, app.CmdInstrumentSave, app.Instrument{Name: "kitchen scale", What: "scale", Precision: 0.1})
	do[app.Saved](t, vega, app.CmdCoffeeSave, app.Coffee{Name: "Valley lot 3", Grams: 250, Roasted: "2026-03-01"})
	do[app.Saved](t, vega, app.CmdGrinderSave, app.Grinder{ID: grinder.ID, Name: "by the window", Burr: "conical", Scale: "turns", PerTurn: 24, Finest: "0+0", Coarse: "4+0"})
	vega.Start()
	seen := cupboard(t, vega)
	if len(seen.Grinders) != 1 || seen.Grinders[0].Grinder.PerTurn != 24 || seen.Grinders[0].Grinder.ID != grinder.ID || seen.Grinders[0].Kept.Away {
		t.Errorf("grinders: %+v", seen.Grinders)
	}
	if len(seen.Brewers) != 1 || seen.Brewers[0].Brewer.Geometry != "other" {
		t.Errorf("brewers: %+v", seen.Brewers)
	}
	if len(seen.Coffees) != 1 || seen.Coffees[0].Left != 250 || seen.Coffees[0].Coffee.Declared.Choice != "unknown" {
		t.Errorf("coffees: %+v", seen.Coffees)
	}
	if len(seen.Recipes) != 6 || !seen.Recipes[0].Starting || len(seen.Recipes[0].Cautions) == 0 {
		t.Errorf("recipes: %+v", seen.Recipes)
	}
}

// What a kitchen used and somebody removed is used no more, and does not stand in the way of what else is said of it.
func TestAKitchenForgetsWhatWasRemoved(t *testing.T) {
	vega := newVillage().Phone("vega")
	scale := do[app.Saved](t, vega, app.CmdInstrumentSave, app.Instrument{Name: "kitchen scale", What: "scale", Precision: 0.1})
	water := do[app.Saved](t, vega, app.CmdWaterSave, app.Water{Name: "spring", Source: "label", Calcium: 30})
	do[app.Nothing](t, vega, app.CmdHomeSave, app.Home{Scale: scale.ID, Water: water.ID})
	do[app.ItemRemoved](t, vega, app.CmdItemRemove, app.ItemName{What: "instrument", ID: scale.ID})
	home := cupboard(t, vega).Home
	if home.Scale != "" || home.Water != water.ID {
		t.Errorf("the kitchen uses %+v", home)
	}
	home.Altitude = 2350
	do[app.Nothing](t, vega, app.CmdHomeSave, home)
}

func TestItemsThatCannotBeAreRefusedAtTheirField(t *testing.T) {
	vega := newVillage().Phone("vega")
	for field, save := range map[string]func(){
		"name": func() {
			refused[app.Saved](t, vega, app.CmdBrewerSave, app.Brewer{Name: "  "}, app.CodeRequired, "name")
		},
		"grams": func() {
			refused[app.Saved](t, vega, app.CmdCoffeeSave, app.Coffee{Name: "x", Grams: -1}, app.CodeImpossible, "grams")
		},
		"kept": func() {
			refused[app.Saved](t, vega, app.CmdCoffeeSave, app.Coffee{Name: "x", Grams: 10, Kept: 12}, app.CodeImpossible, "kept")
		},
		"roasted": func() {
			refused[app.Saved](t, vega, app.CmdCoffeeSave, app.Coffee{Name: "x", Roasted: "2026-02-29"}, app.CodeImpossible, "roasted")
		},
		"thawed": func() {
			refused[app.Saved](t, vega, app.CmdCoffeeSave, app.Coffee{Name: "x", Thawed: "2026-03-01"}, app.CodeImpossible, "thawed")
		},
		"finest": func() {
			refused[app.Saved](t, vega, app.CmdGrinderSave, app.Grinder{Name: "x", Scale: "clicks", Finest: "soft"}, app.CodeImpossible, "finest")
		},
		"perTurn": func() {
			refused[app.Saved](t, vega, app.CmdGrinderSave, app.Grinder{Name: "x", Scale: "turns"}, app.CodeRequired, "perTurn")
		},
		"altitude": func() {
			refused[app.Nothing](t, vega, app.CmdHomeSave, app.Home{Altitude: 9000}, app.CodeImpossible, "altitude")
		},
		"scale": func() {
			refused[app.Nothing](t, vega, app.CmdHomeSave, app.Home{Scale: strings.Repeat("0", 32)}, app.CodeUnknown, "scale")
		},
	} {
		t.Run(field, func(*testing.T) { save() })
	}
	if seen := cupboard(t, vega); len(seen.Coffees)+len(seen.Brewers)+len(seen.Grinders) != 0 {
		t.Errorf("something was kept: %+v", seen)
	}
}

func TestAStartingPointIsNotEdited(t *testing.T) {
	vega := newVillage().Phone("vega")
	cone := cupboard(t, vega).Recipes[0].Recipe
	cone.Title = "My cone"
	saved := do[app.Saved](t, vega, app.CmdRecipeSave, cone)
	seen := cupboard(t, vega).Recipes
	if len(seen) != 7 || seen[0].Recipe.ID != saved.ID || seen[0].Recipe.Title != "My cone" || seen[0].Starting || seen[1].Recipe.Title == "My cone" {
		t.Errorf("recipes: %+v", seen)
	}
}

func TestARecipeThatCannotBeIsRefusedAtItsStep(t *testing.T) {
	vega := newVillage().Phone("vega")
	late := valleyRecipe()
	late.Steps[3].At = -90
	refused[app.Saved](t, vega, app.CmdRecipeSave, late, app.CodeImpossible, "steps.3")
	short := valleyRecipe()
	short.Steps[3].Water = 0.5
	refused[app.Saved](t, vega, app.CmdRecipeSave, short, app.CodeImpossible, "steps")
}

func TestARecipeTravelsInALink(t *testing.T) {
	v := newVillage()
	vega, mira := v.Phone("vega"), v.Phone("mira")
	saved := do[app.Saved](t, vega, app.CmdRecipeSave, valleyRecipe())
	link := do[app.RecipeLink](t, vega, app.CmdRecipeLink, app.ItemName{What: "recipe", ID: saved.ID}).Link
	got := do[app.Recipe](t, mira, app.CmdRecipeRead, app.RecipeText{Text: " " + link + "\n"})
	if want := valleyRecipe(); got.Title != want.Title || got.Note != want.Note || len(got.Steps) != len(want.Steps) || got.Steps[1] != want.Steps[1] {
		t.Errorf("mira reads %+v", got)
	}
	if len(link) > 900 {
		t.Errorf("a link of %d letters is no QR code for a phone", len(link))
	}
	before, secret, _ := strings.Cut(link, "#")
	refused[app.Recipe](t, mira, app.CmdRecipeRead, app.RecipeText{Text: link[:len(link)-9]}, "damaged", "text")
	refused[app.Recipe](t, mira, app.CmdRecipeRead, app.RecipeText{Text: before + "#2" + secret[1:]}, "newer", "text")
	refused[app.Recipe](t, mira, app.CmdRecipeRead, app.RecipeText{Text: "good evening"}, "damaged", "text")
}

func TestWhatConcernsNobodyElseStaysOnTheDevice(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	do[app.Nothing](t, vega, app.CmdPersonSave, app.Person{Pregnant: true, Allergens: []string{"nuts"}})
	vega.Start()
	if seen := see[app.Person](t, vega, app.ViewPerson, app.Nothing{}); !seen.Pregnant || len(seen.Allergens) != 1 {
		t.Errorf("after a start: %+v", seen)
	}
	if seen := see[app.SyncView](t, vega, app.ViewSync, app.Nothing{}); seen.Waiting+seen.OnItsWay > 1 { // the notebook's own beginning
		t.Errorf("it went into a book: %+v", seen)
	}
	vega.Disk.Refuse = "disk-full"
	refused[app.Nothing](t, vega, app.CmdPersonSave, app.Person{}, "storage-failed", "")
	vega.Disk.Refuse = ""
	if seen := see[app.Person](t, vega, app.ViewPerson, app.Nothing{}); !seen.Pregnant {
		t.Error("what was not saved is shown as saved")
	}
}

func TestUnusedItemsAreForgotten(t *testing.T) {
	vega := newVillage().Phone("vega")
	saved := do[app.Saved](t, vega, app.CmdBrewerSave, app.Brewer{Name: "the cone", Geometry: "cone"})
	if gone := do[app.ItemRemoved](t, vega, app.CmdItemRemove, app.ItemName{What: "brewer", ID: saved.ID}); gone.Away {
		t.Error("a brewer that nothing refers to was put away")
	}
	if seen := cupboard(t, vega); len(seen.Brewers) != 0 {
		t.Errorf("brewers: %+v", seen.Brewers)
	}
	refused[app.ItemRemoved](t, vega, app.CmdItemRemove, app.ItemName{What: "brewer", ID: saved.ID}, app.CodeUnknown, "brewer")
}

func TestASettingIsTriedBeforeTheScaleIsKept(t *testing.T) {
	vega := newVillage().Phone("vega")
	turns := app.Grinder{Scale: "turns", PerTurn: 24, Finest: "0+0", Coarse: "4+0"}
	for _, c := range []struct {
		grinder app.Grinder
		setting string
		want    app.GrinderReads
	}{
		{turns, " 1 + 12", app.GrinderReads{Steps: 36, Says: "1+12", Less: "1+11", More: "1+13"}},
		{turns, "4+0", app.GrinderReads{Steps: 96, Says: "4", Less: "3+23", More: "4"}},
		{turns, "5+0", app.GrinderReads{Fault: "past-stop"}},
		{turns, "soft", app.GrinderReads{Fault: "setting"}},
		{app.Grinder{Scale: "turns"}, "1+12", app.GrinderReads{Fault: "scale"}},
		{app.Grinder{Scale: "words"}, "a little coarser", app.GrinderReads{Fault: "words"}},
		{app.Grinder{Scale: "numbers", Step: 0.5}, "4,5", app.GrinderReads{Steps: 9, Says: "4.5", Less: "4.0", More: "5.0"}},
	} {
		if got := do[app.GrinderReads](t, vega, app.CmdGrinderRead, app.GrinderRead{Grinder: c.grinder, Setting: c.setting}); got != c.want {
			t.Errorf("%q on %s reads as %+v, not %+v", c.setting, c.grinder.Scale, got, c.want)
		}
	}
}

// Water boils at 92.0 °C in a standard atmosphere of 2,350 m: its pressure there is 76.1 kPa (ICAO standard atmosphere, Doc
// 7488), and saturated steam of 75.7 kPa is at 92 °C (CRC Handbook of Chemistry and Physics, vapour pressure of water).
func TestAHomeSaysWhereWaterBoilsBeforeItIsKept(t *testing.T) {
	vega := newVillage().Phone("vega")
	reads := do[app.HomeReads](t, vega, app.CmdHomeRead, app.Home{Altitude: 2350})
	if reads.Boiling < 91.7 || reads.Boiling > 92.5 || len(reads.Ranges) == 0 {
		t.Errorf("at 2,350 m: %+v", reads)
	}
	refused[app.HomeReads](t, vega, app.CmdHomeRead, app.Home{Altitude: 9000}, app.CodeImpossible, "altitude")
	if seen := cupboard(t, vega); seen.Home.Altitude != 0 {
		t.Error("what was only read was kept")
	}
	do[app.Nothing](t, vega, app.CmdHomeSave, app.Home{Altitude: 2350, Weight: "oz", Temperature: "F"})
	if me := see[app.NotebookView](t, vega, app.ViewNotebook, app.Nothing{}); me.Weight != "oz" || me.Temperature != "F" {
		t.Errorf("the units of the screens: %+v", me)
	}
}

// A later version of the app may know more ranges than this one: what it chose stays on the person's other phones, and counts as
// the first there.
func TestAHomeNamesARangeOfTheTrade(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	for _, r := range brewing.Ranges() {
		do[app.Nothing](t, vega, app.CmdHomeSave, app.Home{Range: r.ID})
		if seen := see[app.TrendView](t, vega, app.ViewTrend, app.TrendParams{Limit: 1}); seen.Range != r.ID || len(seen.Ranges) != len(brewing.Ranges()) {
			t.Errorf("%s is chosen, the chart begins with %s of %d", r.ID, seen.Range, len(seen.Ranges))
		}
	}
	refused[app.Nothing](t, vega, app.CmdHomeSave, app.Home{Range: "of my own"}, app.CodeImpossible, "range")
	if kept := cupboard(t, vega).Home.Range; kept != "trade-norway" {
		t.Errorf("after the refusal %q is kept", kept)
	}

	mira := v.Phone("mira")
	take(t, mira, []app.DataRecord{{Kind: "home", Home: &app.Home{Altitude: 2350, Range: "trade-2040"}}})
	home := cupboard(t, mira).Home
	if home.Range != "trade-2040" || home.Altitude != 2350 {
		t.Errorf("of a file of a later version there is %+v", home)
	}
	if seen := see[app.TrendView](t, mira, app.ViewTrend, app.TrendParams{Limit: 1}); seen.Range != "trade-2015" {
		t.Errorf("a range that is not known here counts as %s", seen.Range)
	}
	home.Altitude = 2400
	do[app.Nothing](t, mira, app.CmdHomeSave, home)
	if kept := cupboard(t, mira).Home; kept.Range != "trade-2040" || kept.Altitude != 2400 {
		t.Errorf("after the altitude changed there is %+v", kept)
	}
}
