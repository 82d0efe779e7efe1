package app_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
	"hushcup/sync/oplog"
	"hushcup/sync/relay"
	"hushcup/sync/relay/memstore"
)

func TestAClockThatIsFarOffIsSaidAndHoldsNothingUp(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	vega.Skew = 90 * 24 * 3600 * 1000
	do[app.Nothing](t, vega, app.CmdNotebookName, app.NotebookName{Name: "Vega"})
	v.Advance(120_000)
	mark := see[app.SyncView](t, vega, app.ViewSync, app.Nothing{})
	if mark.Problem != "clock" || mark.Mark != "shared" || mark.Waiting != 0 {
		t.Errorf("a clock three months ahead shows as %+v", mark)
	}
	vega.Skew = 0
	vega.Offline(true)
	vega.Offline(false)
	v.Advance(120_000)
	if mark := see[app.SyncView](t, vega, app.ViewSync, app.Nothing{}); mark.Problem != "" {
		t.Errorf("a clock that is right again shows as %+v", mark)
	}
}

// halting is a store that, for a while, says what there is and cannot read it.
type halting struct {
	relay.Store
	halted bool
}

func (h *halting) Read(ctx context.Context, book oplog.BookID, after uint64, limit relay.Limit) ([]oplog.Placed, error) {
	if h.halted {
		return nil, fmt.Errorf("for a while: %w", relay.ErrDown)
	}
	return h.Store.Read(ctx, book, after, limit)
}

// A phone that comes back by its code while the server is away, and then halts, says at each step why nothing goes out; what
// was kept on it meanwhile goes out by itself.
func TestARecoveryWhileTheServerIsAway(t *testing.T) {
	store := &halting{Store: memstore.New()}
	v := village.New(village.Config{Store: store, Rand: rand.NewChaCha8([32]byte{9}), Now: evening})
	old := v.Phone("mira's phone")
	do[app.Nothing](t, old, app.CmdNotebookName, app.NotebookName{Name: "Mira"})
	code := do[app.RecoveryMade](t, old, app.CmdRecoveryMake, app.Nothing{}).Code
	v.Advance(3000)
	old.Stop()

	found := v.Phone("mira's new phone")
	v.Advance(3000) // it has a notebook of its own, as any new one has
	found.Offline(true)
	do[app.ClubJoining](t, found, app.CmdRecover, app.Recover{Code: code})
	do[app.Nothing](t, found, app.CmdDeviceName, app.DeviceName{Name: "the new one"})
	start(t, found, setup())
	shows := func(problem, mark string, waiting bool) {
		t.Helper()
		s := see[app.SyncView](t, found, app.ViewSync, app.Nothing{})
		if s.Problem != problem || s.Mark != mark || s.Waiting+s.OnItsWay > 0 != waiting {
			t.Errorf("it shows %+v, want %q and %q", s, problem, mark)
		}
	}
	v.Advance(30_000)
	shows("offline", "device", true)
	store.halted = true
	found.Offline(false)
	v.Advance(30_000)
	shows("recovering", "waiting", true)
	found.Start()
	v.Advance(30_000)
	shows("recovering", "waiting", true)
	store.halted = false
	v.Advance(120_000)
	shows("", "shared", false)
	if n := see[app.NotebookView](t, found, app.ViewNotebook, app.Nothing{}); n.Name != "Mira" {
		t.Errorf("the notebook that came back is %+v", n)
	}
	for range 2 { // a brew of the phone's former notebook is one brew, after a restart, too
		if b := see[app.BenchView](t, found, app.ViewBench, app.Nothing{}); len(b.Recent) != 1 || len(b.Going) != 1 || b.Brews != 1 {
			t.Errorf("the brew that was begun meanwhile shows as %+v, going %+v, of %d", b.Recent, b.Going, b.Brews)
		}
		found.Start()
		v.Advance(5000)
	}
	for _, d := range see[app.DevicesView](t, found, app.ViewDevices, app.Nothing{}).Devices {
		if d.This && d.Name != "the new one" {
			t.Errorf("what was written meanwhile is %+v", d)
		}
	}
}
