package app_test

import (
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
)

// Whatever happens to the phone between 30 s and 90 s of a brew, the clock says 90 s afterwards; and it says whether somebody
// must be asked what happened.
func TestTheClockIsRightWhateverHappens(t *testing.T) {
	const minute = 60_000
	for name, c := range map[string]struct {
		happens func(*village.Village, *village.Phone)
		absent  bool
	}{
		"nothing":         {func(v *village.Village, _ *village.Phone) { v.Advance(minute) }, false},
		"a locked screen": {func(_ *village.Village, p *village.Phone) { p.Sleep(minute) }, true},
		"a killed app":    {func(v *village.Village, p *village.Phone) { p.Stop(); v.Advance(minute); p.Start() }, true},
		"a reboot, killed twice": {func(v *village.Village, p *village.Phone) {
			v.Advance(minute / 2)
			p.Start()
			p.Stop()
			v.Advance(minute / 2)
			p.Start()
		}, true},
		"a clock set back an hour":     {func(v *village.Village, p *village.Phone) { p.Skew = -60 * minute; v.Advance(minute) }, false},
		"a clock set forward by years": {func(v *village.Village, p *village.Phone) { p.Skew = 3 * 365 * 24 * 60 * minute; v.Advance(minute) }, false},
	} {
		t.Run(name, func(t *testing.T) {
			v := newVillage()
			vega := v.Phone("vega")
			vega.Offline(true)
			b := start(t, vega, setup())
			v.Advance(30_000)
			mark(t, vega, b, "bloom", 45)
			c.happens(v, vega)
			mark(t, vega, b, "pour", 150)
			seen := see[app.BrewView](t, vega, app.ViewBrew, b)
			if len(seen.Marks) != 3 || seen.Marks[1].At != 30 || seen.Marks[2].At != 90 || seen.Absent != c.absent {
				t.Fatalf("marks %+v, absent %v", seen.Marks, seen.Absent)
			}
			if ran := v.Now() + vega.Skew - seen.Began; ran != 90_000 {
				t.Errorf("the screen shows %d ms", ran)
			}
			v.Advance(60_000)
			mark(t, vega, b, "end", 0)
			save(t, vega, b, app.BrewOutcome{})
			if seen := see[app.BrewView](t, vega, app.ViewBrew, b); seen.Drawdown != 150 || seen.Counts == c.absent {
				t.Errorf("drawn down after %v s, counts: %v", seen.Drawdown, seen.Counts)
			}
		})
	}
}

// After an absence a brew is learned from only when its owner says that it went as planned, or puts it back.
func TestAnInterruptedBrewStaysOutUntilItIsPutBack(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	for asked, counts := range map[string]bool{"planned": true, "roughly": true, "unknown": false, "": false} {
		b := start(t, vega, setup())
		vega.Start()
		v.Advance(150_000)
		save(t, vega, b, app.BrewOutcome{Asked: asked})
		if seen := see[app.BrewView](t, vega, app.ViewBrew, b); seen.Counts != counts || !seen.Absent {
			t.Errorf("what happened was %q: counts %v, absent %v", asked, seen.Counts, seen.Absent)
		}
		do[app.Nothing](t, vega, app.CmdBrewCount, app.BrewCount{Book: b.Book, Brew: b.Brew, Counts: !counts})
		if seen := see[app.BrewView](t, vega, app.ViewBrew, b); seen.Counts == counts {
			t.Errorf("what happened was %q: its owner is not heard", asked)
		}
	}
}
