package demo

import (
	"context"
	"crypto/rand"
	"strings"
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
	"hushcup/sync/relay/memstore"
)

const now = int64(1_790_000_000_000)

func TestEveryLinkOpensTheClubAsItsPerson(t *testing.T) {
	store := memstore.New()
	people, err := Make(context.Background(), Config{Store: store, Origin: "https://hushcup.test", Now: now, Rand: rand.Reader})
	if err != nil {
		t.Fatal(err)
	}
	if len(people) != len(cast) {
		t.Fatalf("%d people", len(people))
	}
	v := village.New(village.Config{Store: store, Rand: rand.Reader, Now: now})
	for _, person := range people {
		if !strings.HasPrefix(person.Link, "https://hushcup.test/recover#") {
			t.Errorf("a link is %q", person.Link)
		}
		phone := v.Phone("the phone of " + person.Name)
		if _, err := village.Do[app.ClubJoining](phone, app.CmdRecover, app.Recover{Code: person.Link}); err != nil {
			t.Fatal(err)
		}
		v.Advance(30_000)
		opened(t, phone, person.Name)
		switch person.Name {
		case "Vega":
			vegaLearns(t, phone)
		case "Lyra":
			lyraIsToldToBrewMore(t, phone)
		}
	}
}

func opened(t *testing.T, phone *village.Phone, name string) {
	t.Helper()
	notebook, _ := village.See[app.NotebookView](phone, app.ViewNotebook, app.Nothing{})
	if notebook.Name != name {
		t.Fatalf("the notebook of %s is %+v", name, notebook)
	}
	clubs, _ := village.See[app.ClubsView](phone, app.ViewClubs, app.Nothing{})
	if len(clubs.Clubs) != 1 || clubs.Clubs[0].Members != len(cast) {
		t.Fatalf("%s sees the clubs %+v", name, clubs)
	}
	club, _ := village.See[app.ClubView](phone, app.ViewClub, app.ClubParams{Club: clubs.Clubs[0].Club})
	if len(club.Flights) != len(evenings)+1 || club.Flights[0].State != "open" {
		t.Fatalf("%s sees the flights %+v", name, club.Flights)
	}
	for _, f := range club.Flights[1:] {
		if f.State != "opened" {
			t.Errorf("%s sees %q %s", name, f.Title, f.State)
		}
		flight, _ := village.See[app.FlightView](phone, app.ViewFlight, app.FlightParams{Club: club.Club, Flight: f.Flight})
		for _, s := range flight.Samples {
			result, err := village.See[app.ResultView](phone, app.ViewResult, app.SampleParams{Club: club.Club, Sample: s.Sample})
			if err != nil || result.State != "open" && result.State != "asks" {
				t.Errorf("%s sees sample %d of %q: %q, %v", name, s.Code, f.Title, result.State, err)
			}
			if result.State == "open" && (result.Together == nil || len(result.Brews) == 0 || len(result.Table) != len(cast)) {
				t.Errorf("%s sees no evening behind sample %d: %+v", name, s.Code, result)
			}
		}
	}
	practice, _ := village.See[app.PracticeView](phone, app.ViewPractice, app.Nothing{})
	if practice.Scored < 4 || practice.Pending != 0 {
		t.Errorf("%s has practised on %d, %d pending", name, practice.Scored, practice.Pending)
	}
	if name == "Altair" && (practice.Pair == nil || practice.Pair.WasName != "Kenya" || practice.Pair.SaidName != "Ethiopia") {
		t.Errorf("altair does not see what he takes Kenya for: %+v", practice.Pair)
	}
	tonight, _ := village.See[app.TonightView](phone, app.ViewTonight, app.Nothing{})
	if tonight.Sample == nil {
		t.Errorf("nothing is on %s's table", name)
	}
	if bench, _ := village.See[app.BenchView](phone, app.ViewBench, app.Nothing{}); bench.Brews < 4 || bench.Last.Dose == 0 {
		t.Errorf("%s's bench: %d brews", name, bench.Brews)
	}
}
