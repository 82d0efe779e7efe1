package app_test

import (
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
)

// manyBrews is a phone with so many brews in its notebook, ordered by the server.
func manyBrews(b testing.TB, count int) (*village.Village, *village.Phone) {
	b.Helper()
	v := newVillage()
	vega := v.Phone("vega")
	must := func(err *app.Error) {
		if err != nil {
			b.Fatal(err)
		}
	}
	for i := range count {
		made, err := village.Do[app.BrewStarted](vega, app.CmdBrewStart, app.BrewStart{Setup: setup(), Run: true})
		must(err)
		_, err = village.Do[app.Nothing](vega, app.CmdBrewSave, app.BrewSave{
			Book: made.Book, Brew: made.Brew, Outcome: app.BrewOutcome{Drawdown: 170, Notes: "as always"},
		})
		must(err)
		vega.Offline(i%250 != 249) // or the clock would be busy with pings
		v.Advance(3_600_000)
	}
	vega.Offline(false)
	v.Advance(60_000)
	return v, vega
}

// BenchmarkStart is from the disk's records to a usable Bench.
func BenchmarkStart(b *testing.B) {
	_, vega := manyBrews(b, 5000)
	b.ResetTimer()
	for b.Loop() {
		vega.Start()
		if v, err := village.See[app.BenchView](vega, app.ViewBench, app.Nothing{}); err != nil || v.Brews != 5000 {
			b.Fatalf("%d brews, %v", v.Brews, err)
		}
	}
}

// BenchmarkMark is from a tap to "saved" with 5,000 brews in the notebook.
func BenchmarkMark(b *testing.B) {
	_, vega := manyBrews(b, 5000)
	made, err := village.Do[app.BrewStarted](vega, app.CmdBrewStart, app.BrewStart{Setup: setup(), Run: true})
	if err != nil {
		b.Fatal(err)
	}
	vega.Watch(app.ViewBench, app.Nothing{})
	vega.Watch(app.ViewSync, app.Nothing{})
	vega.Watch(app.ViewBrew, app.BrewParams(made))
	b.ResetTimer()
	for b.Loop() {
		_, err := village.Do[app.Nothing](vega, app.CmdBrewMark, app.BrewMark{Book: made.Book, Brew: made.Brew, Mark: "stir"})
		if err != nil {
			b.Fatal(err)
		}
		_, _ = village.Do[app.Nothing](vega, app.CmdBrewUnmark, app.BrewUnmark(made))
	}
}
