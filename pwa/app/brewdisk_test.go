package app_test

import (
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
)

func TestAFullDiskSaysSoAndLosesNothing(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	b := start(t, vega, setup())
	vega.Disk.Refuse = "disk-full"
	_, err := village.Do[app.Nothing](vega, app.CmdBrewMark, app.BrewMark{Book: b.Book, Brew: b.Brew, Mark: "bloom", Grams: 40})
	if err == nil || err.Code != "disk-full" {
		t.Fatalf("with a full disk: %v", err)
	}
	if mark := see[app.SyncView](t, vega, app.ViewSync, app.Nothing{}); mark.Storage != "disk-full" || mark.Mark != "trouble" {
		t.Fatalf("the mark is %+v", mark)
	}
	if seen := see[app.BrewView](t, vega, app.ViewBrew, b); len(seen.Marks) != 1 {
		t.Fatalf("a mark that was not saved is shown: %+v", seen.Marks)
	}
	vega.Disk.Refuse = ""
	mark(t, vega, b, "stir", 0) // may be given the number of the one that was lost
	if seen := see[app.BrewView](t, vega, app.ViewBrew, b); len(seen.Marks) != 2 || seen.Marks[1].Mark != "stir" {
		t.Fatalf("with room again: %+v", seen.Marks)
	}
}

// What a failed write was called by may be given to the next one: nothing of the first is seen under it.
func TestWhatWasNotWrittenIsNotRemembered(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	vega.Offline(true)
	b := start(t, vega, setup())
	dosed := func(grams float64) *app.Error {
		changed := setup()
		changed.Dose, changed.Water = grams, 0
		_, err := village.Do[app.Nothing](vega, app.CmdBrewEdit, app.BrewEdit{Book: b.Book, Brew: b.Brew, Setup: &changed, Sure: sure})
		return err
	}
	vega.Disk.Refuse = "disk-full"
	if err := dosed(11); err == nil || err.Code != "disk-full" {
		t.Fatalf("with a full disk: %v", err)
	}
	vega.Disk.Refuse = ""
	if err := dosed(12); err != nil {
		t.Fatal(err)
	}
	if seen := see[app.BrewView](t, vega, app.ViewBrew, b); seen.Setup.Dose != 12 {
		t.Errorf("the dose is %v g", seen.Setup.Dose)
	}
	if seen := see[app.BenchView](t, vega, app.ViewBench, app.Nothing{}); seen.Recent[0].Dose != 12 {
		t.Errorf("the dose in the list is %v g", seen.Recent[0].Dose)
	}
}
