package app_test

import (
	"testing"

	"hushcup/pwa/app"
)

// Somebody sets the phone's clock an hour forward while the clock of a brew runs. That
// looks as if the phone had slept, so it is asked; what the screen counted puts it right.
func TestATimeThatTheOwnerSays(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	b := start(t, vega, setup())
	v.Advance(5_000)
	vega.Skew = 3_600_000
	v.Advance(5_000)
	mark(t, vega, b, "bloom", 45)
	seen := see[app.BrewView](t, vega, app.ViewBrew, b)
	if !seen.Absent || seen.Marks[1].At != 3610 {
		t.Fatalf("after the clock was set: %+v", seen)
	}
	v.Advance(2_000)
	do[app.Nothing](t, vega, app.CmdBrewTime, app.BrewTime{Book: b.Book, Brew: b.Brew, Elapsed: 12_000})
	v.Advance(8_000)
	mark(t, vega, b, "pour", 150)
	seen = see[app.BrewView](t, vega, app.ViewBrew, b)
	if seen.Absent || len(seen.Marks) != 3 || seen.Marks[1].At != 10 || seen.Marks[2].At != 20 || seen.Began != v.Now()+vega.Skew-20_000 {
		t.Fatalf("after its owner said how long it had run: %+v", seen)
	}
	vega.Skew = 0 // and set back
	v.Advance(10_000)
	mark(t, vega, b, "end", 0)
	save(t, vega, b, app.BrewOutcome{})
	seen = see[app.BrewView](t, vega, app.ViewBrew, b)
	if seen.Drawdown != 30 || !seen.Counts {
		t.Fatalf("the brew when it is saved: %+v", seen)
	}
	refused[app.Nothing](t, vega, app.CmdBrewTime, app.BrewTime{Book: b.Book, Brew: b.Brew, Elapsed: 1}, app.CodeNotYet, "")
}
