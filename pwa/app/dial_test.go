package app_test

import (
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
)

func looks(t *testing.T, p *village.Phone) app.SyncView {
	t.Helper()
	return see[app.SyncView](t, p, app.ViewSync, app.Nothing{})
}

// With years of brews the screens come first. Then the network comes all the same, and takes what was written meanwhile.
func TestANotebookOfYearsConnectsAfterTheScreens(t *testing.T) {
	v, vega := manyBrews(t, 600)
	vega.Start()
	if seen := see[app.BenchView](t, vega, app.ViewBench, app.Nothing{}); seen.Brews != 600 {
		t.Fatalf("the Bench at first: %d brews", seen.Brews)
	}
	if looks(t, vega).Connected {
		t.Error("it connected before the screens had their turn")
	}
	start(t, vega, setup())
	if seen := looks(t, vega); seen.Connected || seen.Waiting == 0 {
		t.Errorf("what was written meanwhile: %+v", seen)
	}
	v.Advance(5000)
	if seen := looks(t, vega); !seen.Connected || seen.Mark != "shared" {
		t.Errorf("afterwards: %+v", seen)
	}
}

func TestANotebookOfYearsStartsWithoutANetwork(t *testing.T) {
	v, vega := manyBrews(t, 600)
	vega.Offline(true)
	vega.Start()
	v.Advance(60_000)
	if looks(t, vega).Connected {
		t.Error("it connected without a network")
	}
	vega.Offline(false)
	v.Advance(60_000)
	if !looks(t, vega).Connected {
		t.Error("it never connected")
	}
}

func TestAFewBrewsConnectAtOnce(t *testing.T) {
	_, vega := manyBrews(t, 5)
	vega.Start()
	if !looks(t, vega).Connected {
		t.Error("it waits")
	}
}
