package app_test

import (
	"fmt"
	"strings"
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
)

func setup() app.BrewSetup {
	return app.BrewSetup{Coffee: "from the valley shop", Method: "drip", Brewer: "cone, 60 degrees", Dose: 15, Ratio: 16, Kettle: 92, Grinder: "conical", Grind: "24"}
}

func start(t *testing.T, p *village.Phone, s app.BrewSetup) app.BrewParams {
	t.Helper()
	made := do[app.BrewStarted](t, p, app.CmdBrewStart, app.BrewStart{Setup: s, Run: true})
	return app.BrewParams(made)
}

func mark(t *testing.T, p *village.Phone, b app.BrewParams, word string, grams float64) {
	t.Helper()
	do[app.Nothing](t, p, app.CmdBrewMark, app.BrewMark{Book: b.Book, Brew: b.Brew, Mark: word, Grams: grams})
}

func save(t *testing.T, p *village.Phone, b app.BrewParams, o app.BrewOutcome) {
	t.Helper()
	do[app.Nothing](t, p, app.CmdBrewSave, app.BrewSave{Book: b.Book, Brew: b.Brew, Outcome: o})
}

func TestABrewWithAKilledTabHalfWay(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	vega.Offline(true)
	b := start(t, vega, setup())
	v.Advance(5000)
	mark(t, vega, b, "bloom", 45)
	v.Advance(40_000)
	mark(t, vega, b, "pour", 150)

	vega.Start() // the tab is killed and opened again
	v.Advance(30_000)
	bench := see[app.BenchView](t, vega, app.ViewBench, app.Nothing{})
	if len(bench.Going) != 1 || bench.Going[0].Brew != b.Brew || bench.Going[0].What != "brewing" {
		t.Fatalf("the bench after the restart: %+v", bench)
	}
	seen := see[app.BrewView](t, vega, app.ViewBrew, b)
	if seen.State != "going" || len(seen.Marks) != 3 || !seen.Absent || seen.Began != evening {
		t.Fatalf("the brew after the restart: %+v", seen)
	}
	mark(t, vega, b, "pour", 240)
	v.Advance(60_000)
	mark(t, vega, b, "end", 0)
	save(t, vega, b, app.BrewOutcome{Beverage: 208, TDS: 1.35, Notes: "bergamot, a little dry", Asked: "planned"})
	v.Advance(60_000)
	seen = see[app.BrewView](t, vega, app.ViewBrew, b)
	if seen.State != "done" || seen.Drawdown != 135 || !seen.Counts || seen.Outcome.Notes != "bergamot, a little dry" || seen.Setup.Water != 240 {
		t.Fatalf("the brew when it is saved: %+v", seen)
	}
	if len(seen.Pours) != 3 || seen.Pours[2].At != 75 || seen.Pours[2].Grams != 240 {
		t.Fatalf("the pours are %+v", seen.Pours)
	}
	if y := seen.Yield; y == nil || y.Value < 18.6 || y.Value > 18.8 || y.Low >= y.Value || y.High <= y.Value {
		t.Fatalf("the yield is %+v, not about 1.35 %% of 208 g to 15 g", seen.Yield)
	}
	if going := see[app.BenchView](t, vega, app.ViewBench, app.Nothing{}).Going; len(going) != 1 || going[0].What != "cooling" {
		t.Fatalf("the cup does not cool: %+v", going)
	}
	watch := vega.Watch(app.ViewTonight, app.Nothing{})
	v.Advance(3_600_000)
	if tonight, _ := village.Seen[app.TonightView](vega, watch); len(tonight.Going) != 0 {
		t.Fatalf("an hour later it still cools: %+v", tonight.Going)
	}
	if seen.Share != "device" {
		t.Fatalf("offline, the brew is %q", seen.Share)
	}
	vega.Offline(false)
	v.Advance(10_000)
	if seen := see[app.BrewView](t, vega, app.ViewBrew, b); seen.Share != "shared" {
		t.Fatalf("online, the brew is %q", seen.Share)
	}
}

func TestAClockThatIsSetInTheMiddleOfAPour(t *testing.T) {
	for _, jump := range []int64{-5 * 365 * 24 * 3_600_000, -90_000} {
		v := newVillage()
		vega := v.Phone("vega")
		b := start(t, vega, setup())
		v.Advance(10_000)
		vega.Skew = jump
		v.Advance(20_000)
		mark(t, vega, b, "pour", 100)
		seen := see[app.BrewView](t, vega, app.ViewBrew, b)
		if at := seen.Marks[1].At; at != 30 || seen.Absent {
			t.Errorf("after a jump of %d the mark stands at %v (absent %v)", jump, at, seen.Absent)
		}
		if ran := v.Now() + jump - seen.Began; ran != 30_000 {
			t.Errorf("after a jump of %d the screen shows %d ms", jump, ran)
		}
	}
}

func TestTheLastMarkIsTakenBack(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	b := start(t, vega, setup())
	v.Advance(1000)
	mark(t, vega, b, "bloom", 45)
	unmark := app.BrewUnmark(b)
	do[app.Nothing](t, vega, app.CmdBrewUnmark, unmark)
	if seen := see[app.BrewView](t, vega, app.ViewBrew, b); len(seen.Marks) != 1 || seen.State != "going" {
		t.Fatalf("after one step back: %+v", seen)
	}
	do[app.Nothing](t, vega, app.CmdBrewUnmark, unmark)
	if seen := see[app.BrewView](t, vega, app.ViewBrew, b); len(seen.Marks) != 0 || seen.State != "planned" || seen.Began != 0 {
		t.Fatalf("before the start: %+v", seen)
	}
	if _, err := village.Do[app.Nothing](vega, app.CmdBrewUnmark, unmark); err == nil || err.Code != app.CodeNotYet {
		t.Fatalf("a step back before the start: %v", err)
	}
}

func TestImpossibleNumbersAreRefusedAndSurprisingOnesQuestioned(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	change := func(f func(*app.BrewSetup)) app.BrewSetup { s := setup(); f(&s); return s }
	for _, c := range []struct {
		setup       app.BrewSetup
		code, field string
	}{
		{change(func(s *app.BrewSetup) { s.Dose = -3 }), app.CodeImpossible, "dose"},
		{change(func(s *app.BrewSetup) { s.Dose = 90_000 }), app.CodeImpossible, "dose"},
		{change(func(s *app.BrewSetup) { s.Kettle = 130 }), app.CodeImpossible, "kettle"},
		{change(func(s *app.BrewSetup) { s.Ratio = -1 }), app.CodeImpossible, "ratio"},
		{change(func(s *app.BrewSetup) { s.Method = "magic" }), app.CodeImpossible, "method"},
		{change(func(s *app.BrewSetup) { s.Brewer = strings.Repeat("x", 200) }), app.CodeTooLong, "brewer"},
		{change(func(s *app.BrewSetup) { s.Kettle = 40 }), app.CodeSurprising, "kettle"},
	} {
		_, err := village.Do[app.BrewStarted](vega, app.CmdBrewStart, app.BrewStart{Setup: c.setup})
		if err == nil || err.Code != c.code || err.Field != c.field {
			t.Errorf("%+v: %+v, not %s of %s", c.setup, err, c.code, c.field)
		}
		if c.code != app.CodeSurprising {
			continue
		}
		if _, err := village.Do[app.BrewStarted](vega, app.CmdBrewStart, app.BrewStart{Setup: c.setup, Sure: []string{c.field}}); err != nil {
			t.Errorf("a confirmed %s is refused: %v", c.field, err)
		}
	}
	b := start(t, vega, setup())
	for _, c := range []struct {
		outcome     app.BrewOutcome
		code, field string
	}{
		{app.BrewOutcome{TDS: 80}, app.CodeImpossible, "tds"},
		{app.BrewOutcome{Beverage: 900}, app.CodeImpossible, "beverage"},
		{app.BrewOutcome{Drawdown: -5}, app.CodeImpossible, "drawdown"},
		{app.BrewOutcome{Pours: []app.Pour{{At: 30, Grams: 100}, {At: 10, Grams: 200}}}, app.CodeImpossible, "pours.1"},
		{app.BrewOutcome{Notes: strings.Repeat("x", 9000)}, app.CodeTooLong, "notes"},
	} {
		_, err := village.Do[app.Nothing](vega, app.CmdBrewEdit, app.BrewEdit{Book: b.Book, Brew: b.Brew, Outcome: &c.outcome})
		if err == nil || err.Code != c.code || err.Field != c.field {
			t.Errorf("%+v: %+v, not %s of %s", c.outcome, err, c.code, c.field)
		}
	}
}

// brewMany saves so many brews, an hour apart.
func brewMany(t *testing.T, v *village.Village, p *village.Phone, count int) {
	t.Helper()
	for i := range count {
		s := setup()
		s.Grind = fmt.Sprint(i)
		b := start(t, p, s)
		v.Advance(180_000)
		save(t, p, b, app.BrewOutcome{Drawdown: 170})
		v.Advance(6 * 3_600_000)
	}
}

func page(t *testing.T, p *village.Phone, limit int) (all []string) {
	t.Helper()
	params := app.BrewsParams{Limit: limit}
	for {
		brews := see[app.BrewsView](t, p, app.ViewBrews, params)
		for _, b := range brews.Brews {
			all = append(all, b.Grind)
		}
		if brews.More == "" {
			if len(all) != brews.All {
				t.Fatalf("%d brews are listed of %d: %v", len(all), brews.All, all)
			}
			return all
		}
		params.After = brews.More
	}
}

func TestTheLogIsPagedNewestFirst(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	brewMany(t, v, vega, 150) // 37 days, so more than one bucket
	for _, limit := range []int{7, 200} {
		all := page(t, vega, limit)
		if len(all) != 150 || all[0] != "149" || all[149] != "0" {
			t.Fatalf("in pages of %d: %d brews, %v", limit, len(all), all)
		}
	}
	for _, skip := range []int{0, 1, 60, 149, 150, 400} {
		some := see[app.BrewsView](t, vega, app.ViewBrews, app.BrewsParams{Skip: skip, Limit: 20})
		if want := min(20, max(0, 150-skip)); len(some.Brews) != want || some.Found != 150 || want > 0 && some.Brews[0].Grind != fmt.Sprint(149-skip) {
			t.Fatalf("past %d: %d of %d, %+v", skip, len(some.Brews), some.Found, some.Brews)
		}
	}
	recent := see[app.BenchView](t, vega, app.ViewBench, app.Nothing{})
	if len(recent.Recent) != 5 || recent.Recent[0].Grind != "149" || recent.Brews != 150 || recent.Last.Grind != "149" {
		t.Fatalf("the bench is %+v", recent)
	}
	first := see[app.BrewsView](t, vega, app.ViewBrews, app.BrewsParams{Limit: 1}).Brews[0]
	do[app.Nothing](t, vega, app.CmdBrewDiscard, app.BrewDiscard{Book: first.Book, Brew: first.Brew})
	if all := page(t, vega, 50); len(all) != 149 || all[0] != "148" {
		t.Fatalf("after one was thrown away: %d, newest %s", len(all), all[0])
	}
	vega.Start()
	v.Advance(1000)
	if all := page(t, vega, 50); len(all) != 149 || all[0] != "148" {
		t.Fatalf("and after a restart: %d, newest %s", len(all), all[0])
	}
}

// What the index holds must be what the brews say, whatever was lost on the way.
func TestTheIndexHealsItself(t *testing.T) {
	for name, hurt := range map[string]func(d *village.Disk, before map[string][]byte){
		"nothing":       func(*village.Disk, map[string][]byte) {},
		"all of it":     func(d *village.Disk, _ map[string][]byte) { forget(d, "app/", "cold/app/") },
		"the bench":     func(d *village.Disk, _ map[string][]byte) { forget(d, "app/") },
		"the last ones": func(d *village.Disk, before map[string][]byte) { restore(d, before) },
	} {
		t.Run(name, func(t *testing.T) {
			v := newVillage()
			vega := v.Phone("vega")
			brewMany(t, v, vega, 60)
			before := own(vega.Disk)
			brewMany(t, v, vega, 3)
			want := see[app.BrewsView](t, vega, app.ViewBrews, app.BrewsParams{Limit: 200})
			vega.Start()
			hurt(vega.Disk, before)
			vega.Start()
			v.Advance(1000)
			got := see[app.BrewsView](t, vega, app.ViewBrews, app.BrewsParams{Limit: 200})
			if fmt.Sprint(got) != fmt.Sprint(want) {
				t.Errorf("the log is %d of %d:\n%v\nnot\n%v", len(got.Brews), got.All, got, want)
			}
			bench := see[app.BenchView](t, vega, app.ViewBench, app.Nothing{})
			if fmt.Sprint(bench.Recent) != fmt.Sprint(want.Brews[:5]) {
				t.Errorf("the bench is %v", bench.Recent)
			}
		})
	}
}

func own(d *village.Disk) map[string][]byte {
	out := map[string][]byte{}
	for key, value := range d.Records {
		if strings.HasPrefix(key, "app/") || strings.HasPrefix(key, "cold/app/") {
			out[key] = value
		}
	}
	return out
}

func forget(d *village.Disk, prefixes ...string) {
	for key := range d.Records {
		for _, prefix := range prefixes {
			if strings.HasPrefix(key, prefix) {
				delete(d.Records, key)
			}
		}
	}
}

func restore(d *village.Disk, before map[string][]byte) {
	forget(d, "app/", "cold/app/")
	for key, value := range before {
		d.Records[key] = value
	}
}

func TestABrewWithoutAScaleOrThermometerIsKept(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	started, refusal := village.Do[app.BrewStarted](vega, app.CmdBrewStart, app.BrewStart{
		Setup: app.BrewSetup{Coffee: "the tin on the shelf", Method: "steep", Grind: "two scoops, coarse"}, Run: true,
	})
	if refusal != nil {
		t.Fatal(refusal)
	}
	v.Advance(240_000)
	if _, refusal := village.Do[app.Nothing](vega, app.CmdBrewSave, app.BrewSave{Book: started.Book, Brew: started.Brew}); refusal != nil {
		t.Fatal(refusal)
	}
	brew, refusal := village.See[app.BrewView](vega, app.ViewBrew, app.BrewParams(started))
	if refusal != nil || brew.Setup.Dose != 0 || brew.Setup.Ratio != 0 || brew.State != "done" {
		t.Fatalf("%v %+v", refusal, brew)
	}
}
