package app_test

import (
	"maps"
	"reflect"
	"strings"
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
)

const indexKeys = "cold/app/brews/"

// logbook is a phone whose brews the server has ordered: a start looks none of them up again.
type logbook struct {
	t     *testing.T
	v     *village.Village
	vega  *village.Phone
	brews []app.BrewParams // oldest first
}

func newLogbook(t *testing.T, count int) *logbook {
	b := &logbook{t: t, v: newVillage()}
	b.vega = b.v.Phone("vega")
	for range count {
		made := start(t, b.vega, setup())
		b.save(made, "bergamot, as always")
		b.brews = append(b.brews, made)
		b.v.Advance(36 * 3_600_000)
	}
	b.rest()
	return b
}

func (b *logbook) save(brew app.BrewParams, notes string) {
	do[app.Nothing](b.t, b.vega, app.CmdBrewSave, app.BrewSave{Book: brew.Book, Brew: brew.Brew, Outcome: app.BrewOutcome{Notes: notes}, Sure: sure})
}

// rest is long enough for everything to be read, written and packed.
func (b *logbook) rest() { b.v.Advance(120_000) }

func (b *logbook) list(words string) []app.BrewDigest {
	seen := see[app.BrewsView](b.t, b.vega, app.ViewBrews, app.BrewsParams{Limit: 200, Search: app.BrewSearch{Words: words}})
	if !seen.Ready || seen.All != len(b.brews) {
		b.t.Fatalf("%d of %d brews are there, ready: %v", seen.All, len(b.brews), seen.Ready)
	}
	return seen.Brews
}

func (b *logbook) records() (packed, single int) {
	for key := range b.vega.Disk.Records {
		if strings.HasPrefix(key, indexKeys) {
			if strings.HasSuffix(key, "packed") {
				packed++
			} else {
				single++
			}
		}
	}
	return packed, single
}

// What the disk holds of the log is as good as what is made anew from the brews: after packing, after an edit and a removal in months
// that are packed, and when the power goes right after them.
func TestTheLogOnTheDiskIsTheLog(t *testing.T) {
	b := newLogbook(t, 70)
	packed, single := b.records()
	if packed < 3 || single >= 70 {
		t.Fatalf("%d months are packed, %d brews stand alone", packed, single)
	}
	old, gone := b.brews[3], b.brews[5]
	edited := app.BrewOutcome{Notes: "plum, at last"}
	do[app.Nothing](t, b.vega, app.CmdBrewEdit, app.BrewEdit{Book: old.Book, Brew: old.Brew, Outcome: &edited, Sure: sure})
	do[app.Nothing](t, b.vega, app.CmdBrewDiscard, app.BrewDiscard(gone))
	b.brews = append(b.brews[:5:5], b.brews[6:]...)
	for _, after := range []string{"the power went", "a rest", "another start"} {
		if after == "a rest" {
			b.rest()
		}
		b.vega.Start()
		all, found := b.list(""), b.list("plum")
		if len(all) != 69 || len(found) != 1 || found[0].Brew != old.Brew {
			t.Fatalf("after %s: %d brews, %d of plum", after, len(all), len(found))
		}
		whole := maps.Clone(b.vega.Disk.Records)
		maps.DeleteFunc(b.vega.Disk.Records, func(key string, _ []byte) bool { return key == "app/bench" || strings.HasPrefix(key, indexKeys) })
		b.vega.Start()
		if anew := b.list(""); !reflect.DeepEqual(anew, all) {
			t.Fatalf("after %s the disk says %+v, the brews say %+v", after, all, anew)
		}
		b.vega.Stop()
		b.vega.Disk.Records = whole
		b.vega.Start()
	}
}

// A start writes nothing: it has nothing to look up again.
func TestAStartLooksNoOrderedBrewUpAgain(t *testing.T) {
	b := newLogbook(t, 40)
	b.vega.Start()
	b.rest()
	before := maps.Clone(b.vega.Disk.Records)
	b.vega.Start()
	b.rest()
	for key, value := range b.vega.Disk.Records {
		if strings.HasPrefix(key, indexKeys) && string(before[key]) != string(value) {
			t.Errorf("%s was written again", key)
		}
	}
}
