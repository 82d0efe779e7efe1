package app_test

import (
	"bytes"
	"fmt"
	"slices"
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
	"hushcup/sync/codec"
)

// everything is all that a file would carry of a phone, page by page.
func everything(t *testing.T, p *village.Phone, limit int) (records []app.DataRecord) {
	t.Helper()
	after := ""
	for range 1000 {
		page := do[app.DataPage](t, p, app.CmdDataPage, app.DataPageAsk{After: after, Limit: limit})
		records = append(records, page.Records...)
		if after = page.More; after == "" {
			return records
		}
	}
	t.Fatal("the pages have no end")
	return nil
}

// take hands records over in batches, as the page does.
func take(t *testing.T, p *village.Phone, records []app.DataRecord) (sum app.DataTaken) {
	t.Helper()
	for from := 0; from < len(records); from += 50 {
		var batch []codec.Raw
		for _, record := range records[from:min(from+50, len(records))] {
			batch = append(batch, codec.MustMarshal(record))
		}
		taken := do[app.DataTaken](t, p, app.CmdDataTake, app.DataTake{Records: batch})
		sum.Taken, sum.Known, sum.Gone = sum.Taken+taken.Taken, sum.Known+taken.Known, sum.Gone+taken.Gone
		sum.History, sum.Less = sum.History+taken.History, sum.Less+taken.Less
		sum.Refused = append(sum.Refused, taken.Refused...)
	}
	return sum
}

func equalRecords(t *testing.T, what string, got, want []app.DataRecord) {
	t.Helper()
	if len(got) != len(want) {
		t.Errorf("%s: %d records, not %d", what, len(got), len(want))
	}
	for i := range min(len(got), len(want)) {
		if !bytes.Equal(codec.MustMarshal(got[i]), codec.MustMarshal(want[i])) {
			t.Errorf("%s: record %d is\n%s, not\n%s", what, i, said(got[i]), said(want[i]))
		}
	}
}

func said(r app.DataRecord) string {
	switch {
	case r.Brew != nil:
		return fmt.Sprintf("brew %+v of %+v", *r.Brew, r.Brew.Of)
	case r.Cup != nil:
		return fmt.Sprintf("cup %+v answer %+v", *r.Cup, r.Cup.Answer)
	}
	return fmt.Sprintf("%+v", r)
}

// fill puts a kitchen, brews of one's own and of a club's sample, guesses and what was unsealed into Mira's phone.
func fill(t *testing.T) *table {
	s := sitDown(t)
	mira := s.mira
	water := do[app.Saved](t, mira, app.CmdWaterSave, app.Water{Name: "spring below the dome", Source: "label", Calcium: 31.5, Bicarbonate: 92})
	do[app.Saved](t, mira, app.CmdConcentrateSave, app.Concentrate{Name: "hardness drops", Litres: 0.25, Salts: []app.SaltGrams{{Salt: "magnesium-sulphate", Grams: 6}}})
	bag := do[app.Saved](t, mira, app.CmdCoffeeSave, app.Coffee{Name: "Orbital Blend", Grams: 250, Roasted: "2026-11-03", Moisture: 2.5, Note: "\"dry\", مُرّ ☕"})
	do[app.Saved](t, mira, app.CmdGrinderSave, app.Grinder{Name: "hand grinder", Burr: "conical", Scale: "clicks", PerTurn: 40})
	scale := do[app.Saved](t, mira, app.CmdInstrumentSave, app.Instrument{Name: "brass scale", What: "scale", Precision: 0.1})
	do[app.Nothing](t, mira, app.CmdHomeSave, app.Home{Altitude: 2635, Scale: scale.ID, Water: water.ID, Hardness: "°dH"})

	var parent *app.BrewParams
	for i := range 3 {
		set := setup()
		set.CoffeeID, set.WaterID, set.RecipeID = bag.ID, water.ID, see[app.CupboardView](t, mira, app.ViewCupboard, app.Nothing{}).Recipes[0].Recipe.ID
		b := app.BrewParams(do[app.BrewStarted](t, mira, app.CmdBrewStart, app.BrewStart{Setup: set, Run: true, Parent: parent}))
		parent = &b
		s.v.Advance(5000)
		mark(t, mira, b, "bloom", 45)
		s.v.Advance(60_000)
		mark(t, mira, b, "pour", 240.5)
		mark(t, mira, b, "end", 0)
		save(t, mira, b, app.BrewOutcome{
			Beverage: 208, TDS: 1.35, Slurry: 88, Notes: fmt.Sprintf("number %d,\nbergamot", i), Balance: []app.BalanceMark{{Of: "bitter", Mark: -300}},
		})
		do[app.Nothing](t, mira, app.CmdBrewReading, app.BrewReading{Book: b.Book, Brew: b.Brew, Celsius: 71})
		do[app.Nothing](t, mira, app.CmdBrewCount, app.BrewCount{Book: b.Book, Brew: b.Brew, Counts: i != 1})
		do[app.Nothing](t, mira, app.CmdCupNotice, app.CupNotice{Book: b.Book, Brew: b.Brew, Stage: "hot", Words: []string{"bergamot"}})
	}
	bad := start(t, mira, setup())
	do[app.Nothing](t, mira, app.CmdBrewAbandon, app.BrewAbandon{Book: bad.Book, Brew: bad.Brew, Why: "it ran over"})
	do[app.BowlsStarted](t, mira, app.CmdBowlsStart, app.BowlsStart{
		Setup: app.BrewSetup{Method: "bowl", Geometry: "cupping-bowl", Dose: 8.25, Ratio: 18}, Bowls: []app.Bowl{{Coffee: "one"}, {CoffeeID: bag.ID}},
	})
	s.guess(mira, s.first, says("process", "process/natural", 8000))
	made := do[app.BrewStarted](t, mira, app.CmdBrewStart, app.BrewStart{Club: s.club, Sample: s.first, Setup: setup(), Run: true})
	s.v.Advance(90_000)
	save(t, mira, app.BrewParams(made), app.BrewOutcome{Notes: "of the sample"})
	do[app.Nothing](t, s.vega, app.CmdSampleUnseal, app.SampleUnseal{Club: s.club, Samples: []string{s.first}, Close: true})
	s.v.Advance(5000)
	return s
}

func TestAFileComesBackWithoutLoss(t *testing.T) {
	s := fill(t)
	all := everything(t, s.mira, 200)
	kinds := map[string]int{}
	for _, r := range all {
		kinds[r.Kind]++
	}
	for kind, want := range map[string]int{"water": 1, "concentrate": 1, "coffee": 1, "grinder": 1, "instrument": 1, "home": 1, "brew": 7, "cup": 1} {
		if kinds[kind] != want {
			t.Errorf("%d of %s, not %d", kinds[kind], kind, want)
		}
	}
	equalRecords(t, "by pages of two", everything(t, s.mira, 2), all)

	fresh := s.v.Phone("fresh")
	if taken := take(t, fresh, all); taken.Taken != len(all) || taken.Known+taken.Gone+taken.Less+len(taken.Refused) != 0 || taken.History != 2 {
		t.Errorf("a fresh notebook took %+v of %d", taken, len(all))
	}
	equalRecords(t, "the file of the fresh notebook", everything(t, fresh, 200), all)
	if taken := take(t, fresh, all); taken.Taken != 0 || taken.Known != len(all) {
		t.Errorf("the second time it took %+v", taken)
	}
	equalRecords(t, "after the second time", everything(t, fresh, 200), all)
	if taken := take(t, s.mira, all); taken.Taken != 0 || taken.Known != len(all) {
		t.Errorf("where it came from it took %+v", taken)
	}

	fresh.Start() // what came in is on the disk
	equalRecords(t, "after a restart", everything(t, fresh, 3), all)
	log := see[app.BrewsView](t, fresh, app.ViewBrews, app.BrewsParams{Limit: 50})
	if log.All != 7 || len(log.Brews) != 7 {
		t.Fatalf("the log has %d brews: %+v", log.All, log.Brews)
	}
	want := fmt.Sprintf("%03d, the valley flight", s.firstCode)
	if i := slices.IndexFunc(log.Brews, func(b app.BrewDigest) bool { return b.Coffee == want }); i < 0 || log.Brews[i].Sample != "" {
		t.Errorf("the brew of a club that nobody is in does not stand in the log as %q: %+v", want, log.Brews)
	}
	history := see[app.DataView](t, fresh, app.ViewData, app.Nothing{}).History
	if len(history) != 1 || history[0].Answer == nil || len(history[0].Guess) != 1 || history[0].Bits == nil {
		t.Errorf("the history is %+v", history)
	}
}

func TestWhatIsSealedStandsInNoFile(t *testing.T) {
	s := sitDown(t)
	s.guess(s.mira, s.first, says("process", "process/natural", 8000))
	for who, p := range map[string]*village.Phone{"a taster": s.mira, "its keeper": s.vega} {
		for _, r := range everything(t, p, 200) {
			if r.Cup != nil && r.Cup.Answer != nil {
				t.Errorf("%s has a sealed answer in the file: %+v", who, r.Cup)
			}
		}
	}
	do[app.Nothing](t, s.vega, app.CmdSampleUnseal, app.SampleUnseal{Club: s.club, Samples: []string{s.first}, Close: true})
	s.v.Advance(5000)
	for _, r := range everything(t, s.altair, 200) { // has not guessed, and is still to be asked
		if r.Cup != nil && r.Cup.Answer != nil {
			t.Errorf("what Altair was not shown stands in the file: %+v", r.Cup)
		}
	}
}

func TestARunningBrewIsNotInTheFileAndIsCounted(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	start(t, vega, setup())
	page := do[app.DataPage](t, vega, app.CmdDataPage, app.DataPageAsk{Limit: 200})
	if len(page.Records) != 0 || page.Going != 1 || page.All != 1 {
		t.Errorf("%+v", page)
	}
}

func TestWhatWasThrownAwayStaysAway(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	b := start(t, vega, setup())
	save(t, vega, b, app.BrewOutcome{Notes: "spilt"})
	item := do[app.Saved](t, vega, app.CmdWaterSave, app.Water{Name: "melted frost", Source: "label"})
	all := everything(t, vega, 200)
	do[app.Nothing](t, vega, app.CmdBrewDiscard, app.BrewDiscard(b))
	do[app.ItemRemoved](t, vega, app.CmdItemRemove, app.ItemName{What: "water", ID: item.ID})
	v.Advance(5000)
	if taken := take(t, vega, all); taken.Gone != 2 || taken.Taken != 0 {
		t.Errorf("took %+v", taken)
	}
	if left := everything(t, vega, 200); len(left) != 0 {
		t.Errorf("left are %+v", left)
	}
}

// TestOnlyWhatCannotBeIsLeftOut: each record but the last is wrong at one place, and the last comes in.
func TestOnlyWhatCannotBeIsLeftOut(t *testing.T) {
	s := fill(t)
	var brew app.DataRecord
	for _, r := range everything(t, s.mira, 200) {
		if r.Kind == "brew" && r.Brew.Of == nil {
			brew = r
		}
	}
	wrong := func(change func(*app.DataBrew)) codec.Raw {
		b := *brew.Brew
		change(&b)
		return codec.MustMarshal(app.DataRecord{Kind: "brew", Brew: &b})
	}
	type dated struct {
		Kind string        `cbor:"kind"`
		Brew *app.DataBrew `cbor:"brew"`
		Moon string        `cbor:"moon"`
	}
	cases := []struct {
		field string
		raw   codec.Raw
	}{
		{"id", wrong(func(b *app.DataBrew) { b.ID = "12" })},
		{"created", wrong(func(b *app.DataBrew) { b.Created = 0 })},
		{"began", wrong(func(b *app.DataBrew) { b.Began = -5 })},
		{"state", wrong(func(b *app.DataBrew) { b.State = "going" })},
		{"marks.0.mark", wrong(func(b *app.DataBrew) { b.Marks = []app.DataMark{{Mark: "shake"}} })},
		{"marks.1.at", wrong(func(b *app.DataBrew) { b.Marks = []app.DataMark{{Mark: "start", At: 5}, {Mark: "pour", At: 4}} })},
		{"dose", wrong(func(b *app.DataBrew) { b.Setup.Dose = -3 })},
		{"kettle", wrong(func(b *app.DataBrew) { b.Setup.Kettle = 130 })},
		{"tds", wrong(func(b *app.DataBrew) { b.Outcome.TDS = 101 })},
		{"noticed.0.stage", wrong(func(b *app.DataBrew) { b.Noticed = []app.DataNote{{Stage: "midnight"}} })},
		{"calcium", codec.MustMarshal(app.DataRecord{Kind: "water", Water: &app.Water{ID: nobody, Name: "x", Source: "label", Calcium: -1}})},
		{"coffee", codec.MustMarshal(app.DataRecord{Kind: "coffee"})},
		{"kind", codec.MustMarshal(app.DataRecord{Kind: "kettle"})},
		{"kind", codec.MustMarshal(map[string]string{})},
		{"", codec.MustMarshal(map[string]string{"kind": "brew", "brew": "strong"})},
		{"", codec.MustMarshal("brew")},
		{"-", codec.MustMarshal(dated{Kind: "brew", Brew: brew.Brew, Moon: "full"})},
	}
	var args app.DataTake
	for _, c := range cases {
		args.Records = append(args.Records, c.raw)
	}
	fresh := s.v.Phone("fresh")
	taken := do[app.DataTaken](t, fresh, app.CmdDataTake, args)
	if taken.Taken != 1 || taken.Less != 1 || len(taken.Refused) != len(cases)-1 {
		t.Errorf("took %d, with less %d, refused %d of %d", taken.Taken, taken.Less, len(taken.Refused), len(cases))
	}
	for i, r := range taken.Refused {
		if r.Index != i || r.Error.Field != cases[i].field {
			t.Errorf("record %d was refused at %q (%v), not at %q", r.Index, r.Error.Field, r.Error, cases[i].field)
		}
	}
	equalRecords(t, "what came in", everything(t, fresh, 200), []app.DataRecord{brew})
}

func TestAFullDiskTakesNothingByHalves(t *testing.T) {
	s := fill(t)
	all := everything(t, s.mira, 200)
	fresh := s.v.Phone("fresh")
	fresh.Disk.Refuse = "disk-full"
	var args app.DataTake
	for _, r := range all {
		args.Records = append(args.Records, codec.MustMarshal(r))
	}
	if _, err := village.Do[app.DataTaken](fresh, app.CmdDataTake, args); err == nil || err.Code != "disk-full" {
		t.Fatalf("on a full disk: %v", err)
	}
	fresh.Disk.Refuse = ""
	fresh.Start()
	if left := everything(t, fresh, 200); len(left) != 0 {
		t.Errorf("half of it came in: %d records", len(left))
	}
	if taken := take(t, fresh, all); taken.Taken != len(all) {
		t.Errorf("with room it took %+v", taken)
	}
}
