package app_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
)

func found(t *testing.T, p *village.Phone, s app.BrewSearch) (brews []string) {
	t.Helper()
	params := app.BrewsParams{Limit: 7, Search: s}
	for {
		page := see[app.BrewsView](t, p, app.ViewBrews, params)
		if !page.Ready {
			t.Fatalf("%+v is not ready", s)
		}
		for _, b := range page.Brews {
			brews = append(brews, b.Brew)
		}
		if page.More == "" {
			if page.Found != len(brews) {
				t.Fatalf("%+v finds %d, lists %d", s, page.Found, len(brews))
			}
			return brews
		}
		params.After = page.More
	}
}

// Accents, case and what parts words do not matter; a word is found by how it begins, in any script.
func TestWordsOfABrewAreFound(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	s := setup()
	s.Brewer, s.Coffee = "Cône, 60°", "Yirga Cheffe"
	b := start(t, vega, s)
	save(t, vega, b, app.BrewOutcome{Notes: "Crème brûlée; thé noir (un peu sec) 🍋 قهوة Süß\nŁódź"})
	other := start(t, vega, setup())
	save(t, vega, other, app.BrewOutcome{Notes: "bergamot"})
	v.Advance(10_000)
	for words, hits := range map[string]int{
		"brulee": 1, "BRÛL": 1, "the noir": 1, "noir the": 1, "قهو": 1, "🍋": 1, "suss": 1, "lodz": 1, "cone": 2, "cône 60": 2, "yirga sec": 1,
		"rulee": 0, "yirga bergamot": 0, "berg": 1, "  ": 2, "...": 2,
	} {
		if got := found(t, vega, app.BrewSearch{Words: words}); len(got) != hits {
			t.Errorf("%q finds %d, not %d", words, len(got), hits)
		}
	}
	edited := app.BrewOutcome{Notes: "jasmine"}
	do[app.Nothing](t, vega, app.CmdBrewEdit, app.BrewEdit{Book: b.Book, Brew: b.Brew, Outcome: &edited})
	v.Advance(10_000)
	if old, now := found(t, vega, app.BrewSearch{Words: "brulee"}), found(t, vega, app.BrewSearch{Words: "jasm"}); len(old) != 0 || len(now) != 1 {
		t.Errorf("after the notes changed the old words find %d, the new ones %d", len(old), len(now))
	}
	do[app.Nothing](t, vega, app.CmdBrewDiscard, app.BrewDiscard(b))
	v.Advance(10_000)
	vega.Start()
	if now := found(t, vega, app.BrewSearch{Words: "jasm"}); len(now) != 0 {
		t.Errorf("what was thrown away is found: %v", now)
	}
}

// The last word of the longest notes is found, too: an evening's talk fills a page, and Arabic takes two bytes a letter.
func TestTheEndOfLongNotesIsFound(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	b := start(t, vega, setup())
	save(t, vega, b, app.BrewOutcome{Notes: strings.Repeat("مُرّ then honey; ", 380) + "quince"})
	v.Advance(10_000)
	if got := found(t, vega, app.BrewSearch{Words: "quince"}); len(got) != 1 {
		t.Errorf("the last word finds %d", len(got))
	}
}

// What was noticed in a brew's cup finds it, also when the app was killed right after; what was noticed of a sample that is not
// brewed is no brew.
func TestABrewIsFoundByWhatWasNoticed(t *testing.T) {
	s := sitDown(t)
	s.notice(s.mira, "fragrance", "medlar")
	b := start(t, s.mira, setup())
	save(t, s.mira, b, app.BrewOutcome{})
	s.v.Advance(10_000)
	for word, killed := range map[string]bool{"quince": false, "damson": true} {
		do[app.Nothing](t, s.mira, app.CmdCupNotice, app.CupNotice{Book: b.Book, Brew: b.Brew, Stage: "hot", Words: []string{"tea", word}})
		if killed {
			s.mira.Offline(true)
			s.mira.Stop()
			s.mira.Start()
		}
		if got := found(t, s.mira, app.BrewSearch{Words: "tea " + word}); len(got) != 1 || got[0] != b.Brew {
			t.Errorf("killed %v: %q finds %v", killed, word, got)
		}
	}
	if got := found(t, s.mira, app.BrewSearch{Words: "medlar"}); len(got) != 0 {
		t.Errorf("a sample that is not brewed is found: %v", got)
	}
}

// A brew of a sample is found by how its code begins, and by its code among other words.
func TestABrewIsFoundByItsCode(t *testing.T) {
	s := sitDown(t)
	code := fmt.Sprint(s.firstCode)
	b := do[app.BrewStarted](t, s.mira, app.CmdBrewStart, app.BrewStart{Club: s.club, Sample: s.first, Setup: setup(), Run: true})
	save(t, s.mira, app.BrewParams(b), app.BrewOutcome{Notes: "plum"})
	save(t, s.mira, start(t, s.mira, setup()), app.BrewOutcome{Notes: "plum"})
	s.v.Advance(10_000)
	for words, hits := range map[string]int{code: 1, code[:2]: 1, "plum " + code: 1, "plum": 2, code + "0": 0, code[1:] + "9": 0} {
		if got := found(t, s.mira, app.BrewSearch{Words: words}); len(got) != hits || hits == 1 && got[0] != b.Brew {
			t.Errorf("%q finds %d, not %d", words, len(got), hits)
		}
	}
}

// A search finds what looking through all brews one by one finds, in the same order, also after a restart.
func TestASearchFindsWhatLookingThroughFinds(t *testing.T) {
	k := newKitchen(t, 1)
	random := rand.New(rand.NewPCG(5, 7))
	words := []string{"bergamot", "dry", "jasmine", "sweet"}
	for range 90 {
		s := k.setup
		if random.IntN(2) == 0 {
			s = k.other
		}
		if random.IntN(3) == 0 {
			s.BrewerID, s.Brewer, s.RecipeID, s.Geometry, s.Method = "", "the big pot", "", "", "steep"
		}
		if random.IntN(4) == 0 {
			s.Geometry, s.BrewerID, s.Brewer = "cupping-bowl", "", ""
		}
		if random.IntN(4) == 0 {
			s.GrinderID, s.Grinder = "", "ground in the shop"
		}
		o := app.BrewOutcome{Notes: words[random.IntN(4)] + ", " + words[random.IntN(4)]}
		if random.IntN(2) == 0 {
			o.Beverage, o.TDS = 200, 1.3
		}
		k.brew(s, nil, 150, o)
		k.v.Advance(int64(random.IntN(30)) * 3_600_000)
	}
	k.v.Advance(10_000)
	all := found(t, k.vega, app.BrewSearch{})
	if len(all) != 90 {
		t.Fatalf("%d brews", len(all))
	}
	book := see[app.BrewsView](t, k.vega, app.ViewBrews, app.BrewsParams{Limit: 1}).Brews[0].Book
	var brews []app.BrewView
	for _, brew := range all {
		brews = append(brews, k.see(app.BrewParams{Book: book, Brew: brew}))
	}
	middle := brews[45].Began
	searches := map[string]struct {
		search app.BrewSearch
		holds  func(app.BrewView) bool
	}{
		"words": {app.BrewSearch{Words: "Dry berg"}, func(b app.BrewView) bool {
			return strings.Contains(b.Outcome.Notes, "dry") && strings.Contains(b.Outcome.Notes, "berg")
		}},
		"coffee by id":   {app.BrewSearch{Coffee: k.other.CoffeeID}, func(b app.BrewView) bool { return b.Setup.Coffee == "a gift" }},
		"coffee by name": {app.BrewSearch{Coffee: "A Gift"}, func(b app.BrewView) bool { return b.Setup.Coffee == "a gift" }},
		"brewer by id":   {app.BrewSearch{Brewer: k.setup.BrewerID}, func(b app.BrewView) bool { return b.Setup.BrewerID == k.setup.BrewerID }},
		"brewer by name": {app.BrewSearch{Brewer: "The big  pot"}, func(b app.BrewView) bool { return b.Setup.Brewer == "the big pot" }},
		"grinder":        {app.BrewSearch{Grinder: k.grinder}, func(b app.BrewView) bool { return b.Setup.GrinderID == k.grinder }},
		"recipe":         {app.BrewSearch{Recipe: k.setup.RecipeID}, func(b app.BrewView) bool { return b.Setup.RecipeID == k.setup.RecipeID }},
		"from":           {app.BrewSearch{From: middle}, func(b app.BrewView) bool { return b.Began >= middle }},
		"until":          {app.BrewSearch{Until: middle}, func(b app.BrewView) bool { return b.Began < middle }},
		"bowls":          {app.BrewSearch{Bowls: true}, func(b app.BrewView) bool { return b.Setup.Method == "bowl" }},
		"measured": {app.BrewSearch{Measured: true, Words: "sweet"}, func(b app.BrewView) bool {
			return b.Outcome.TDS > 0 && strings.Contains(b.Outcome.Notes, "sweet")
		}},
		"nothing": {app.BrewSearch{Sample: strings.Repeat("0", 31) + "1"}, func(app.BrewView) bool { return false }},
	}
	for range 2 {
		for name, s := range searches {
			var want []string
			for _, b := range brews {
				if s.holds(b) {
					want = append(want, b.Brew)
				}
			}
			if name != "nothing" && (len(want) == 0 || len(want) == len(brews)) {
				t.Fatalf("%s tells nothing apart", name)
			}
			if got := found(t, k.vega, s.search); fmt.Sprint(got) != fmt.Sprint(want) {
				t.Errorf("%s finds %d, not %d", name, len(got), len(want))
			}
		}
		k.vega.Start()
	}
}

// Who pages through the log while it changes misses nothing that stays and sees nothing twice.
func TestPagesStayRightWhileTheLogChanges(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	brewMany(t, v, vega, 45)
	var seen []string
	params := app.BrewsParams{Limit: 10}
	for step := 0; ; step++ {
		page := see[app.BrewsView](t, vega, app.ViewBrews, params)
		for _, b := range page.Brews {
			seen = append(seen, b.Grind)
		}
		if page.More == "" {
			break
		}
		params.After = page.More
		switch step {
		case 0: // the last one that was seen is thrown away, and a new one is brewed
			last := page.Brews[9]
			do[app.Nothing](t, vega, app.CmdBrewDiscard, app.BrewDiscard{Book: last.Book, Brew: last.Brew})
			brewMany(t, v, vega, 1)
		case 1: // an old one gets notes
			old := see[app.BrewsView](t, vega, app.ViewBrews, app.BrewsParams{Limit: 1, Skip: 40}).Brews[0]
			do[app.Nothing](t, vega, app.CmdBrewEdit, app.BrewEdit{Book: old.Book, Brew: old.Brew, Outcome: &app.BrewOutcome{Notes: "late"}})
		case 2:
			vega.Start()
		}
	}
	for i, grind := range seen {
		if grind != fmt.Sprint(44-i) {
			t.Fatalf("place %d is %s: %v", i, grind, seen)
		}
	}
	if len(seen) != 45 {
		t.Errorf("%d brews are seen", len(seen))
	}
}

// What the log read ahead holds what was brewed while it read.
func TestReadingAheadMissesNothing(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	brewMany(t, v, vega, 150)
	vega.Start()
	first := vega.Begin(app.CmdBrewStart, app.BrewStart{Setup: setup()})
	log := vega.Watch(app.ViewBrews, app.BrewsParams{Limit: 200})
	second := vega.Begin(app.CmdBrewStart, app.BrewStart{Setup: setup()})
	v.Settle()
	for _, id := range []uint64{first, second} {
		if done, ok := vega.Done(id); !ok || done.Error != nil {
			t.Fatalf("not begun: %+v", done)
		}
	}
	if page, err := village.Seen[app.BrewsView](vega, log); err != nil || len(page.Brews) != 152 || page.Found != 152 {
		t.Errorf("the log has %d of %d: %v", len(page.Brews), page.Found, err)
	}
	if all := found(t, vega, app.BrewSearch{Words: "valley"}); len(all) != 152 {
		t.Errorf("the search finds %d", len(all))
	}
}
