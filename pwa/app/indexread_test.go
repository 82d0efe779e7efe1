package app_test

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
	"hushcup/sync/codec"
)

// years are the records of a notebook with a brew in each of four months.
func years(t *testing.T) (records []app.StoredRecord, now int64) {
	t.Helper()
	v := newVillage()
	vega := v.Phone("vega")
	do[app.Nothing](t, vega, app.CmdPersonSave, app.Person{Left: true})
	for range 4 {
		save(t, vega, start(t, vega, setup()), app.BrewOutcome{Notes: "bergamot"})
		v.Advance(40 * 24 * 3_600_000)
	}
	return onDisk(vega), v.Now()
}

func onDisk(phone *village.Phone) (records []app.StoredRecord) {
	for key, value := range phone.Disk.Records {
		records = append(records, app.StoredRecord{Key: key, Value: value})
	}
	slices.SortFunc(records, func(a, b app.StoredRecord) int { return strings.Compare(a.Key, b.Key) })
	return records
}

func hot(records []app.StoredRecord) []app.StoredRecord {
	return slices.DeleteFunc(slices.Clone(records), func(r app.StoredRecord) bool { return strings.HasPrefix(r.Key, "cold/") })
}

// What runs is on the first screen, so a start asks for it, and for the months only once that screen stands.
func TestAStartReadsWhatRunsFirst(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	save(t, vega, start(t, vega, setup()), app.BrewOutcome{})
	mark(t, vega, start(t, vega, setup()), "bloom", 40)
	v.Advance(600_000) // it is shared, and its content is none of what a start is handed
	core, now := app.New(rand.NewChaCha8([32]byte{7})), v.Now()
	asked := func(in app.Input) (keys []string) {
		in.Now = now
		for _, effect := range core.Step(in) {
			if e, ok := effect.(app.ReadEffect); ok {
				keys = append(keys, strings.Join(e.Keys, " ")+e.Prefix)
			}
		}
		return keys
	}
	first := asked(app.Input{Kind: app.InStart, Origin: "https://hushcup.test", Records: hot(onDisk(vega))})
	if len(first) != 1 || !strings.Contains(first[0], "/body/") {
		t.Errorf("a start asks for %q", first)
	}
	if later := asked(app.Input{Kind: app.InTimer, Name: "app pack"}); len(later) != 1 || !strings.HasPrefix(later[0], "cold/app/brews/") {
		t.Errorf("when the first screen stands, %q are asked for", later)
	}
}

// A start has nothing to write, a view that needs the months has them read at once, and what is made of all of them is made when the
// last has come, once.
func TestTheMonthsAreReadForWhatNeedsThem(t *testing.T) {
	records, now := years(t)
	core := app.New(rand.NewChaCha8([32]byte{7}))
	step := func(in app.Input) []app.Effect {
		now++
		in.Now = now
		return core.Step(in)
	}
	var months []app.ReadEffect
	take := func(effects []app.Effect) []app.Effect {
		for _, effect := range effects {
			switch e := effect.(type) {
			case app.PersistEffect:
				t.Errorf("it writes, though nothing is new: %+v", e)
			case app.ReadEffect:
				if strings.HasPrefix(e.Prefix, "cold/app/brews/") {
					months = append(months, e)
				}
			}
		}
		return effects
	}
	take(step(app.Input{Kind: app.InStart, Origin: "https://hushcup.test", Records: hot(records)}))
	if len(months) > 0 {
		t.Errorf("it reads months that nothing needs: %+v", months)
	}
	views := func(effects []app.Effect) (of []uint64) {
		for _, effect := range effects {
			if v, ok := effect.(app.ViewEffect); ok {
				of = append(of, v.Watch)
			}
		}
		return of
	}
	if of := views(step(app.Input{Kind: app.InWatch, Watch: 1, View: app.ViewPerson})); len(of) != 1 {
		t.Error("what one person set waits for the months")
	}
	search := codec.MustMarshal(app.BrewsParams{Limit: 9, Search: app.BrewSearch{Words: "berg"}})
	early := views(take(step(app.Input{Kind: app.InWatch, Watch: 2, View: app.ViewCupboard})))
	if len(months) != 2 || months[0].Prefix != months[0].Last || months[1].Prefix >= months[1].Last || months[1].Last >= months[0].Prefix {
		t.Fatalf("not the newest month, and then the three before it: %+v", months)
	}
	early = append(early, views(take(step(app.Input{Kind: app.InWatch, Watch: 3, View: app.ViewBrews, Args: search})))...)
	for i, month := range months {
		var found []app.StoredRecord
		for _, r := range records {
			if r.Key >= month.Prefix && r.Key < month.Last || strings.HasPrefix(r.Key, month.Last) {
				found = append(found, r)
			}
		}
		effects := step(app.Input{Kind: app.InGot, ID: month.ID, Records: found})
		if i < len(months)-1 {
			early = append(early, views(effects)...)
		} else if of := views(effects); len(of) != 2 {
			t.Errorf("when the last has come, %v are shown", of)
		} else {
			for _, effect := range effects {
				if v, ok := effect.(app.ViewEffect); ok && v.Watch == 3 && v.Value.(app.BrewsView).Found != 4 {
					t.Errorf("found %+v", v.Value)
				}
			}
		}
	}
	if len(early) > 0 {
		t.Errorf("%v are shown before all months were read", early)
	}
}
