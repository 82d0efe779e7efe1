package app_test

import (
	"bytes"
	"fmt"
	"reflect"
	"slices"
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
)

func tonight(t *testing.T, p *village.Phone) app.TonightView {
	t.Helper()
	return see[app.TonightView](t, p, app.ViewTonight, app.Nothing{})
}

func TestANewcomersFirstThings(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	if seen := tonight(t, vega); fmt.Sprint(seen.Firsts) != "[name club kitchen practice-cup]" || seen.Sample != nil {
		t.Fatalf("at first: %+v", seen)
	}
	do[app.Nothing](t, vega, app.CmdNotebookName, app.NotebookName{Name: "Vega"})
	do[app.ClubCreated](t, vega, app.CmdClubCreate, app.ClubCreate{Name: "Observatory"})
	save(t, vega, start(t, vega, setup()), app.BrewOutcome{})
	if seen := tonight(t, vega); fmt.Sprint(seen.Firsts) != "[recovery]" || seen.Clubs != 1 || seen.Brews != 1 {
		t.Fatalf("with a club and a cup: %+v", seen)
	}
}

func TestTheSampleOnTheTable(t *testing.T) {
	s := sitDown(t)
	seen := tonight(t, s.mira)
	if seen.Sample == nil || seen.Sample.Sample != s.first || seen.Sample.Next != "look" || seen.More != 1 || seen.Sample.Place != 1 || seen.Sample.Of != 2 {
		t.Fatalf("mira's table: %+v", seen.Sample)
	}
	if keeper := tonight(t, s.vega); keeper.Sample == nil || keeper.Sample.Sample != s.next || keeper.More != 0 {
		t.Fatalf("vega's table, who keeps the first: %+v", keeper.Sample)
	}
	do[app.Nothing](t, s.mira, app.CmdGuessSave, app.GuessSave{Club: s.club, Sample: s.first, First: true,
		Facets: []app.SaidFacet{says("process", "process/natural", 4000)}})
	b := do[app.BrewStarted](t, s.mira, app.CmdBrewStart, app.BrewStart{Club: s.club, Sample: s.first, Setup: setup(), Run: true})
	seen = tonight(t, s.mira)
	if seen.Sample.Next != "guess" || seen.Sample.Left != 25 || len(seen.Going) != 1 || seen.Going[0].Code != s.firstCode {
		t.Fatalf("while it brews: %+v, going %+v", seen.Sample, seen.Going)
	}
	save(t, s.mira, app.BrewParams(b), app.BrewOutcome{Notes: "plum"})
	s.guess(s.mira, s.first, says("process", "process/natural", 7000))
	s.v.Advance(3000)
	if seen = tonight(t, s.mira); seen.Sample.Sample != s.next {
		t.Fatalf("what is guessed still comes first: %+v", seen.Sample)
	}
	do[app.Nothing](t, s.vega, app.CmdSampleUnseal, app.SampleUnseal{Club: s.club, Samples: []string{s.first}, Close: true})
	s.v.Advance(3000)
	seen = tonight(t, s.mira)
	if len(seen.Opened) != 1 || seen.Opened[0].Sample != s.first || seen.Opened[0].Asks {
		t.Fatalf("what was opened: %+v", seen.Opened)
	}
	do[app.Nothing](t, s.mira, app.CmdSampleKeep, app.SampleKeep{Club: s.club, Sample: s.first})
	if seen = tonight(t, s.mira); len(seen.Opened) != 0 {
		t.Fatalf("what was looked at is shown again: %+v", seen.Opened)
	}
	result := s.result(s.altair, s.first)
	if result.State != "asks" {
		t.Fatalf("altair, who did not guess, sees %q", result.State)
	}
	result = s.result(s.mira, s.first)
	if result.First == nil || len(result.Brews) != 1 || result.Brews[0].Notes != "plum" || result.Brews[0].Name != "Mira" {
		t.Fatalf("mira's evening: first %+v, brews %+v", result.First, result.Brews)
	}
	practice := see[app.PracticeView](t, s.mira, app.ViewPractice, app.Nothing{})
	if practice.Scored != 1 || practice.Both != 1 || !practice.Private || practice.Results[0].Notes != "plum" || practice.Results[0].Opened < evening {
		t.Fatalf("what mira practised: %+v", practice)
	}
}

func TestABrewOfASampleIsReadByOthersOnlyAfterItsUnseal(t *testing.T) {
	s := sitDown(t)
	b := do[app.BrewStarted](t, s.mira, app.CmdBrewStart, app.BrewStart{Club: s.club, Sample: s.first, Setup: setup(), Run: true})
	save(t, s.mira, app.BrewParams(b), app.BrewOutcome{Notes: "rosehip"})
	s.v.Advance(5000)
	if r := s.result(s.vega, s.first); len(r.Brews) != 0 {
		t.Fatalf("the keeper reads %+v before the unseal", r.Brews)
	}
	if _, err := village.See[app.BrewView](s.altair, app.ViewBrew, app.BrewParams(b)); err == nil || err.Code != app.CodeUnknown {
		t.Fatalf("altair opens mira's brew: %v", err)
	}
	do[app.Nothing](t, s.vega, app.CmdSampleUnseal, app.SampleUnseal{Club: s.club, Samples: []string{s.first}, Close: true})
	s.v.Advance(5000)
	if r := s.result(s.vega, s.first); len(r.Brews) != 1 || r.Brews[0].Notes != "rosehip" {
		t.Fatalf("after the unseal the keeper reads %+v", r.Brews)
	}
}

func TestTheSyncMark(t *testing.T) {
	s := sitDown(t)
	mark := func() app.SyncView { return see[app.SyncView](t, s.mira, app.ViewSync, app.Nothing{}) }
	if m := mark(); m.Mark != "shared" || !m.Connected || m.Problem != "" {
		t.Fatalf("when all is shared: %+v", m)
	}
	s.mira.Offline(true)
	s.guess(s.mira, s.first, says("process", "process/natural", 7000))
	if m := mark(); m.Mark != "device" || m.Waiting == 0 || m.Problem != "offline" || m.Connected {
		t.Fatalf("offline: %+v", m)
	}
	do[app.Nothing](t, s.mira, app.CmdStorageReport, app.StorageReport{Persisted: true, Installed: true})
	if m := mark(); !m.Persisted || !m.Installed {
		t.Fatalf("what the page told: %+v", m)
	}
	s.mira.Offline(false)
	s.v.Advance(5000)
	if m := mark(); m.Mark != "shared" || m.Waiting != 0 {
		t.Fatalf("online again: %+v", m)
	}
}

func TestANarrowedFlightLeavesOutWhatCannotBe(t *testing.T) {
	s := sitDown(t)
	s.flight = do[app.FlightCreated](t, s.vega, app.CmdFlightCreate, app.FlightCreate{Club: s.club, Title: "one continent",
		Narrowing: []app.Narrowing{{Facet: "origin", Nodes: []string{"origin/africa"}}}}).Flight
	sample := do[app.SampleSealed](t, s.vega, app.CmdSampleSeal, s.sample(ethiopia())).Sample
	s.v.Advance(3000)
	guess := see[app.GuessView](t, s.mira, app.ViewGuess, app.GuessParams{Club: s.club, Sample: sample})
	for _, q := range guess.Questions {
		for _, n := range q.Nodes {
			if q.Facet == "origin" && n.Depth == 0 && n.Node != "origin/africa" {
				t.Errorf("%s is offered", n.Node)
			}
			if n.Node == "origin/africa" && n.Before != 10_000 {
				t.Errorf("africa is likely to %d before", n.Before)
			}
		}
	}
	refused[app.Nothing](t, s.mira, app.CmdGuessSave, app.GuessSave{Club: s.club, Sample: sample,
		Facets: []app.SaidFacet{says("origin", "origin/asia", 3000)}}, "excluded", "facets.0.said.0.share")
	flight := see[app.FlightView](t, s.mira, app.ViewFlight, app.FlightParams{Club: s.club, Flight: s.flight})
	if len(flight.Narrowing) != 1 || !slices.Equal(flight.Narrowing[0].Nodes, []string{"origin/africa"}) || !slices.Equal(flight.Questions, []string{"process", "origin", "decaf"}) {
		t.Errorf("the flight says %+v, asks %v", flight.Narrowing, flight.Questions)
	}
}

func TestWhatOneHoldsIsNotScored(t *testing.T) {
	s := sitDown(t)
	club := see[app.ClubView](t, s.vega, app.ViewClub, app.ClubParams{Club: s.club})
	var mira string
	for _, m := range club.Members {
		if m.Name == "Mira" {
			mira = m.Member
		}
	}
	args := s.sample(kenya())
	args.Holders = []string{mira}
	sample := do[app.SampleSealed](t, s.vega, app.CmdSampleSeal, args).Sample
	s.v.Advance(3000)
	seen := s.sees(s.mira, sample)
	if !seen.Guess.Holder || seen.Sealed == nil || seen.Next != "wait" || slices.Contains(seen.May, "guess") {
		t.Fatalf("mira, who holds it: %+v", seen)
	}
	refused[app.Nothing](t, s.mira, app.CmdGuessSave, app.GuessSave{Club: s.club, Sample: sample,
		Facets: []app.SaidFacet{says("process", "process/natural", 3000)}}, app.CodeNotAllowed, "")
	do[app.Nothing](t, s.vega, app.CmdFlightClose, app.FlightClose{Club: s.club, Flight: s.flight, Samples: []string{sample}})
	s.v.Advance(3000)
	do[app.Nothing](t, s.mira, app.CmdSampleUnseal, app.SampleUnseal{Club: s.club, Samples: []string{sample}})
	s.v.Advance(3000)
	if s.sees(s.lyra, sample).State != "unsealed" {
		t.Error("a holder cannot open it after the close")
	}
}

// What one's guesses came to is kept: a start shows the same without the bodies, and a record that is lost or damaged is made anew.
func TestWhatPracticeTaughtIsKept(t *testing.T) {
	s := sitDown(t)
	s.guess(s.mira, s.first, says("process", "process/natural", 7000))
	s.v.Advance(3000)
	do[app.Nothing](t, s.vega, app.CmdSampleUnseal, app.SampleUnseal{Club: s.club, Samples: []string{s.first}, Close: true})
	s.v.Advance(3000)
	look := func() app.PracticeView { return see[app.PracticeView](t, s.mira, app.ViewPractice, app.Nothing{}) }
	want := look()
	if want.Scored != 1 || want.Results[0].Score == nil || len(want.Results[0].Said) == 0 {
		t.Fatalf("what mira practised: %+v", want)
	}
	s.v.Advance(3000)
	const key = "cold/app/learned"
	records := s.mira.Disk.Records
	kept := records[key]
	if len(kept) == 0 {
		t.Fatal("nothing is kept")
	}
	for name, record := range map[string][]byte{"kept": kept, "lost": nil, "damaged": kept[:len(kept)/2]} {
		if delete(records, key); record != nil {
			records[key] = record
		}
		s.mira.Start()
		s.v.Advance(3000)
		if got := look(); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: practice shows %+v, not %+v", name, got, want)
		}
		s.v.Advance(3000)
		if again := records[key]; !bytes.Equal(again, kept) {
			t.Errorf("%s: then %d bytes are kept, not %d", name, len(again), len(kept))
		}
	}
}
