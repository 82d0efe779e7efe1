package app_test

import (
	"slices"
	"strings"
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
)

// refused expects a refusal with a code, and the field that it names.
func refused[R any](t *testing.T, p *village.Phone, name string, args any, code, field string) {
	t.Helper()
	_, err := village.Do[R](p, name, args)
	if err == nil || err.Code != code || err.Field != field {
		t.Errorf("%s %+v: %+v, not %q of %q", name, args, err, code, field)
	}
}

const nobody = "00000000000000000000000000000000"

func TestRefusals(t *testing.T) {
	s := sitDown(t)
	club, flight := s.club, s.flight
	long := strings.Repeat("x", 100)
	refused[app.Nothing](t, s.vega, "no.such", app.Nothing{}, app.CodeUnknown, "")
	refused[app.Nothing](t, s.vega, app.CmdNotebookName, app.NotebookName{}, app.CodeRequired, "name")
	refused[app.Nothing](t, s.vega, app.CmdNotebookName, app.NotebookName{Name: long}, app.CodeTooLong, "name")
	refused[app.Nothing](t, s.vega, app.CmdSafetySeen, app.SafetySeen{Caution: "tea"}, app.CodeImpossible, "caution")
	refused[app.LinkMeaning](t, s.vega, app.CmdLinkRead, app.LinkRead{Text: "hello"}, "link-damaged", "text")
	refused[app.ClubCreated](t, s.vega, app.CmdClubCreate, app.ClubCreate{Name: " "}, app.CodeRequired, "name")
	refused[app.Nothing](t, s.vega, app.CmdClubRename, app.ClubRename{Club: "xx", Name: "a"}, app.CodeUnknown, "club")
	refused[app.Nothing](t, s.mira, app.CmdClubRename, app.ClubRename{Club: club, Name: "a"}, app.CodeNotAllowed, "")
	refused[app.ClubInvited](t, s.vega, app.CmdClubInvite, app.ClubInvite{Club: club, Role: "king", Uses: 1, Days: 1}, app.CodeImpossible, "role")
	refused[app.ClubInvited](t, s.vega, app.CmdClubInvite, app.ClubInvite{Club: club, Role: "taster", Uses: 0, Days: 1}, app.CodeImpossible, "uses")
	refused[app.ClubInvited](t, s.vega, app.CmdClubInvite, app.ClubInvite{Club: club, Role: "taster", Uses: 1, Days: 900}, app.CodeImpossible, "days")
	refused[app.ClubInvited](t, s.mira, app.CmdClubInvite, app.ClubInvite{Club: club, Role: "taster", Uses: 1, Days: 1}, app.CodeNotAllowed, "")
	refused[app.ClubJoining](t, s.mira, app.CmdClubJoin, app.ClubJoin{Link: "https://elsewhere.test/join#abc"}, app.CodeOtherHost, "link")
	refused[app.ClubJoining](t, s.mira, app.CmdClubJoin, app.ClubJoin{Link: "abc"}, "link-damaged", "link")
	refused[app.Nothing](t, s.vega, app.CmdClubRole, app.ClubRole{Club: club, Member: nobody, Role: "taster"}, app.CodeUnknown, "member")
	refused[app.Nothing](t, s.vega, app.CmdClubLeave, app.ClubLeave{Club: club}, "last-organiser", "")
	refused[app.FlightCreated](t, s.mira, app.CmdFlightCreate, app.FlightCreate{Club: club, Title: "x"}, app.CodeNotAllowed, "")
	refused[app.FlightCreated](t, s.vega, app.CmdFlightCreate, app.FlightCreate{Club: club}, app.CodeRequired, "title")
	refused[app.FlightCreated](t, s.vega, app.CmdFlightCreate, app.FlightCreate{Club: club, Title: "x", Closes: evening - 1}, app.CodeImpossible, "closes")
	refused[app.FlightCreated](t, s.vega, app.CmdFlightCreate, app.FlightCreate{Club: club, Title: "x", Questions: []string{"weather"}}, app.CodeImpossible, "questions.0")
	refused[app.FlightCreated](t, s.vega, app.CmdFlightCreate, app.FlightCreate{Club: club, Title: "x",
		Narrowing: []app.Narrowing{{Facet: "origin", Nodes: []string{"process/washed"}}}}, app.CodeUnknown, "narrowing.0.nodes")
	refused[app.FlightCreated](t, s.vega, app.CmdFlightCreate, app.FlightCreate{Club: club, Title: "x",
		Narrowing: []app.Narrowing{{Facet: "origin", Nodes: []string{"origin/africa"}}, {Facet: "origin", Nodes: []string{"origin/asia"}}}}, "nothing-left", "narrowing.1.nodes")
	refused[app.Nothing](t, s.mira, app.CmdFlightEdit, app.FlightEdit{Club: club, Flight: flight, Title: "x"}, app.CodeNotAllowed, "")
	refused[app.Nothing](t, s.mira, app.CmdFlightClose, app.FlightClose{Club: club, Flight: flight}, app.CodeNotAllowed, "")
	refused[app.Nothing](t, s.mira, app.CmdSampleUnseal, app.SampleUnseal{Club: club, Samples: []string{s.first}, Close: true}, app.CodeNotAllowed, "samples.0")
	refused[app.Nothing](t, s.vega, app.CmdSampleUnseal, app.SampleUnseal{Club: club, Samples: []string{s.first}}, app.CodeNotYet, "samples.0")
	refused[app.Nothing](t, s.vega, app.CmdSampleUnseal, app.SampleUnseal{Club: club}, app.CodeRequired, "samples")
	refused[app.Nothing](t, s.vega, app.CmdRefusedRetry, app.RefusedRetry{ID: "7"}, app.CodeUnknown, "id")
	refused[app.Nothing](t, s.vega, app.CmdRecoveryConfirm, app.RecoveryConfirm{Last: "x"}, app.CodeNotYet, "")
	refused[app.ClubJoining](t, s.vega, app.CmdRecover, app.Recover{Code: "AAAAA-BBBBB"}, "code-length", "code")
}

func TestRefusalsOfASample(t *testing.T) {
	s := sitDown(t)
	for _, c := range []struct {
		change      func(*app.SampleSeal)
		code, field string
	}{
		{func(a *app.SampleSeal) { a.Flight = nobody }, app.CodeUnknown, "flight"},
		{func(a *app.SampleSeal) { a.Grams = 0 }, app.CodeImpossible, "grams"},
		{func(a *app.SampleSeal) { a.Grams = 4 }, app.CodeSurprising, "grams"},
		{func(a *app.SampleSeal) { a.Declared = app.Declared{} }, app.CodeRequired, "declared.choice"},
		{func(a *app.SampleSeal) { a.Declared = app.Declared{Choice: "something"} }, app.CodeRequired, "declared.additives"},
		{func(a *app.SampleSeal) { a.Declared = app.Declared{Choice: "nothing", Allergens: []string{"milk"}} }, app.CodeImpossible, "declared.choice"},
		{func(a *app.SampleSeal) { a.Declared = app.Declared{Choice: "something", Allergens: []string{"dust"}} }, app.CodeImpossible, "declared.allergens"},
		{func(a *app.SampleSeal) { a.Answer = app.Answer{} }, app.CodeRequired, "answer"},
		{func(a *app.SampleSeal) { a.Answer.Origin.Nodes = []string{"origin/moon"} }, app.CodeUnknown, "answer.origin"},
		{func(a *app.SampleSeal) { a.Answer.Origin.Nodes = []string{"origin"} }, app.CodeUnknown, "answer.origin"},
		{func(a *app.SampleSeal) { a.Answer.Process.Source = "dream" }, app.CodeImpossible, "answer.process.source"},
		{func(a *app.SampleSeal) { a.Answer.AltLow, a.Answer.AltHigh = 1800, 1200 }, app.CodeImpossible, "answer.altitudeHigh"},
		{func(a *app.SampleSeal) { a.Holders = []string{nobody} }, app.CodeUnknown, "holders.0"},
	} {
		args := s.sample(ethiopia())
		c.change(&args)
		refused[app.SampleSealed](t, s.vega, app.CmdSampleSeal, args, c.code, c.field)
	}
}

func TestRefusalsOfAGuess(t *testing.T) {
	s := sitDown(t)
	guess := func(facets ...app.SaidFacet) app.GuessSave {
		return app.GuessSave{Club: s.club, Sample: s.first, Facets: facets}
	}
	refused[app.Nothing](t, s.vega, app.CmdGuessSave, guess(says("process", "process/washed", 5000)), app.CodeNotAllowed, "")
	refused[app.Nothing](t, s.mira, app.CmdGuessSave, guess(), app.CodeRequired, "facets")
	refused[app.Nothing](t, s.mira, app.CmdGuessSave, guess(says("origin", "process/washed", 5000)), app.CodeUnknown, "facets.0.said.0.node")
	refused[app.Nothing](t, s.mira, app.CmdGuessSave, guess(says("process", "process/washed", 12_000)), "share-range", "facets.0.said.0.share")
	refused[app.Nothing](t, s.mira, app.CmdGuessSave, guess(app.SaidFacet{Facet: "process", Said: []app.Said{
		{Node: "process/washed", Share: 7000}, {Node: "process/natural", Share: 7000}}}), "over-whole", "facets.0")
	first := guess(says("process", "process/natural", 4000))
	first.First = true
	do[app.Nothing](t, s.mira, app.CmdGuessSave, first)
	refused[app.Nothing](t, s.mira, app.CmdGuessSave, first, app.CodeAlready, "")
	s.v.Advance(2000)
	refused[app.Nothing](t, s.mira, app.CmdGuessSave, first, app.CodeAlready, "")
	if seen := s.sees(s.mira, s.first); !seen.Guess.First || seen.Guess.Made || seen.Next != "brew" {
		t.Errorf("after the first guess: %+v, next %q", seen.Guess, seen.Next)
	}
}

func TestAPreviewFollowsTheThumb(t *testing.T) {
	s := sitDown(t)
	ask := app.GuessPreview{Club: s.club, Sample: s.first, Facets: []app.SaidFacet{says("origin", "origin/africa/ethiopia", 8000)}}
	preview := do[app.GuessView](t, s.mira, app.CmdGuessPreview, ask)
	node := func(v app.GuessView, facet, id string) app.GuessNode {
		for _, q := range v.Questions {
			for _, n := range q.Nodes {
				if q.Facet == facet && n.Node == id {
					return n
				}
			}
		}
		t.Fatalf("no node %s", id)
		return app.GuessNode{}
	}
	if n := node(preview, "origin", "origin/africa/ethiopia"); n.Think != 8000 || n.Said != 8000 || n.Before >= 8000 {
		t.Errorf("ethiopia is %+v", n)
	}
	if n := node(preview, "variety", "variety/arabica/landrace"); n.Think <= n.Before {
		t.Errorf("the varieties do not follow: %+v", n)
	}
	if preview.Questions[0].Facet != "process" || !preview.Questions[0].Asked || preview.Questions[1].Preview == nil || !preview.Questions[1].Preview.Hit.Up {
		t.Errorf("the questions are %+v", preview.Questions[1].Preview)
	}
	if kept := see[app.GuessView](t, s.mira, app.ViewGuess, app.GuessParams{Club: s.club, Sample: s.first}); len(kept.Facets) != 0 || kept.Guess.Made {
		t.Errorf("a preview is kept: %+v", kept.Facets)
	}
}

func TestASecondDeviceAndALostPhone(t *testing.T) {
	s := sitDown(t)
	do[app.Nothing](t, s.mira, app.CmdDeviceName, app.DeviceName{Name: "phone"})
	made := do[app.RecoveryMade](t, s.mira, app.CmdRecoveryMake, app.Nothing{})
	refused[app.Nothing](t, s.mira, app.CmdRecoveryConfirm, app.RecoveryConfirm{Last: "00000"}, "code-damaged", "last")
	do[app.Nothing](t, s.mira, app.CmdRecoveryConfirm, app.RecoveryConfirm{Last: strings.ToLower(made.Code[len(made.Code)-5:])})
	s.v.Advance(3000)
	if seen := see[app.DevicesView](t, s.mira, app.ViewDevices, app.Nothing{}); !seen.Recovery.Made || !seen.Recovery.Confirmed {
		t.Fatalf("the recovery code is %+v", seen.Recovery)
	}

	pairing := do[app.DevicePairing](t, s.mira, app.CmdDevicePair, app.DevicePair{})
	tablet := s.v.Phone("mira's tablet")
	if m := do[app.LinkMeaning](t, tablet, app.CmdLinkRead, app.LinkRead{Text: pairing.Text}); m.Purpose != "device" {
		t.Fatalf("the pairing is for %+v", m)
	}
	s.v.Advance(2000)
	do[app.ClubJoining](t, tablet, app.CmdClubJoin, app.ClubJoin{Link: pairing.Link})
	s.v.Advance(30_000)
	s.guess(tablet, s.first, says("process", "process/natural", 7000))
	s.v.Advance(3000)
	if g := s.sees(s.mira, s.first).Guess; !g.Made || g.Timing != "in" {
		t.Fatalf("the phone sees the tablet's guess as %+v", g)
	}
	if seen := see[app.DevicesView](t, s.mira, app.ViewDevices, app.Nothing{}); len(seen.Devices) != 2 || !seen.Devices[0].This || seen.Devices[0].Name != "phone" || seen.Pairing != nil {
		t.Fatalf("the devices are %+v, pairing %+v", seen.Devices, seen.Pairing)
	}

	s.mira.Offline(true) // and is never seen again
	fresh := s.v.Phone("mira's new phone")
	do[app.ClubJoining](t, fresh, app.CmdRecover, app.Recover{Code: made.Code})
	s.v.Advance(60_000)
	if notebook := see[app.NotebookView](t, fresh, app.ViewNotebook, app.Nothing{}); notebook.Name != "Mira" {
		t.Fatalf("the recovered notebook is %+v", notebook)
	}
	kept := see[app.GuessView](t, fresh, app.ViewGuess, app.GuessParams{Club: s.club, Sample: s.first})
	if len(kept.Facets) != 1 || kept.Facets[0].Said[0].Share != 7000 {
		t.Fatalf("the recovered guess is %+v", kept.Facets)
	}
	var lost string
	for _, d := range see[app.DevicesView](t, fresh, app.ViewDevices, app.Nothing{}).Devices {
		if d.Name == "phone" {
			lost = d.Device
		}
	}
	do[app.Nothing](t, fresh, app.CmdDeviceRemove, app.DeviceRemove{Device: lost})
	s.v.Advance(10_000)
	if seen := see[app.DevicesView](t, fresh, app.ViewDevices, app.Nothing{}); len(seen.Devices) != 2 {
		t.Fatalf("after the lost phone was removed: %+v", seen.Devices)
	}
}

func TestMembersComeAndGo(t *testing.T) {
	s := sitDown(t)
	view := func(p *village.Phone) app.ClubView {
		return see[app.ClubView](t, p, app.ViewClub, app.ClubParams{Club: s.club})
	}
	named := func(name string) string {
		for _, m := range view(s.vega).Members {
			if m.Name == name {
				return m.Member
			}
		}
		return nobody
	}
	do[app.Nothing](t, s.vega, app.CmdClubRole, app.ClubRole{Club: s.club, Member: named("Mira"), Role: "organiser"})
	s.v.Advance(2000)
	if v := view(s.mira); v.Role != "organiser" || !slices.Contains(v.May, "invite") || !slices.Contains(v.May, "leave") {
		t.Fatalf("mira is %s and may %v", v.Role, v.May)
	}
	do[app.Nothing](t, s.mira, app.CmdClubRemove, app.ClubRemove{Club: s.club, Member: named("Altair")})
	s.v.Advance(5000)
	if v := view(s.altair); v.Status != "removed" || len(v.May) != 0 {
		t.Fatalf("altair is %s and may %v", v.Status, v.May)
	}
	if r := s.result(s.altair, s.first); r.State != "away" || r.Standing != "removed" {
		t.Fatalf("who was taken out sees of a sealed sample: %+v", r)
	}
	if r := s.result(s.lyra, s.first); r.State != "sealed" || r.Standing != "in" {
		t.Fatalf("who is in sees of a sealed sample: %+v", r)
	}
	refused[app.Nothing](t, s.altair, app.CmdGuessSave, app.GuessSave{Club: s.club, Sample: s.first,
		Facets: []app.SaidFacet{says("process", "process/natural", 5000)}}, app.CodeNotAllowed, "")
	do[app.Nothing](t, s.lyra, app.CmdClubLeave, app.ClubLeave{Club: s.club})
	s.v.Advance(5000)
	if v := view(s.lyra); v.Status != "out" {
		t.Fatalf("who left is %s", v.Status)
	}
	gone := 0
	for _, m := range view(s.vega).Members {
		if m.Gone {
			gone++
		}
		if m.Removed != (m.Name == "Altair") {
			t.Errorf("%s was taken out: %v", m.Name, m.Removed)
		}
	}
	if gone != 2 {
		t.Fatalf("%d have gone: %+v", gone, view(s.vega).Members)
	}
	do[app.Nothing](t, s.vega, app.CmdNotebookName, app.NotebookName{Name: "Vega of the dome"})
	s.v.Advance(5000)
	if v := view(s.mira); v.Members[0].Name != "Vega of the dome" {
		t.Fatalf("vega is called %q", v.Members[0].Name)
	}
}

func TestAnInvitationIsShownAgainAndRevoked(t *testing.T) {
	s := sitDown(t)
	made := do[app.ClubInvited](t, s.vega, app.CmdClubInvite, app.ClubInvite{Club: s.club, Role: "taster", Uses: 1, Days: 1})
	s.v.Advance(2000)
	s.vega.Start()
	s.v.Advance(1000)
	lines := see[app.ClubView](t, s.vega, app.ViewClub, app.ClubParams{Club: s.club}).Invites
	if len(lines) != 2 || lines[0].Link != made.Link || lines[0].Text != made.Text || !lines[0].Open || lines[0].Share != "shared" {
		t.Fatalf("the invitations are %+v", lines)
	}
	do[app.Nothing](t, s.vega, app.CmdClubRevoke, app.ClubRevoke{Club: s.club, Invite: made.Invite})
	s.v.Advance(2000)
	if lines := see[app.ClubView](t, s.vega, app.ViewClub, app.ClubParams{Club: s.club}).Invites; lines[0].Open {
		t.Fatalf("revoked, it is %+v", lines[0])
	}
	deneb := s.v.Phone("deneb")
	do[app.ClubJoining](t, deneb, app.CmdClubJoin, app.ClubJoin{Link: made.Link, Name: "Deneb"})
	s.v.Advance(10_000)
	if v := see[app.ClubsView](t, deneb, app.ViewClubs, app.Nothing{}); len(v.Joining) != 1 || v.Joining[0].State != "failed" || v.Joining[0].Code == "" {
		t.Fatalf("by a revoked link: %+v", v)
	}
}
