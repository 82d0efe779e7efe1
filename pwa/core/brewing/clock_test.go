package brewing

import (
	"testing"

	"pgregory.net/rapid"
)

const began Millis = 1_790_000_000_000

func TestClockThroughAnEvening(t *testing.T) {
	start := Instant{Wall: began, Mono: 500, Session: 1}
	for name, c := range map[string]struct {
		seen     []Instant
		elapsed  Millis
		doubtful bool
	}{
		"watched":                  {[]Instant{{began + 40_000, 40_500, 1}, {began + 180_000, 180_500, 1}}, 180_000, false},
		"the wall clock set back":  {[]Instant{{began - 3_600_000 + 60_000, 60_500, 1}}, 60_000, false},
		"set back for good":        {[]Instant{{began - 3_600_000 + 60_000, 60_500, 1}, {began - 3_600_000 + 90_000, 90_500, 1}}, 90_000, false},
		"set to another year":      {[]Instant{{began + 400*24*3_600_000, 30_500, 1}}, 30_000, false},
		"slept":                    {[]Instant{{began + 120_000, 45_500, 1}}, 120_000, true},
		"killed and reopened":      {[]Instant{{began + 30_000, 30_500, 1}, {began + 90_000, 12, 2}, {began + 100_000, 10_012, 2}}, 100_000, true},
		"rebooted, clock set back": {[]Instant{{began + 30_000, 30_500, 1}, {began - 1000, 7, 2}, {began + 9_000, 10_007, 2}}, 40_000, true},
		"reopened a month later":   {[]Instant{{began + 30_000, 30_500, 1}, {began + 30*24*3_600_000, 7, 2}}, 30_000, true},
		"overnight":                {[]Instant{{began + 12*3_600_000, 7, 2}}, 12 * 3_600_000, true},
	} {
		t.Run(name, func(t *testing.T) {
			clock := Start(start)
			for _, now := range c.seen {
				clock = clock.At(now)
			}
			if clock.Elapsed != c.elapsed || clock.Doubtful != c.doubtful {
				t.Errorf("%d ms, doubtful %v; want %d, %v", clock.Elapsed, clock.Doubtful, c.elapsed, c.doubtful)
			}
		})
	}
}

func TestClockNeverRunsBackwards(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		clock := Start(Instant{Wall: began, Session: 1})
		now := clock.Last
		for range rapid.IntRange(1, 30).Draw(t, "looks") {
			now.Wall += Millis(rapid.Int64Range(-1e12, 1e12).Draw(t, "wall"))
			if rapid.Bool().Draw(t, "new session") {
				now.Session, now.Mono = now.Session+1, 0
			} else {
				now.Mono += Millis(rapid.Int64Range(0, 1e7).Draw(t, "mono"))
			}
			next := clock.At(now)
			if next.Elapsed < clock.Elapsed {
				t.Fatalf("from %d to %d", clock.Elapsed, next.Elapsed)
			}
			clock = next
		}
	})
}

// TestLookingOftenChangesNothing: however often the screen looks, a watched
// brew has run as long as the steady clock says.
func TestLookingOftenChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		start := Instant{Wall: began, Mono: 77, Session: 3}
		clock, total := Start(start), Millis(0)
		for range rapid.IntRange(1, 50).Draw(t, "looks") {
			total += Millis(rapid.Int64Range(0, 60_000).Draw(t, "later"))
			drift := Millis(rapid.Int64Range(-900, 900).Draw(t, "the wall clock is a little off"))
			clock = clock.At(Instant{Wall: began + total + drift, Mono: 77 + total, Session: 3})
		}
		if clock.Elapsed != total || clock.Doubtful {
			t.Fatalf("%d, doubtful %v, want %d", clock.Elapsed, clock.Doubtful, total)
		}
	})
}

func TestOwnerPutsTheClockRight(t *testing.T) {
	clock := Start(Instant{Wall: began, Session: 1}).At(Instant{Wall: began + 600_000, Session: 2})
	if !clock.Doubtful {
		t.Fatal("an absence is not doubted")
	}
	clock = clock.Said(200_000).At(Instant{Wall: began + 605_000, Mono: 5_000, Session: 2})
	if clock.Elapsed != 205_000 || clock.Doubtful {
		t.Errorf("%d, doubtful %v", clock.Elapsed, clock.Doubtful)
	}
}

func TestFlowAndUndo(t *testing.T) {
	if flow, ok := (Pour{At: 10_000, Until: 20_000, To: 100}).Flow(40); !ok || flow != 6 {
		t.Errorf("flow %v", flow)
	}
	if _, ok := (Pour{At: 10_000, To: 100}).Flow(40); ok {
		t.Error("a flow without an end")
	}
	if !CanUndo(5_000, 15_000) || CanUndo(5_000, 15_001) {
		t.Error("ten seconds to take back")
	}
}
