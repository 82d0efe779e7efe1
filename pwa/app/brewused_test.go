package app_test

import (
	"fmt"
	"reflect"
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
)

// A brew names what it was made with, and keeps a copy of it.
func TestABrewIsFilledFromTheCupboard(t *testing.T) {
	k := newKitchen(t, 1)
	water := do[app.Saved](t, k.vega, app.CmdWaterSave, app.Water{Name: "valley spring", Source: "label", Calcium: 30, Magnesium: 6, Bicarbonate: 100})
	bare := app.BrewSetup{
		CoffeeID: k.setup.CoffeeID, BrewerID: k.setup.BrewerID, GrinderID: k.setup.GrinderID, RecipeID: k.setup.RecipeID, WaterID: water.ID,
		Dose: 15, Ratio: 16, Kettle: 90, Grind: "24",
	}
	b := app.BrewParams(do[app.BrewStarted](t, k.vega, app.CmdBrewStart, app.BrewStart{Setup: bare, Sure: sure}))
	seen := k.see(b)
	if s := seen.Setup; s.Coffee != "from the valley shop" || s.Brewer != "cone" || s.Method != "drip" || s.Filter != "paper" || s.Grinder != "conical" ||
		s.WaterName != "valley spring" || s.Recipe != "One pour" || len(s.Steps) != 4 || s.Water != 240 {
		t.Errorf("the setup is %+v", s)
	}
	u := seen.Used
	if u.Coffee == nil || u.Brewer == nil || u.Grinder == nil || u.Water == nil || u.Scale == nil || u.Water.Calcium != 30 || u.Scale.Precision != 0.1 || u.Altitude != 2400 {
		t.Errorf("it was made with %+v", u)
	}
	if u.Refractometer != nil {
		t.Errorf("a refractometer that nobody has: %+v", u.Refractometer)
	}
}

func TestGeometryDecidesTheMethod(t *testing.T) {
	vega := newVillage().Phone("vega")
	for geometry, method := range map[string]string{
		"cone": "drip", "flat-bed": "drip", "steep-and-drain": "steep", "press-inverted": "press", "press-upright": "press", "cupping-bowl": "bowl",
	} {
		made := do[app.BrewStarted](t, vega, app.CmdBrewStart, app.BrewStart{Setup: app.BrewSetup{Geometry: geometry, Method: "other", Dose: 15, Ratio: 16}})
		if seen := see[app.BrewView](t, vega, app.ViewBrew, app.BrewParams(made)); seen.Setup.Method != method {
			t.Errorf("%s is %s, not %s", geometry, seen.Setup.Method, method)
		}
	}
}

// Water boils at about 92 °C at the observatory (2,400 m), so a kettle of 100 °C is questioned there and not by the sea.
func TestTheHomesAltitudeJudgesTheKettle(t *testing.T) {
	vega := newVillage().Phone("vega")
	hot := app.BrewSetup{Method: "drip", Dose: 15, Ratio: 16, Kettle: 100}
	do[app.BrewStarted](t, vega, app.CmdBrewStart, app.BrewStart{Setup: hot})
	do[app.Nothing](t, vega, app.CmdHomeSave, app.Home{Altitude: 2400})
	if _, err := village.Do[app.BrewStarted](vega, app.CmdBrewStart, app.BrewStart{Setup: hot}); err == nil || err.Code != app.CodeSurprising || err.Field != "kettle" {
		t.Errorf("100 °C at 2,400 m: %v", err)
	}
}

// Whatever is changed in the Cupboard afterwards, a brew says what it was made with then.
func TestHistoryIsNotRewritten(t *testing.T) {
	k := newKitchen(t, 1)
	b := k.brew(k.setup, nil, 180, app.BrewOutcome{Beverage: 210, TDS: 1.35})
	before := k.see(b)
	if before.Used.Brewer == nil || before.Yield == nil {
		t.Fatalf("the brew: %+v", before)
	}
	for name, change := range map[string]func(){
		"another brewer": func() {
			do[app.Saved](t, k.vega, app.CmdBrewerSave, app.Brewer{ID: k.setup.BrewerID, Name: "flat", Geometry: "flat-bed", Retained: 3.1, Filter: "cloth"})
		},
		"another grinder": func() {
			do[app.Saved](t, k.vega, app.CmdGrinderSave, app.Grinder{ID: k.setup.GrinderID, Name: "blades", Scale: "turns", PerTurn: 40})
		},
		"another bag": func() {
			do[app.Saved](t, k.vega, app.CmdCoffeeSave, app.Coffee{ID: k.setup.CoffeeID, Name: "decaf", Declared: app.Declared{Choice: "something", Allergens: []string{"milk"}}})
		},
		"another recipe": func() {
			do[app.Saved](t, k.vega, app.CmdRecipeSave, app.Recipe{ID: k.setup.RecipeID, Title: "None", Geometry: "cone", Dose: 20, Ratio: 15, Steps: []app.RecipeStep{{Kind: "pour", Until: 30, Water: 1}}})
		},
		"another home": func() {
			do[app.Nothing](t, k.vega, app.CmdHomeSave, app.Home{Altitude: 0})
		},
	} {
		change()
		k.vega.Start()
		now := k.see(b)
		before.Boiling, now.Boiling = 0, 0 // of today's home
		before.Place, now.Place = nil, nil // against today's range
		if !reflect.DeepEqual(now, before) {
			t.Fatalf("%s: %+v\nwas %+v", name, now, before)
		}
	}
	noted := before.Outcome
	noted.Notes = "dry"
	do[app.Nothing](t, k.vega, app.CmdBrewEdit, app.BrewEdit{Book: b.Book, Brew: b.Brew, Setup: &before.Setup, Outcome: &noted, Sure: sure})
	if now := k.see(b); !reflect.DeepEqual(now.Used, before.Used) || !reflect.DeepEqual(now.Setup, before.Setup) || now.Outcome.Notes != "dry" || !reflect.DeepEqual(now.Yield, before.Yield) {
		t.Errorf("a correction of the notes rewrites what was used: %+v\nwas %+v", now, before)
	}
}

// A correction that is refused changes nothing at all, not even a part of the brew.
func TestARefusedCorrectionChangesNothing(t *testing.T) {
	k := newKitchen(t, 1)
	b := k.brew(k.setup, nil, 180, app.BrewOutcome{Notes: "as it was"})
	before := k.see(b)
	changed := before.Setup
	changed.CoffeeID, changed.GrinderID = k.other.CoffeeID, ""
	wrong := app.BrewOutcome{TDS: 80}
	if _, err := village.Do[app.Nothing](k.vega, app.CmdBrewEdit, app.BrewEdit{Book: b.Book, Brew: b.Brew, Setup: &changed, Outcome: &wrong, Sure: sure}); err == nil || err.Field != "tds" {
		t.Fatalf("TDS of 80 %%: %v", err)
	}
	if now := k.see(b); !reflect.DeepEqual(now, before) {
		t.Errorf("%+v\nwas %+v", now, before)
	}
	do[app.Nothing](t, k.vega, app.CmdBrewEdit, app.BrewEdit{Book: b.Book, Brew: b.Brew, Setup: &changed, Sure: sure})
	if now := k.see(b); now.Used.Coffee.Name != "a gift" || now.Setup.Coffee != "a gift" || now.Used.Grinder != nil || now.Outcome.Notes != "as it was" {
		t.Errorf("with another bag: %+v", now)
	}
}

// How finely the scale weighs decides how sure the extraction is; a brew keeps the scale that it was weighed on.
func TestTheScaleDecidesHowSureTheYieldIs(t *testing.T) {
	k := newKitchen(t, 1)
	small := at(k.setup, 6, 24)
	width := func() float64 {
		y := k.see(k.brew(small, nil, 120, app.BrewOutcome{Beverage: 82, TDS: 1.3})).Yield
		return y.High - y.Low
	}
	fine := width()
	coarse := do[app.Saved](t, k.vega, app.CmdInstrumentSave, app.Instrument{Name: "the kitchen's", What: "scale", Precision: 1})
	do[app.Nothing](t, k.vega, app.CmdHomeSave, app.Home{Altitude: 2400, Scale: coarse.ID})
	if rough := width(); rough < 2*fine {
		t.Errorf("to a gram the interval is %v wide, to a tenth %v", rough, fine)
	}
}

func TestAParentAndWhatChanged(t *testing.T) {
	k := newKitchen(t, 1)
	parent := k.brew(k.setup, nil, 180, app.BrewOutcome{})
	finer := at(k.setup, 15, 22)
	planned := do[app.BrewPlanned](t, k.vega, app.CmdBrewPlan, app.BrewPlan{Setup: finer, Parent: &parent})
	child := k.see(k.brew(finer, &parent, 190, app.BrewOutcome{}))
	for name, c := range map[string]*app.Changes{"planned": planned.Changes, "brewed": child.Changes} {
		if c == nil || c.Verdict != "one" || len(c.List) != 1 || c.List[0].Field != "grind" || c.List[0].FromName != "24" || c.List[0].ToName != "22" {
			t.Errorf("%s: %+v", name, c)
		}
	}
	if child.Parent == nil || *child.Parent != parent {
		t.Errorf("the parent is %+v", child.Parent)
	}
	do[app.Nothing](t, k.vega, app.CmdBrewDiscard, app.BrewDiscard(parent))
	if orphan := k.see(app.BrewParams{Book: child.Book, Brew: child.Brew}); orphan.Changes != nil || orphan.State != "done" {
		t.Errorf("without its parent: %+v", orphan)
	}
}

// Bowls stand side by side, each with a clock of its own; with a dose of its own a bowl gets its own water.
func TestBowlsAreBrewsOfTheirOwn(t *testing.T) {
	k := newKitchen(t, 1)
	laid := app.BowlsStart{Setup: app.BrewSetup{Dose: 11, Ratio: 18, Kettle: 91}, Sure: sure}
	for i := range 5 {
		laid.Bowls = append(laid.Bowls, app.Bowl{Coffee: fmt.Sprintf("from the valley shop, %d", i+1)})
	}
	laid.Bowls[1] = app.Bowl{CoffeeID: k.other.CoffeeID, Dose: 10}
	made := do[app.BowlsStarted](t, k.vega, app.CmdBowlsStart, laid)
	table := func() []app.BrewView {
		return see[app.TableView](t, k.vega, app.ViewTable, app.TableParams(made)).Bowls
	}
	for i, b := range table() {
		if b.Bowl != i+1 || b.State != "planned" || b.Setup.Method != "bowl" {
			t.Fatalf("bowl %d: %+v", i+1, b)
		}
		mark(t, k.vega, app.BrewParams{Book: b.Book, Brew: b.Brew}, "start", 0)
		k.v.Advance(15_000)
	}
	k.vega.Start()
	seen := table()
	if len(seen) != 5 || seen[1].Setup.Water != 180 || seen[1].Setup.Coffee != "a gift" || seen[2].Setup.Water != 198 || seen[4].Began-seen[0].Began != 60_000 {
		t.Errorf("the table: %+v", seen)
	}
	for _, wrong := range []app.BowlsStart{{Setup: laid.Setup}, {Setup: laid.Setup, Bowls: make([]app.Bowl, 25)}} {
		if _, err := village.Do[app.BowlsStarted](k.vega, app.CmdBowlsStart, wrong); err == nil || err.Field != "bowls" {
			t.Errorf("%d bowls: %v", len(wrong.Bowls), err)
		}
	}
}

// TestExtractionIsOfTheDryCoffeeWhereItsMoistureIsStated: 1.35 % of 208 g from 15 g is 18.72 % of the coffee as weighed; of 15 g
// with 2.5 % of water only 14.625 g are coffee, so it is 19.2 % of that. A brew keeps the moisture that it was made with.
func TestExtractionIsOfTheDryCoffeeWhereItsMoistureIsStated(t *testing.T) {
	vega := newVillage().Phone("vega")
	brew := func(coffee string) app.BrewView {
		s := setup()
		s.CoffeeID = coffee
		b := start(t, vega, s)
		save(t, vega, b, app.BrewOutcome{Beverage: 208, TDS: 1.35, Drawdown: 170})
		return see[app.BrewView](t, vega, app.ViewBrew, b)
	}
	stated := app.Coffee{Name: "Valley lot 3", Moisture: 2.5}
	stated.ID = do[app.Saved](t, vega, app.CmdCoffeeSave, stated).ID
	unstated := do[app.Saved](t, vega, app.CmdCoffeeSave, app.Coffee{Name: "Valley lot 4"})
	if y := brew(unstated.ID).Yield; y == nil || y.Value != 18.7 {
		t.Errorf("as weighed: %+v", y)
	}
	dry := brew(stated.ID)
	if dry.Yield == nil || dry.Yield.Value != 19.2 {
		t.Errorf("of the dry coffee: %+v", dry.Yield)
	}
	stated.Moisture = 0
	do[app.Saved](t, vega, app.CmdCoffeeSave, stated)
	if y := see[app.BrewView](t, vega, app.ViewBrew, app.BrewParams{Book: dry.Book, Brew: dry.Brew}).Yield; y == nil || y.Value != 19.2 {
		t.Errorf("after the coffee was corrected: %+v", y)
	}
	refused[app.Saved](t, vega, app.CmdCoffeeSave, app.Coffee{Name: "x", Moisture: 40}, app.CodeImpossible, "moisture")
}
