package app_test

import (
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
)

func (k *kitchen) see(b app.BrewParams) app.BrewView {
	k.t.Helper()
	return see[app.BrewView](k.t, k.vega, app.ViewBrew, b)
}

func (k *kitchen) start() app.BrewParams {
	k.t.Helper()
	return app.BrewParams(do[app.BrewStarted](k.t, k.vega, app.CmdBrewStart, app.BrewStart{Setup: k.setup, Run: true, Sure: sure}))
}

func (k *kitchen) hold(b app.BrewParams, hold bool) {
	k.t.Helper()
	do[app.Nothing](k.t, k.vega, app.CmdBrewHold, app.BrewHold{Book: b.Book, Brew: b.Brew, Hold: hold})
}

func times(p *app.Plan) (out []float64) {
	for _, step := range p.Steps {
		out = append(out, step.At, step.Until)
	}
	return append(out, p.Ends)
}

// A hold of 25 s moves what is still to come by as long, and nothing that was before it.
func TestAHoldSlidesWhatIsStillToCome(t *testing.T) {
	k := newKitchen(t, 1)
	b := k.start()
	if got, want := times(k.see(b).Plan), []float64{0, 10, 12, 0, 40, 80, 80, 180, 180}; !equal(got, want) {
		t.Fatalf("the plan is %v, not %v", got, want)
	}
	k.v.Advance(20_000)
	k.hold(b, true)
	k.hold(b, true) // a second touch changes nothing
	k.v.Advance(25_000)
	if seen := k.see(b); seen.Held != 20 || seen.Plan.Steps[2].At != 40 {
		t.Fatalf("held at %v, the pour comes at %v", seen.Held, seen.Plan.Steps[2].At)
	}
	k.hold(b, false)
	moved := []float64{0, 10, 12, 0, 65, 105, 105, 205, 205}
	if seen := k.see(b); seen.Held != 0 || !equal(times(seen.Plan), moved) {
		t.Fatalf("after it goes on: %v, held %v", times(seen.Plan), seen.Held)
	}
	k.vega.Start()
	if got := times(k.see(b).Plan); !equal(got, moved) {
		t.Fatalf("started anew: %v", got)
	}
	do[app.Nothing](t, k.vega, app.CmdBrewUnmark, app.BrewUnmark(b)) // going on is taken back, then the hold
	if seen := k.see(b); seen.Held != 20 {
		t.Fatalf("with going on taken back it is held at %v", seen.Held)
	}
	do[app.Nothing](t, k.vega, app.CmdBrewUnmark, app.BrewUnmark(b))
	if seen := k.see(b); seen.Held != 0 || seen.Plan.Ends != 180 || seen.State != "going" {
		t.Fatalf("with the hold taken back: held %v, ends %v, %s", seen.Held, seen.Plan.Ends, seen.State)
	}
}

func equal(a, b []float64) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// Marks belong to the steps of the plan, also when one is told late and another taken back.
func TestMarksBelongToSteps(t *testing.T) {
	k := newKitchen(t, 1)
	b := k.start()
	at := func(word string, step int, ago int64) {
		do[app.Nothing](t, k.vega, app.CmdBrewMark, app.BrewMark{Book: b.Book, Brew: b.Brew, Mark: word, Step: step, Ago: ago})
	}
	k.v.Advance(50_000)
	at("pour", 3, 0)
	k.v.Advance(10_000)
	at("swirl", 2, 45_000) // it was at 15 s
	k.v.Advance(30_000)
	at("poured", 3, 0)
	type marked struct {
		word string
		at   float64
		step int
	}
	want := []marked{{"start", 0, 0}, {"swirl", 15, 2}, {"pour", 50, 3}, {"poured", 90, 3}}
	seen := k.see(b)
	for i, m := range seen.Marks {
		if i >= len(want) || (marked{m.Mark, m.At, m.Step}) != want[i] {
			t.Fatalf("the marks are %+v", seen.Marks)
		}
	}
	if len(seen.Pours) != 1 || seen.Pours[0].At != 50 {
		t.Errorf("the pours are %+v", seen.Pours)
	}
	for _, refused := range []app.BrewMark{{Mark: "stir", Step: 9}, {Mark: "stir", Step: -1}, {Mark: "hold"}, {Mark: "start"}, {Mark: "stir", Ago: -1}, {Mark: "pour", Grams: -3}} {
		refused.Book, refused.Brew = b.Book, b.Brew
		if _, err := village.Do[app.Nothing](k.vega, app.CmdBrewMark, refused); err == nil {
			t.Errorf("%+v is taken", refused)
		}
	}
}

// Whoever was away for half an hour, and says then when it was poured, has it where it was.
func TestAPourIsToldLongAfterIt(t *testing.T) {
	k := newKitchen(t, 1)
	b := k.start()
	k.v.Advance(1_800_000)
	do[app.Nothing](t, k.vega, app.CmdBrewMark, app.BrewMark{Book: b.Book, Brew: b.Brew, Mark: "pour", Step: 3, Ago: 1_750_000})
	if seen := k.see(b); len(seen.Pours) != 1 || seen.Pours[0].At != 50 {
		t.Errorf("the pours are %+v", seen.Pours)
	}
}

// A brew that went wrong is kept with what went wrong, and stays out of what is learned until it is put back.
func TestAnAbandonedBrewIsKeptAndStaysOut(t *testing.T) {
	k := newKitchen(t, 1)
	b := k.start()
	k.v.Advance(40_000)
	do[app.Nothing](t, k.vega, app.CmdBrewAbandon, app.BrewAbandon{Book: b.Book, Brew: b.Brew, Why: "the filter tore"})
	seen := k.see(b)
	if seen.State != "done" || !seen.Abandoned || seen.Counts || seen.Outcome.Notes != "the filter tore" {
		t.Fatalf("abandoned: %+v", seen)
	}
	outcome := app.BrewOutcome{Notes: "the filter tore", Beverage: 60}
	do[app.Nothing](t, k.vega, app.CmdBrewEdit, app.BrewEdit{Book: b.Book, Brew: b.Brew, Outcome: &outcome, Sure: sure})
	if k.see(b).Counts {
		t.Error("a correction puts it back")
	}
	if _, err := village.Do[app.Nothing](k.vega, app.CmdBrewAbandon, app.BrewAbandon{Book: b.Book, Brew: b.Brew}); err == nil || err.Code != app.CodeAlready {
		t.Errorf("abandoned again: %v", err)
	}
	do[app.Nothing](t, k.vega, app.CmdBrewCount, app.BrewCount{Book: b.Book, Brew: b.Brew, Counts: true})
	if !k.see(b).Counts {
		t.Error("its owner cannot put it back")
	}
}

// The touch that starts a pour starts the clock as well, where it began; one step takes both back.
func TestAStartedPourIsTakenBackInOneStep(t *testing.T) {
	k := newKitchen(t, 1)
	b := app.BrewParams(do[app.BrewStarted](t, k.vega, app.CmdBrewStart, app.BrewStart{Setup: k.setup, Sure: sure}))
	began := app.BrewMark{Book: b.Book, Brew: b.Brew, Mark: "bloom", Step: 1, Ago: 350}
	do[app.Nothing](t, k.vega, app.CmdBrewMark, began)
	seen := k.see(b)
	if len(seen.Marks) != 2 || seen.Marks[1].Mark != "bloom" || seen.Marks[1].At != 0 || seen.Began != k.v.Now()-350 {
		t.Fatalf("as it begins: %+v, at %d", seen.Marks, k.v.Now()-seen.Began)
	}
	k.v.Advance(9_650)
	do[app.Nothing](t, k.vega, app.CmdBrewMark, app.BrewMark{Book: b.Book, Brew: b.Brew, Mark: "poured", Step: 1, Grams: 45})
	if seen = k.see(b); len(seen.Marks) != 3 || seen.Marks[2].At != 10 {
		t.Fatalf("ten seconds later: %+v", seen.Marks)
	}
	do[app.Nothing](t, k.vega, app.CmdBrewUnmark, app.BrewUnmark(b))
	if seen = k.see(b); len(seen.Marks) != 2 || seen.State != "going" {
		t.Fatalf("with the end of the pour taken back: %+v", seen.Marks)
	}
	do[app.Nothing](t, k.vega, app.CmdBrewUnmark, app.BrewUnmark(b))
	if seen = k.see(b); len(seen.Marks) != 0 || seen.State != "planned" || seen.Began != 0 {
		t.Fatalf("with its begin taken back: %+v", seen)
	}
}

// What its owner left out stays out when a note is corrected.
func TestACorrectionLeavesWhetherABrewCounts(t *testing.T) {
	k := newKitchen(t, 1)
	b := k.start()
	k.v.Advance(170_000)
	save(t, k.vega, b, app.BrewOutcome{Drawdown: 170})
	do[app.Nothing](t, k.vega, app.CmdBrewCount, app.BrewCount{Book: b.Book, Brew: b.Brew})
	do[app.Nothing](t, k.vega, app.CmdBrewEdit, app.BrewEdit{Book: b.Book, Brew: b.Brew, Outcome: &app.BrewOutcome{Drawdown: 170, Notes: "dry"}})
	if seen := k.see(b); seen.Counts || seen.Outcome.Notes != "dry" {
		t.Fatalf("after the correction: %+v, counts %v", seen.Outcome, seen.Counts)
	}
}
