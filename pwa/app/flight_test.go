package app_test

import (
	"bytes"
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
	"hushcup/sync/codec"
)

// table is a club of several people with one open flight.
type table struct {
	*testing.T
	v                         *village.Village
	vega, mira, lyra, altair  *village.Phone
	club, flight, first, next string // two samples, sealed by Vega and by Lyra
	firstCode                 int
}

func (t *table) people() []*village.Phone { return []*village.Phone{t.vega, t.mira, t.lyra, t.altair} }

// sitDown founds the club, brings everybody in and seals two samples.
func sitDown(t *testing.T) *table {
	v := newVillage()
	s := &table{T: t, v: v, vega: v.Phone("vega"), mira: v.Phone("mira"), lyra: v.Phone("lyra"), altair: v.Phone("altair")}
	do[app.Nothing](t, s.vega, app.CmdNotebookName, app.NotebookName{Name: "Vega"})
	s.club = do[app.ClubCreated](t, s.vega, app.CmdClubCreate, app.ClubCreate{Name: "Observatory"}).Club
	link := do[app.ClubInvited](t, s.vega, app.CmdClubInvite, app.ClubInvite{Club: s.club, Role: "taster", Uses: 9, Days: 7}).Link
	v.Advance(1000)
	for name, p := range map[string]*village.Phone{"Mira": s.mira, "Lyra": s.lyra, "Altair": s.altair} {
		do[app.ClubJoining](t, p, app.CmdClubJoin, app.ClubJoin{Link: link, Name: name})
	}
	v.Advance(5000)
	s.flight = do[app.FlightCreated](t, s.vega, app.CmdFlightCreate, app.FlightCreate{
		Club: s.club, Title: "the valley flight", Questions: []string{"process", "origin", "decaf"},
	}).Flight
	v.Advance(1000)
	sealed := do[app.SampleSealed](t, s.vega, app.CmdSampleSeal, s.sample(ethiopia()))
	s.first, s.firstCode = sealed.Sample, sealed.Code
	v.Advance(1000)
	s.next = do[app.SampleSealed](t, s.lyra, app.CmdSampleSeal, s.sample(kenya())).Sample
	v.Advance(1000)
	return s
}

func (t *table) sample(answer app.Answer) app.SampleSeal {
	return app.SampleSeal{
		Club: t.club, Flight: t.flight, Grams: 40, Declared: app.Declared{Choice: "nothing"}, Answer: answer,
	}
}

func ethiopia() app.Answer {
	return app.Answer{
		Origin:  &app.Known{Nodes: []string{"origin/africa/ethiopia/guji"}, Source: "label"},
		Process: &app.Known{Nodes: []string{"process/natural"}, Source: "roaster"},
		Variety: &app.Known{Nodes: []string{"variety/arabica"}, Source: "hearsay"},
		Decaf:   &app.Known{Nodes: []string{"decaf/no"}, Source: "label"},
		AltLow:  1900, AltHigh: 2050, Lot: "first light",
	}
}

func kenya() app.Answer {
	return app.Answer{
		Origin:  &app.Known{Nodes: []string{"origin/africa/kenya"}, Source: "label"},
		Process: &app.Known{Nodes: []string{"process/washed"}, Source: "label"},
	}
}

func (t *table) guess(p *village.Phone, sample string, said ...app.SaidFacet) {
	t.Helper()
	do[app.Nothing](t.T, p, app.CmdGuessSave, app.GuessSave{Club: t.club, Sample: sample, Facets: said})
}

func says(facet string, node string, share int) app.SaidFacet {
	return app.SaidFacet{Facet: facet, Said: []app.Said{{Node: node, Share: share}}}
}

func (t *table) result(p *village.Phone, sample string) app.ResultView {
	t.Helper()
	return see[app.ResultView](t.T, p, app.ViewResult, app.SampleParams{Club: t.club, Sample: sample})
}

func (t *table) sees(p *village.Phone, sample string) app.SampleView {
	t.Helper()
	return see[app.SampleView](t.T, p, app.ViewSample, app.SampleParams{Club: t.club, Sample: sample})
}

func TestASealedFlightFromTheSealToTheScores(t *testing.T) {
	s := sitDown(t)
	seen := s.sees(s.mira, s.first)
	if seen.Code != s.firstCode || seen.Grams != 40 || seen.State != "open" || seen.Declared.Choice != "nothing" || !seen.DeclaredOK {
		t.Fatalf("mira sees %+v", seen)
	}
	if seen.Sealed != nil {
		t.Fatal("mira sees the answer of a sealed sample")
	}
	if mine := s.sees(s.vega, s.first); mine.Sealed == nil || mine.Sealed.Lot != "first light" || !mine.Guess.Holder {
		t.Fatalf("the keeper sees %+v", mine)
	}

	s.guess(s.mira, s.first, says("origin", "origin/africa/ethiopia", 6000), says("process", "process/natural", 7000))
	s.guess(s.altair, s.first, says("process", "process/washed", 9000))
	s.v.Advance(2000)
	if g := s.sees(s.mira, s.first).Guess; !g.Made || g.Share != "shared" || g.Timing != "in" {
		t.Fatalf("mira's guess is %+v", g)
	}
	flight := see[app.FlightView](t, s.vega, app.ViewFlight, app.FlightParams{Club: s.club, Flight: s.flight})
	if len(flight.Samples) != 2 || len(flight.Samples[0].Guessed) != 2 || flight.State != "open" || flight.Pinned != "yes" {
		t.Fatalf("the organiser sees %+v", flight)
	}

	do[app.Nothing](t, s.vega, app.CmdFlightClose, app.FlightClose{Club: s.club, Flight: s.flight, Samples: []string{s.first}})
	s.v.Advance(2000)
	s.guess(s.lyra, s.first, says("origin", "origin/africa/ethiopia", 9900))
	s.v.Advance(2000)
	if g := s.sees(s.lyra, s.first).Guess; g.Timing != "late" {
		t.Fatalf("lyra's guess after the close is %+v", g)
	}
	do[app.Nothing](t, s.vega, app.CmdSampleUnseal, app.SampleUnseal{Club: s.club, Samples: []string{s.first}})
	s.v.Advance(2000)

	mira := s.result(s.mira, s.first)
	if mira.State != "open" || mira.Answer == nil || mira.Mine == nil || !mira.Mine.Up || mira.Together == nil || len(mira.Lines) == 0 {
		t.Fatalf("mira's result is %+v", mira)
	}
	status := map[string]string{}
	for _, line := range mira.Table {
		status[line.Name] = line.Status
	}
	if status["Mira"] != "scored" || status["Altair"] != "scored" || status["Lyra"] != "late" || status["Vega"] != "holder" {
		t.Fatalf("the table is %+v", mira.Table)
	}
	if mira.Table[0].Name != "Mira" {
		t.Fatalf("the nearest is %+v", mira.Table[0])
	}
	altair := s.result(s.altair, s.first)
	if altair.Cost == nil || altair.Cost.Node != "process/washed" || altair.Cost.Share != 9000 || altair.Cost.Better >= 9000 || altair.Cost.Less.Bits <= altair.Cost.Cost.Bits {
		t.Fatalf("what cost altair most is %+v", altair.Cost)
	}
}

// everybody forgets what in a result is about oneself.
func everybody(v app.ResultView) app.ResultView {
	v.Mine, v.First, v.Lines, v.Cost = nil, nil, nil, nil
	table := append([]app.TableLine(nil), v.Table...)
	for i := range table {
		table[i].Me = false
	}
	v.Table = table
	return v
}

func TestEveryPhoneShowsTheSameResult(t *testing.T) {
	s := sitDown(t)
	s.guess(s.mira, s.first, says("origin", "origin/africa", 8000), says("process", "process/natural", 5500))
	s.guess(s.altair, s.first, says("origin", "origin/africa/kenya", 4000))
	s.guess(s.lyra, s.first, says("process", "process/natural", 9500), says("decaf", "decaf/no", 9900))
	s.v.Advance(2000)
	do[app.Nothing](t, s.vega, app.CmdSampleUnseal, app.SampleUnseal{Club: s.club, Samples: []string{s.first}, Close: true})
	s.v.Advance(3000)
	want := codec.MustMarshal(everybody(s.result(s.mira, s.first)))
	for _, p := range s.people() {
		if got := codec.MustMarshal(everybody(s.result(p, s.first))); !bytes.Equal(got, want) {
			t.Errorf("two phones show different results:\n%+v\n%+v", everybody(s.result(p, s.first)), everybody(s.result(s.mira, s.first)))
		}
		p.Start()
		s.v.Advance(1000)
		if got := codec.MustMarshal(everybody(s.result(p, s.first))); !bytes.Equal(got, want) {
			t.Error("a phone shows another result after a restart")
		}
	}
}

func TestWhoHasNotGuessedIsAsked(t *testing.T) {
	s := sitDown(t)
	do[app.Nothing](t, s.vega, app.CmdSampleUnseal, app.SampleUnseal{Club: s.club, Samples: []string{s.first}, Close: true})
	s.v.Advance(3000)
	if r := s.result(s.mira, s.first); r.State != "asks" || r.Answer != nil || len(r.Table) != 0 {
		t.Fatalf("shown to somebody who has not guessed: %+v", r)
	}
	if seen := s.sees(s.mira, s.first); !seen.Asks || seen.Next != "ask" || seen.Sealed != nil {
		t.Fatalf("the sitting is %+v", seen)
	}
	do[app.Nothing](t, s.mira, app.CmdSampleKeep, app.SampleKeep{Club: s.club, Sample: s.first, Keep: true})
	if r := s.result(s.mira, s.first); r.State != "kept" || r.Answer != nil {
		t.Fatalf("kept closed: %+v", r)
	}
	s.mira.Start()
	if r := s.result(s.mira, s.first); r.State != "kept" {
		t.Fatalf("kept closed, after a restart: %+v", r)
	}
	do[app.Nothing](t, s.mira, app.CmdSampleKeep, app.SampleKeep{Club: s.club, Sample: s.first})
	if r := s.result(s.mira, s.first); r.State != "open" || r.Answer == nil {
		t.Fatalf("looked at: %+v", r)
	}
}

func TestAFlightClosesAtItsTime(t *testing.T) {
	s := sitDown(t)
	do[app.Nothing](t, s.vega, app.CmdFlightClosing, app.FlightClosing{Club: s.club, Flight: s.flight, Closes: s.v.Now() + 60_000})
	s.v.Advance(2000)
	s.altair.Offline(true)
	s.guess(s.altair, s.next, says("origin", "origin/africa", 7000))
	if g := s.sees(s.altair, s.next).Guess; !g.Made || g.Share != "device" || g.Timing != "" {
		t.Fatalf("offline, the guess is %+v", g)
	}
	watch := s.mira.Watch(app.ViewSample, app.SampleParams{Club: s.club, Sample: s.next})
	s.guess(s.mira, s.next, says("origin", "origin/africa", 7000))
	s.v.Advance(70_000)
	if seen, _ := village.Seen[app.SampleView](s.mira, watch); seen.State != "closed" || seen.ClosedHow != "time" {
		t.Fatalf("a watched sample after its time: %+v", seen)
	}
	s.altair.Offline(false)
	s.v.Advance(40_000)
	if g := s.sees(s.altair, s.next).Guess; g.Share != "shared" || g.Timing != "late" {
		t.Fatalf("a guess that came after the time is %+v", g)
	}
	do[app.Nothing](t, s.lyra, app.CmdSampleUnseal, app.SampleUnseal{Club: s.club, Samples: []string{s.next}})
	s.v.Advance(3000)
	for _, line := range s.result(s.mira, s.next).Table {
		if want := map[string]string{"Mira": "scored", "Altair": "late", "Lyra": "holder", "Vega": "none"}[line.Name]; line.Status != want {
			t.Errorf("%s is %s, not %s", line.Name, line.Status, want)
		}
	}
}

func TestAnUnsealAfterAQuietCloseByTime(t *testing.T) {
	s := sitDown(t)
	s.guess(s.mira, s.next, says("origin", "origin/africa", 7000))
	do[app.Nothing](t, s.vega, app.CmdFlightClosing, app.FlightClosing{Club: s.club, Flight: s.flight, Closes: s.v.Now() + 60_000})
	s.v.Advance(70_000)
	do[app.Nothing](t, s.lyra, app.CmdSampleUnseal, app.SampleUnseal{Club: s.club, Samples: []string{s.next}})
	s.v.Advance(5000)
	if r := s.result(s.mira, s.next); r.State != "open" || r.ClosedHow != "time" {
		t.Fatalf("the result is %+v", r)
	}
}
