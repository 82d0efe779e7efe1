package app_test

import (
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
)

// startedPhone was started with three brews in its notebook, without a network.
type startedPhone struct {
	*village.Phone
	v    *village.Village
	last app.BrewParams
}

func threeBrews(t *testing.T) *startedPhone {
	s := &startedPhone{v: newVillage()}
	s.Phone = s.v.Phone("vega")
	for range 3 {
		s.last = start(t, s.Phone, setup())
		save(t, s.Phone, s.last, app.BrewOutcome{Notes: "as always"})
		s.v.Advance(3_600_000)
	}
	s.Offline(true)
	s.Start()
	return s
}

func (s *startedPhone) discard(t *testing.T) {
	t.Helper()
	do[app.Nothing](t, s.Phone, app.CmdBrewDiscard, app.BrewDiscard(s.last))
}

func (s *startedPhone) log(t *testing.T, want int) {
	t.Helper()
	if seen := see[app.BrewsView](t, s.Phone, app.ViewBrews, app.BrewsParams{Limit: 10}); seen.All != want || len(seen.Brews) != want {
		t.Errorf("the log: %+v", seen)
	}
}

// A start shows the Bench as it was before it looks through all brews, whatever is done first.
func TestTheBenchIsWholeBeforeAllBrewsAreLookedThrough(t *testing.T) {
	brews := func(p app.BenchView) int { return p.Brews }
	for name, first := range map[string]func(t *testing.T, s *startedPhone) (want int){
		"nothing":    func(*testing.T, *startedPhone) int { return 3 },
		"one more":   func(t *testing.T, s *startedPhone) int { start(t, s.Phone, setup()); return 4 },
		"one less":   func(t *testing.T, s *startedPhone) int { s.discard(t); return 2 },
		"the log":    func(t *testing.T, s *startedPhone) int { s.log(t, 3); return 3 },
		"it goes by": func(t *testing.T, s *startedPhone) int { s.v.Advance(1000); return 3 },
	} {
		t.Run(name, func(t *testing.T) {
			s := threeBrews(t)
			if seen := see[app.BenchView](t, s.Phone, app.ViewBench, app.Nothing{}); brews(seen) != 3 || len(seen.Recent) != 3 {
				t.Fatalf("at first: %+v", seen)
			}
			want := first(t, s)
			if seen := see[app.BenchView](t, s.Phone, app.ViewBench, app.Nothing{}); brews(seen) != want || len(seen.Recent) != want {
				t.Errorf("then: %+v", seen)
			}
			s.v.Advance(5000)
			s.log(t, want)
			s.Start()
			s.v.Advance(1) // what is newer than the last digest is looked through before a screen has its first value
			if seen := see[app.BenchView](t, s.Phone, app.ViewBench, app.Nothing{}); brews(seen) != want || len(seen.Recent) != want {
				t.Errorf("after the next start: %+v", seen)
			}
		})
	}
}

// A crash right after a brew was changed loses its digest, and the next start makes it again.
func TestADigestThatACrashTookIsMadeAgain(t *testing.T) {
	for name, online := range map[string]bool{"offline": false, "online": true} {
		t.Run(name, func(t *testing.T) {
			s := threeBrews(t)
			s.Offline(!online)
			s.v.Advance(5000)
			s.discard(t)
			fresh := start(t, s.Phone, setup())
			s.Start() // nothing of the two was digested on the disk
			if seen, err := village.See[app.TonightView](s.Phone, app.ViewTonight, app.Nothing{}); err == nil && len(seen.Going) != 1 {
				t.Errorf("at first: %+v", seen.Going)
			}
			if seen, err := village.See[app.BenchView](s.Phone, app.ViewBench, app.Nothing{}); err == nil && len(seen.Going) != 1 {
				t.Errorf("at first: %+v", seen.Going)
			}
			s.v.Advance(1)
			seen := see[app.BenchView](t, s.Phone, app.ViewBench, app.Nothing{})
			if seen.Brews != 3 || len(seen.Recent) != 3 || len(seen.Going) != 1 || seen.Going[0].Brew != fresh.Brew {
				t.Errorf("after the crash: %+v", seen)
			}
			s.log(t, 3)
			if is := see[app.BenchView](t, s.Phone, app.ViewBench, app.Nothing{}).Recent[0]; is.Brew != fresh.Brew || is.State != "going" {
				t.Errorf("the newest: %+v", is)
			}
		})
	}
}
