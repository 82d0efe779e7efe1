package app_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
)

// kitchen is a phone of the observatory with a cone, a grinder, a scale, a bag and a recipe of 180 s, and what is planted in it.
type kitchen struct {
	t       *testing.T
	v       *village.Village
	vega    *village.Phone
	setup   app.BrewSetup
	other   app.BrewSetup // with the second bag
	random  *rand.Rand
	grinder string
}

func newKitchen(t *testing.T, seed uint64) *kitchen {
	t.Helper()
	v := newVillage()
	k := &kitchen{t: t, v: v, vega: v.Phone("vega"), random: rand.New(rand.NewPCG(seed, 3))}
	scale := do[app.Saved](t, k.vega, app.CmdInstrumentSave, app.Instrument{Name: "flat scale", What: "scale", Precision: 0.1})
	do[app.Nothing](t, k.vega, app.CmdHomeSave, app.Home{Altitude: 2400, Scale: scale.ID})
	cone := do[app.Saved](t, k.vega, app.CmdBrewerSave, app.Brewer{Name: "cone", Geometry: "cone", Filter: "paper"})
	k.grinder = do[app.Saved](t, k.vega, app.CmdGrinderSave, app.Grinder{Name: "conical", Scale: "clicks", Stays: 0.5}).ID
	bag := do[app.Saved](t, k.vega, app.CmdCoffeeSave, app.Coffee{Name: "from the valley shop", Caffeine: "arabica", Grams: 100, Kept: 10})
	second := do[app.Saved](t, k.vega, app.CmdCoffeeSave, app.Coffee{Name: "a gift", Caffeine: "decaf", Declared: app.Declared{Choice: "something", Additives: []string{"fruit"}}})
	recipe := app.Recipe{Title: "One pour", Geometry: "cone", Dose: 15, Ratio: 16, Kettle: 90, Filter: "paper", Steps: []app.RecipeStep{
		{Kind: "bloom", At: 0, Until: 10, Dose: 2.5}, {Kind: "swirl", At: 12, Times: 2}, {Kind: "pour", At: 40, Until: 80, Water: 1}, {Kind: "drain", At: 80, Until: 180},
	}}
	recipe.ID = do[app.Saved](t, k.vega, app.CmdRecipeSave, recipe).ID
	k.setup = app.BrewSetup{
		CoffeeID: bag.ID, Coffee: "from the valley shop", BrewerID: cone.ID, Brewer: "cone", Geometry: "cone", Method: "drip", GrinderID: k.grinder, Grinder: "conical", RecipeID: recipe.ID,
		Recipe: recipe.Title, Steps: recipe.Steps, Dose: 15, Ratio: 16, Kettle: 90, Grind: "24", Filter: "paper",
	}
	k.other = k.setup
	k.other.CoffeeID, k.other.Coffee = second.ID, "a gift"
	return k
}

// brew makes a brew that takes so long, and saves it.
func (k *kitchen) brew(s app.BrewSetup, parent *app.BrewParams, seconds float64, o app.BrewOutcome) app.BrewParams {
	k.t.Helper()
	b := app.BrewParams(do[app.BrewStarted](k.t, k.vega, app.CmdBrewStart, app.BrewStart{Setup: s, Parent: parent, Run: true, Sure: sure}))
	k.v.Advance(int64(1000 * seconds))
	o.Drawdown = seconds
	do[app.Nothing](k.t, k.vega, app.CmdBrewSave, app.BrewSave{Book: b.Book, Brew: b.Brew, Outcome: o, Sure: sure})
	k.v.Advance(20 * 60_000)
	return b
}

var sure = []string{"kettle", "dose", "water", "beverage", "tds", "drawdown"}

func (k *kitchen) plan(s app.BrewSetup) app.BrewPlanned {
	k.t.Helper()
	return do[app.BrewPlanned](k.t, k.vega, app.CmdBrewPlan, app.BrewPlan{Setup: s})
}

func at(s app.BrewSetup, dose float64, grind int) app.BrewSetup {
	s.Dose, s.Water, s.Grind = dose, 0, decimal(grind)
	return s
}

func decimal(n int) string {
	if n < 10 {
		return string(rune('0' + n))
	}
	return decimal(n/10) + decimal(n%10)
}

// plantedSeconds is a cone whose time goes with dose^0.6, and a grinder of which two clicks finer take an eighth more time.
func plantedSeconds(dose float64, grind int) float64 {
	return 180 * math.Pow(dose/15, 0.6) * math.Pow(9.0/8, float64(24-grind)/2)
}

func near(got, want, part float64) bool { return math.Abs(got/want-1) <= part }

func holds(i app.Interval, truth float64) bool { return i.Low <= truth && truth <= i.High }

// A recipe's time scaled to another dose, kept as a recipe there, and scaled back, is the time that it was; a cone's goes with
// the cube root of the dose as long as no brew says otherwise.
func TestScalingThereAndBackGivesTheTimeBack(t *testing.T) {
	k := newKitchen(t, 1)
	there := k.plan(at(k.setup, 30, 24)).Time
	if there == nil || there.Enough || !near(there.Seconds.Value, 180*math.Cbrt(2), 1e-3) || there.Seconds.Low >= there.Seconds.High {
		t.Fatalf("30 g with a recipe for 15 g: %+v", there)
	}
	if len(there.Reasons) == 0 || there.Reasons[0].Code != "not-enough-brews" {
		t.Errorf("it does not say that it does not know: %+v", there.Reasons)
	}
	scaled := app.Recipe{Title: "for two", Geometry: "cone", Dose: 30, Ratio: 16, Kettle: 90, Steps: []app.RecipeStep{
		{Kind: "pour", At: 0, Until: 60, Water: 1}, {Kind: "drain", At: 60, Until: there.Seconds.Value}}}
	scaled.ID = do[app.Saved](t, k.vega, app.CmdRecipeSave, scaled).ID
	s := at(k.setup, 15, 24)
	s.RecipeID, s.Recipe, s.Steps = scaled.ID, scaled.Title, scaled.Steps
	if back := k.plan(s).Time; back == nil || !near(back.Seconds.Value, 180, 0.01) {
		t.Fatalf("back at 15 g: %+v", back)
	}
}

func TestOwnBrewsDecideTheTimeAndThePlantedGrindIsFound(t *testing.T) {
	k := newKitchen(t, 2)
	if hint := k.plan(at(k.setup, 15, 24)).Grind; hint == nil || hint.Known || len(hint.Reasons) == 0 || hint.Reasons[0].Code != "not-enough-brews" {
		t.Fatalf("before any brew the grind is %+v", hint)
	}
	for i := range 24 {
		dose, grind := float64(10+4*(i%5)), 19+(i*7)%11
		seconds := plantedSeconds(dose, grind) * math.Exp(0.03*k.random.NormFloat64())
		k.brew(at(k.setup, dose, grind), nil, math.Round(seconds), app.BrewOutcome{})
	}
	p := k.plan(at(k.setup, 20, 20))
	want := plantedSeconds(20, 20)
	if p.Time == nil || !p.Time.Enough || !near(p.Time.Seconds.Value, want, 0.05) || !holds(p.Time.Seconds, want) || !holds(p.Time.Exponent, 0.6) {
		t.Fatalf("planted %.0f s and a power of 0.6: %+v", want, p.Time)
	}
	if !holds(p.Time.Coarser, math.Sqrt(want/180)) {
		t.Errorf("to keep 180 s the grounds must be coarser by %.3f: %+v", math.Sqrt(want/180), p.Time.Coarser)
	}
	// At the recipe's own dose its 180 s are those of setting 24.
	hint := k.plan(at(k.setup, 15, 20)).Grind
	if hint == nil || !hint.Known || hint.Setting < "23" || hint.Setting > "25" || hint.Low > "24" || hint.High < "24" {
		t.Fatalf("planted 24: %+v", hint)
	}
	if !holds(hint.Seconds, 180) {
		t.Errorf("180 s are wanted: %+v", hint.Seconds)
	}
}

// Four slow pours in the same cone say nothing about one pour's time.
func TestTimesOfAnotherRecipeDoNotMoveThisOnes(t *testing.T) {
	k := newKitchen(t, 8)
	for range 4 {
		k.brew(k.setup, nil, 180, app.BrewOutcome{})
	}
	slow := k.setup
	slow.RecipeID = do[app.Saved](t, k.vega, app.CmdRecipeSave, app.Recipe{Title: "four slow pours", Geometry: "cone", Dose: 15, Ratio: 16, Kettle: 90, Steps: []app.RecipeStep{
		{Kind: "pour", At: 0, Until: 250, Water: 1}, {Kind: "drain", At: 250, Until: 300}}}).ID
	slow.Steps = nil
	if first := k.plan(slow).Time; first == nil || !near(first.Seconds.Value, 300, 0.02) {
		t.Errorf("never brewed, planned for 300 s: %+v", first)
	}
	for range 6 {
		k.brew(slow, nil, 300, app.BrewOutcome{})
	}
	if p := k.plan(k.setup).Time; p == nil || !near(p.Seconds.Value, 180, 0.04) {
		t.Errorf("one pour took 180 s: %+v", p)
	}
	if p := k.plan(slow).Time; p == nil || !near(p.Seconds.Value, 300, 0.04) {
		t.Errorf("four pours took 300 s: %+v", p)
	}
}

// What was given up, and what nobody watched, teaches nothing; nor does a bowl about brewed cups.
func TestWhatWentWrongIsNotLearnedFrom(t *testing.T) {
	k := newKitchen(t, 3)
	for range 3 {
		k.brew(k.setup, nil, 180, app.BrewOutcome{})
	}
	before := see[app.RepeatView](t, k.vega, app.ViewRepeat, app.BrewParams{})
	b := do[app.BrewStarted](t, k.vega, app.CmdBrewStart, app.BrewStart{Setup: k.setup, Run: true, Sure: sure})
	k.v.Advance(400_000)
	do[app.Nothing](t, k.vega, app.CmdBrewAbandon, app.BrewAbandon{Book: b.Book, Brew: b.Brew, Why: "the filter folded"})
	k.v.Advance(60_000)
	after := see[app.RepeatView](t, k.vega, app.ViewRepeat, app.BrewParams{})
	if after.Brewed[0].Brews != 3 || before.Brewed[0] != after.Brewed[0] {
		t.Fatalf("time repeats to %+v, and with a brew that was given up to %+v", before.Brewed[0], after.Brewed[0])
	}
	bowl := k.setup
	bowl.BrewerID, bowl.Brewer, bowl.Geometry, bowl.Method, bowl.RecipeID, bowl.Recipe, bowl.Steps = "", "", "cupping-bowl", "bowl", "", "", nil
	for range 3 {
		k.brew(bowl, nil, 600, app.BrewOutcome{Balance: []app.BalanceMark{{Of: "acid", Mark: 200}}})
	}
	all := see[app.RepeatView](t, k.vega, app.ViewRepeat, app.BrewParams{})
	if all.Brewed[0].Brews != 3 || all.Bowls[0].Brews != 3 || all.Bowls[4].Of != "acid" || !all.Bowls[4].Enough {
		t.Fatalf("brewed %+v, bowls %+v", all.Brewed[0], all.Bowls[0])
	}
}

// taste notes a cup on a line scale, off by a hand's noise.
func (k *kitchen) taste(acid float64) []app.BalanceMark {
	mark := func(of string, v float64) app.BalanceMark {
		return app.BalanceMark{Of: of, Mark: 50 * int(math.Round(20*(v+0.05*k.random.NormFloat64())))}
	}
	return []app.BalanceMark{mark("acid", acid), mark("sweet", 0), mark("bitter", 0), mark("body", 0), mark("finish", 0)}
}

func TestAPlantedDifferenceIsToldFromNone(t *testing.T) {
	k := newKitchen(t, 4)
	brewed := 0
	cup := func(s app.BrewSetup, acid float64) app.BrewParams {
		off := float64(brewed*2%3 - 1) // hardly off, and never the same twice
		brewed++
		return k.brew(s, nil, 180+3*off, app.BrewOutcome{TDS: 1.3 + 0.01*off, Beverage: 208, Balance: k.taste(acid)})
	}
	compare := func(a, b app.BrewParams) app.CompareView {
		return see[app.CompareView](t, k.vega, app.ViewCompare, app.CompareParams{First: a, Second: b})
	}
	first, alike := cup(k.setup, 0), cup(k.setup, 0)
	if c := compare(first, alike); !c.Ready || c.Verdict != "few" || c.Reasons[0].Code != "not-enough-repeats" || c.Changes.Verdict != "repeated" {
		t.Fatalf("after one repetition: %+v", c)
	}
	for range 8 {
		alike = cup(k.setup, 0)
	}
	if c := compare(alike, first); c.Verdict != "none" || c.First.Brew != first.Brew || c.Brews < 9 {
		t.Fatalf("the same twice, given the wrong way round: %q %+v of %d", c.Verdict, c.Reasons, c.Brews)
	}
	other := cup(k.other, 0.6)
	c := compare(first, other)
	if c.Verdict != "coffee" || c.Changes.Verdict != "one" || c.Changes.List[0].Field != "coffee" {
		t.Fatalf("another coffee, brewed alike, with 0.6 more acid: %q, %+v, %+v", c.Verdict, c.Reasons, c.Changes)
	}
	for _, d := range c.By {
		switch {
		case d.Of == "acid" && (!d.Beyond || !holds(d.By, 0.6)):
			t.Errorf("planted 0.6: %+v", d)
		case d.Of == "seconds" && math.Abs(d.By.Value) > 0.2:
			t.Errorf("a time that hardly differs, as a share: %+v", d)
		}
	}
	coarser := cup(at(k.other, 15, 30), 0.6)
	if c := compare(first, coarser); c.Verdict != "brewing" {
		t.Errorf("another coffee and another grind: %q", c.Verdict)
	}
	if c := compare(first, cup(at(k.setup, 15, 30), 0.6)); c.Verdict != "brewing" || c.Changes.Verdict != "one" {
		t.Errorf("the same coffee with another grind: %q", c.Verdict)
	}
}

func TestTheTreeOfAnEvening(t *testing.T) {
	k := newKitchen(t, 5)
	first := k.brew(k.setup, nil, 180, app.BrewOutcome{})
	k.v.Advance(24 * 3_600_000)
	second := k.brew(k.setup, &first, 180, app.BrewOutcome{})
	third := k.brew(at(k.setup, 15, 22), &second, 200, app.BrewOutcome{TDS: 1.4, Beverage: 208})
	hot := at(k.setup, 15, 26)
	hot.Kettle = 86
	k.brew(hot, &second, 170, app.BrewOutcome{})
	k.brew(k.other, nil, 180, app.BrewOutcome{})
	rows := see[app.TrialsView](t, k.vega, app.ViewTrials, third).Rows
	if len(rows) != 3 || rows[0].Brew.Brew != second.Brew || !rows[0].Orphan || rows[1].Parent != 0 || rows[1].Yield == nil || rows[1].Lane != 0 || rows[2].Lane != 1 {
		t.Fatalf("the evening is %+v", rows)
	}
	if s := rows[1].Since; s == nil || s.Verdict != "one" || s.List[0].Field != "grind" || s.List[0].FromName != "24" || s.List[0].ToName != "22" || s.List[0].To != 22 {
		t.Errorf("what changed first: %+v", s)
	}
	if s := rows[2].Since; s == nil || s.Verdict != "several" || s.Causes != 2 {
		t.Errorf("what changed on the other branch: %+v", s)
	}
}

func TestPurgeRationAndCaffeineOfAPlan(t *testing.T) {
	k := newKitchen(t, 6)
	p := k.plan(k.setup)
	if p.Purge == nil || p.Purge.Reasons[0].Code != "first-coffee" {
		t.Errorf("a grinder of which nothing is known: %+v", p.Purge)
	}
	// 15 g of arabica are 120 to 210 mg of caffeine.
	if c := p.Caffeine; c == nil || !near(c.Low, 120, 1e-9) || !near(c.High, 210, 1e-9) || c.TodayHigh != c.High || c.AtOnce != "maybe" {
		t.Errorf("caffeine of the first: %+v", c)
	}
	if r := p.Ration; r == nil || r.Left != 100 || r.Kept != 10 || r.Attempts != 5 || !r.Reliable {
		t.Errorf("100 g, 10 kept, 15 g each: %+v", r)
	}
	k.brew(k.setup, nil, 180, app.BrewOutcome{})
	p = k.plan(k.setup)
	if p.Purge.Grams != 0 || p.Purge.Reasons[0].Code != "same-coffee" {
		t.Errorf("the same coffee again: %+v", p.Purge)
	}
	if r := p.Ration; r.Left != 85 || r.Attempts != 5 {
		t.Errorf("of 85 g: %+v", r)
	}
	if c := p.Caffeine; !near(c.TodayLow, 240, 1e-9) || !near(c.TodayHigh, 420, 1e-9) || c.InADay != "maybe" {
		t.Errorf("with the one before: %+v", c)
	}
	infused := k.plan(k.other)
	if infused.Purge.Grams <= 0 || infused.Caffeine.High > 15+1e-9 {
		t.Errorf("an infused decaf: %+v, %+v", infused.Purge, infused.Caffeine)
	}
	k.brew(k.other, nil, 180, app.BrewOutcome{})
	after := k.plan(k.setup).Purge
	if after.Grams <= infused.Purge.Grams || after.Reasons[0].Code != "after-infused" {
		t.Errorf("after an infused one %+v, before it %+v", after, infused.Purge)
	}
	k.v.Advance(20 * 3_600_000)
	if c := k.plan(k.setup).Caffeine; c.TodayHigh != c.High {
		t.Errorf("a day later yesterday's still count: %+v", c)
	}
	do[app.Nothing](t, k.vega, app.CmdPersonSave, app.Person{Spits: true})
	if c := k.plan(k.setup).Caffeine; c.High > 0.2*210+1e-9 || !c.Spits {
		t.Errorf("spat out: %+v", c)
	}
}

func TestTrendHasAPointForEachBrew(t *testing.T) {
	k := newKitchen(t, 7)
	for i := range 5 {
		k.brew(k.setup, nil, 180, app.BrewOutcome{TDS: 1.3 + 0.01*float64(i), Beverage: 208, Balance: k.taste(0)})
	}
	v := see[app.TrendView](t, k.vega, app.ViewTrend, app.TrendParams{Limit: 3})
	if !v.Ready || v.All != 5 || len(v.Points) != 3 || !near(v.Points[2].TDS, 1.34, 1e-9) || v.Points[0].Began >= v.Points[2].Began || len(v.Ranges) == 0 {
		t.Fatalf("%+v", v)
	}
	// 1.34 % of 208 g to 15 g are 18.6 %.
	// A meter of which nothing is known is taken for one of 0.05 %: 2 * 0.05/sqrt(3) to either side (JCGM 100:2008, 4.3.7).
	if p := v.Points[2]; !near(p.Open, 0.1/math.Sqrt(3), 1e-9) {
		t.Errorf("of the strength %v %% is left open", p.Open)
	}
	if p := v.Points[2]; p.Yield == nil || !near(p.Yield.Value, 18.58, 0.01) || p.Ratio != 16 || len(p.Balance) != 5 {
		t.Errorf("%+v", p)
	}
	if r := v.Ranges[0]; r.TDSLow != 1.15 || r.TDSHigh != 1.35 || r.EYLow != 18 || r.EYHigh != 22 {
		t.Errorf("the trade's range of 2015 is %+v", r)
	}
}

// A sample has no name, and still the grinder knows that it was in it.
func TestTheSameSampleAgainNeedsNothingGroundAway(t *testing.T) {
	s := sitDown(t)
	planned := func(sample string) *app.Purge {
		return do[app.BrewPlanned](t, s.mira, app.CmdBrewPlan, app.BrewPlan{Club: s.club, Sample: sample, Setup: setup()}).Purge
	}
	do[app.BrewStarted](t, s.mira, app.CmdBrewStart, app.BrewStart{Club: s.club, Sample: s.first, Setup: setup(), Run: true})
	s.v.Advance(5000)
	if again := planned(s.first); again == nil || again.Grams != 0 || again.Reasons[0].Code != "same-coffee" {
		t.Errorf("the first again: %+v", again)
	}
	if next := planned(s.next); next == nil || next.Grams <= 0 {
		t.Errorf("the next: %+v", next)
	}
}
