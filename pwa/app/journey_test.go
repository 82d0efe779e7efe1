package app_test

import (
	"math/rand/v2"
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
	"hushcup/sync/relay/memstore"
)

const evening = int64(1_790_000_000_000)

func newVillage() *village.Village {
	return village.New(village.Config{Store: memstore.New(), Rand: rand.NewChaCha8([32]byte{7}), Now: evening})
}

func do[R any](t *testing.T, p *village.Phone, name string, args any) R {
	t.Helper()
	result, err := village.Do[R](p, name, args)
	if err != nil {
		t.Fatalf("%s: %v (field %q)", name, err, err.Field)
	}
	return result
}

func see[V any](t *testing.T, p *village.Phone, name string, params any) V {
	t.Helper()
	value, err := village.See[V](p, name, params)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return value
}

func TestANotebookExistsAtOnce(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	notebook := see[app.NotebookView](t, vega, app.ViewNotebook, app.Nothing{})
	if !notebook.Ready {
		t.Fatalf("no notebook: %+v", notebook)
	}
	do[app.Nothing](t, vega, app.CmdNotebookName, app.NotebookName{Name: "Vega"})
	vega.Start()
	if again := see[app.NotebookView](t, vega, app.ViewNotebook, app.Nothing{}); again.Name != "Vega" || again.Book != notebook.Book {
		t.Fatalf("after a restart: %+v", again)
	}
}

func TestPeopleJoinByALink(t *testing.T) {
	v := newVillage()
	vega, mira := v.Phone("vega"), v.Phone("mira")
	do[app.Nothing](t, vega, app.CmdNotebookName, app.NotebookName{Name: "Vega"})
	club := do[app.ClubCreated](t, vega, app.CmdClubCreate, app.ClubCreate{Name: "Observatory"}).Club
	invited := do[app.ClubInvited](t, vega, app.CmdClubInvite, app.ClubInvite{Club: club, Role: "taster", Uses: 3, Days: 7})
	v.Advance(5000)
	do[app.ClubJoining](t, mira, app.CmdClubJoin, app.ClubJoin{Link: invited.Link, Name: "Mira"})
	v.Advance(5000)
	for _, p := range []*village.Phone{vega, mira} {
		seen := see[app.ClubView](t, p, app.ViewClub, app.ClubParams{Club: club})
		if seen.Name != "Observatory" || len(seen.Members) != 2 || seen.Members[0].Name != "Vega" || seen.Members[1].Name != "Mira" {
			t.Fatalf("the club is %+v", seen)
		}
	}
}
