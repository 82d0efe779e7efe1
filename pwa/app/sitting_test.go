package app_test

import (
	"slices"
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
)

func (t *table) notice(p *village.Phone, stage string, words ...string) {
	t.Helper()
	do[app.Nothing](t.T, p, app.CmdCupNotice, app.CupNotice{Club: t.club, Sample: t.first, Stage: stage, Words: words})
}

func (t *table) sitting(p *village.Phone) app.SittingView {
	t.Helper()
	return see[app.SittingView](t.T, p, app.ViewSitting, app.SampleParams{Club: t.club, Sample: t.first})
}

func (t *table) noticed(p *village.Phone) []app.NoticedStage {
	t.Helper()
	return see[app.NoticedView](t.T, p, app.ViewNoticed, app.NoticedParams{Club: t.club, Sample: t.first}).Stages
}

func TestASittingGoesOnWhereItWasLeft(t *testing.T) {
	s := sitDown(t)
	if v := s.sitting(s.mira); v.At != "look" || v.Out || len(v.Done) != 0 {
		t.Fatalf("at the start: %+v", v)
	}
	if v := s.sitting(s.vega); !v.Out {
		t.Fatalf("for who keeps the answer: %+v", v)
	}
	s.notice(s.mira, "beans", "even", "no silverskin")
	do[app.Nothing](t, s.mira, app.CmdSittingStep, app.SittingReached{Club: s.club, Sample: s.first, Step: "brew"}) // smell is skipped
	s.mira.Start()
	if v := s.sitting(s.mira); v.At != "brew" || !slices.Equal(v.Done, []string{"look"}) {
		t.Fatalf("after skipping and a restart: %+v", v)
	}
	if tonight := see[app.TonightView](t, s.mira, app.ViewTonight, app.Nothing{}); tonight.Sample == nil || tonight.Sample.Sitting.At != "brew" {
		t.Fatalf("tonight: %+v", tonight.Sample)
	}
	made := do[app.BrewStarted](t, s.mira, app.CmdBrewStart, app.BrewStart{Club: s.club, Sample: s.first, Setup: setup(), Run: true})
	if v := s.sitting(s.mira); v.At != "brew" || v.Brew == nil || v.Brew.Brew != made.Brew || v.State != "going" {
		t.Fatalf("while it runs: %+v", v)
	}
	save(t, s.mira, app.BrewParams(made), app.BrewOutcome{Drawdown: 160})
	if v := s.sitting(s.mira); v.At != "wet" || v.State != "done" {
		t.Fatalf("after the brew: %+v", v)
	}
	do[app.Nothing](t, s.mira, app.CmdCupNotice, app.CupNotice{Book: made.Book, Brew: made.Brew, Stage: "warm", Words: []string{"lime"}})
	if v := s.sitting(s.mira); v.At != "wet" || !slices.Equal(v.Done, []string{"look", "brew", "cup"}) {
		t.Fatalf("with the wet grounds left out: %+v", v)
	}
	do[app.Nothing](t, s.mira, app.CmdSittingStep, app.SittingReached{Club: s.club, Sample: s.first, Step: "guess"})
	do[app.Nothing](t, s.mira, app.CmdSittingStep, app.SittingReached{Club: s.club, Sample: s.first, Step: "look"}) // looked at again
	if v := s.sitting(s.mira); v.At != "guess" {
		t.Fatalf("a look back moved it to %q", v.At)
	}
}

func TestTonightCountsHonestAttempts(t *testing.T) {
	s := sitDown(t)
	if v := see[app.TonightView](t, s.mira, app.ViewTonight, app.Nothing{}); v.Sample == nil || v.Sample.Ration != nil {
		t.Fatalf("without a dose: %+v", v.Sample)
	}
	do[app.BrewStarted](t, s.mira, app.CmdBrewStart, app.BrewStart{Setup: setup()}) // 15 g of one's own
	v := see[app.TonightView](t, s.mira, app.ViewTonight, app.Nothing{})
	if r := v.Sample.Ration; r == nil || r.Attempts != 2 || r.Left != 40 || r.Each < 15 || r.Over != 40-2*r.Each { // with what is ground away
		t.Fatalf("40 g at 15 g: %+v", r)
	}
	if v.Last != "from the valley shop" {
		t.Fatalf("brewed last: %q", v.Last)
	}
}

func TestFirstImpressionsStay(t *testing.T) {
	s := sitDown(t)
	s.notice(s.mira, "fragrance", "jasmine")
	s.v.Advance(90_000)
	s.notice(s.mira, "fragrance", "  Black   tea", "black tea", "wet dog in the rain")
	stages := s.noticed(s.mira)
	if len(stages) != 1 || len(stages[0].Times) != 2 {
		t.Fatalf("noticed: %+v", stages)
	}
	one, two := stages[0].Times[0], stages[0].Times[1]
	if !slices.Equal(one.Words, []string{"jasmine"}) || !slices.Equal(two.Words, []string{"black tea", "wet dog in the rain"}) {
		t.Errorf("the words are %q, then %q", one.Words, two.Words)
	}
	if two.At-one.At < 90_000 || one.Brew != "" {
		t.Errorf("the times are %+v and %+v", one, two)
	}
	refused[app.Nothing](t, s.mira, app.CmdCupNotice, app.CupNotice{Club: s.club, Sample: s.first, Stage: "fragrance"}, app.CodeRequired, "words")
	refused[app.Nothing](t, s.mira, app.CmdCupNotice, app.CupNotice{Club: s.club, Sample: s.first, Stage: "soup", Words: []string{"x"}}, app.CodeImpossible, "stage")
	refused[app.Nothing](t, s.mira, app.CmdCupNotice, app.CupNotice{Club: s.club, Sample: s.first, Stage: "hot", Words: []string{" "}}, app.CodeImpossible, "words.0")
	if again := s.noticed(s.mira); len(again[0].Times) != 2 {
		t.Errorf("a refusal changed something: %+v", again)
	}
}

// Two devices of one person that notice something while they do not hear of each other keep both.
func TestWhatTwoDevicesNoticedIsBothKept(t *testing.T) {
	s := sitDown(t)
	second := s.v.Phone("mira's tablet")
	link := do[app.DevicePairing](t, s.mira, app.CmdDevicePair, app.DevicePair{}).Link
	s.v.Advance(2000)
	do[app.ClubJoining](t, second, app.CmdClubJoin, app.ClubJoin{Link: link})
	s.v.Advance(30_000)
	s.mira.Offline(true)
	second.Offline(true)
	s.notice(s.mira, "beans", "even")
	s.notice(second, "beans", "small")
	s.mira.Offline(false)
	second.Offline(false)
	s.v.Advance(30_000)
	for _, p := range []*village.Phone{s.mira, second} {
		if stages := s.noticed(p); len(stages) != 1 || len(stages[0].Times) != 2 {
			t.Errorf("noticed: %+v", stages)
		}
	}
}

func TestOthersReadWhatWasNoticedAfterTheUnsealing(t *testing.T) {
	s := sitDown(t)
	s.notice(s.mira, "fragrance", "jasmine")
	s.guess(s.mira, s.first, app.SaidFacet{Facet: "process", Said: []app.Said{{Node: "process/natural", Share: 8000}}})
	s.guess(s.altair, s.first, app.SaidFacet{Facet: "process", Said: []app.Said{{Node: "process/washed", Share: 5000}}})
	s.v.Advance(10_000)
	result := func() app.ResultView {
		return see[app.ResultView](t, s.altair, app.ViewResult, app.SampleParams{Club: s.club, Sample: s.first})
	}
	if v := result(); len(v.Noticed) != 0 || len(s.noticed(s.altair)) != 0 {
		t.Fatalf("before the unsealing Altair reads %+v", v.Noticed)
	}
	do[app.Nothing](t, s.vega, app.CmdSampleUnseal, app.SampleUnseal{Club: s.club, Samples: []string{s.first}, Close: true})
	s.v.Advance(10_000)
	v := result()
	if len(v.Noticed) != 1 || v.Noticed[0].Name != "Mira" || v.Noticed[0].Stages[0].Times[0].Words[0] != "jasmine" {
		t.Fatalf("after it: %+v", v.Noticed)
	}
}

func TestWordsAreFound(t *testing.T) {
	vega := newVillage().Phone("vega")
	words := see[app.CupWordsView](t, vega, app.ViewCupWords, app.CupWordsParams{Typed: "jas"}).Words
	if !slices.Contains(words, "jasmine") {
		t.Errorf("jas finds %q", words)
	}
	if words := see[app.CupWordsView](t, vega, app.ViewCupWords, app.CupWordsParams{Typed: "b"}).Words; len(words) == 0 || len(words) > 8 {
		t.Errorf("b finds %q", words)
	}
}

// A running brew and a cup that cools stand side by side, also for a phone that was started anew.
func TestTwoAtOnce(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	one := start(t, vega, setup())
	v.Advance(150_000)
	save(t, vega, one, app.BrewOutcome{})
	with := setup()
	with.Steps = []app.RecipeStep{{Kind: "bloom", Until: 10, Dose: 3}, {Kind: "wait", At: 10, Until: 45}, {Kind: "pour", At: 45, Until: 80, Water: 1}}
	two := start(t, vega, with)
	v.Advance(20_000)
	vega.Start()
	going := see[app.BenchView](t, vega, app.ViewBench, app.Nothing{}).Going
	if len(going) != 2 || going[0].What != "cooling" || going[1].Brew != two.Brew || going[1].Began != evening+150_000 {
		t.Fatalf("going: %+v", going)
	}
	if g := going[1]; g.Next != "pour" || g.At != g.Began+45_000 || g.To != 240 {
		t.Errorf("what comes next: %+v", g)
	}
	do[app.Nothing](t, vega, app.CmdBrewHold, app.BrewHold{Book: two.Book, Brew: two.Brew, Hold: true})
	if g := see[app.BenchView](t, vega, app.ViewBench, app.Nothing{}).Going[1]; !g.Held || g.Next != "" {
		t.Errorf("while it is held: %+v", g)
	}
	v.Advance(20_000)
	do[app.Nothing](t, vega, app.CmdBrewHold, app.BrewHold{Book: two.Book, Brew: two.Brew})
	if g := see[app.BenchView](t, vega, app.ViewBench, app.Nothing{}).Going[1]; g.At != g.Began+65_000 {
		t.Errorf("after it went on the pour is due at %d", g.At-g.Began)
	}
	watch := vega.Watch(app.ViewBench, app.Nothing{})
	v.Advance(50_000)
	if bench, _ := village.Seen[app.BenchView](vega, watch); bench.Going[1].Next != "" || bench.Going[1].At != going[1].Began+100_000 {
		t.Errorf("by the clock alone: %+v", bench.Going[1])
	}
}

// A cup that was read twice calls when it is good to taste, and never above 65 °C.
func TestTheCupCallsAsItCools(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	b := start(t, vega, setup())
	v.Advance(160_000)
	save(t, vega, b, app.BrewOutcome{})
	going := func() app.Going { return see[app.BenchView](t, vega, app.ViewBench, app.Nothing{}).Going[0] }
	read := func(celsius float64) {
		do[app.Nothing](t, vega, app.CmdBrewReading, app.BrewReading{Book: b.Book, Brew: b.Brew, Celsius: celsius})
	}
	read(81)
	if going().Cooling != nil {
		t.Fatal("one reading of an unknown vessel tells nothing")
	}
	v.Advance(240_000)
	read(69)
	cooling := going().Cooling
	if cooling == nil || len(cooling.Calls) != 4 {
		t.Fatalf("after two readings: %+v", cooling)
	}
	// the excess over 21 °C fell from 60 to 48 in 240 s, so it takes ln(48/44) / (ln(60/48)/240) more to 65 °C
	if hot := cooling.Calls[0]; hot.Celsius != 65 || hot.At-cooling.From < 92_000 || hot.At-cooling.From > 95_000 {
		t.Errorf("65 °C comes %d ms after 69 °C", hot.At-cooling.From)
	}
	last := cooling.From
	for _, call := range cooling.Calls {
		if call.Celsius > 65 || call.At <= last {
			t.Errorf("a call at %v °C, %d ms later", call.Celsius, call.At-last)
		}
		last = call.At
	}
	vega.Start() // the vessel is known from now on
	second := start(t, vega, setup())
	v.Advance(100_000)
	do[app.Nothing](t, vega, app.CmdBrewReading, app.BrewReading{Book: second.Book, Brew: second.Brew, Celsius: 75})
	if v := see[app.BrewView](t, vega, app.ViewBrew, second); v.Cooling == nil || v.Cooling.Start != 75 {
		t.Errorf("one reading of the same vessel: %+v", v.Cooling)
	}
}

func TestATableOfBowlsSaysWhichIsDue(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	bowl := app.BrewSetup{Method: "bowl", Geometry: "cupping-bowl", Dose: 11, Water: 200, Kettle: 92, Steps: []app.RecipeStep{
		{Kind: "pour", Until: 10, Water: 1}, {Kind: "break", At: 240, Times: 3}, {Kind: "skim", At: 255}, {Kind: "taste", At: 600},
	}}
	made := do[app.BowlsStarted](t, vega, app.CmdBowlsStart, app.BowlsStart{Setup: bowl, Bowls: []app.Bowl{{Coffee: "from the valley shop"}, {Coffee: "from the pass"}}})
	table := func() app.TableView {
		return see[app.TableView](t, vega, app.ViewTable, app.TableParams(made))
	}
	for _, b := range table().Bowls {
		mark(t, vega, app.BrewParams{Book: b.Book, Brew: b.Brew}, "start", 0)
		v.Advance(20_000)
	}
	v.Advance(230_000) // both crusts wait
	going := see[app.BenchView](t, vega, app.ViewBench, app.Nothing{}).Going
	if len(going) != 2 || going[0].Table != made.Table || going[0].Bowl == going[1].Bowl {
		t.Fatalf("going: %+v", going)
	}
	for _, g := range going {
		if g.Next != "break" || g.At != g.Began+240_000 {
			t.Errorf("bowl %d: %+v", g.Bowl, g)
		}
	}
	first := table().Bowls[0]
	mark(t, vega, app.BrewParams{Book: first.Book, Brew: first.Brew}, "break", 0)
	vega.Start()
	for _, g := range see[app.BenchView](t, vega, app.ViewBench, app.Nothing{}).Going {
		if want := map[int]string{1: "skim", 2: "break"}[g.Bowl]; g.Next != want {
			t.Errorf("bowl %d: %q, not %q", g.Bowl, g.Next, want)
		}
	}
}

// A bowl that nobody keeps is not shown as running for ever: hours later its owner is asked, and the answer ends it. A steep
// without a plan may take a night.
func TestWhatIsLeftOpenIsAskedAbout(t *testing.T) {
	v := newVillage()
	vega := v.Phone("vega")
	bowl := app.BrewSetup{Method: "bowl", Geometry: "cupping-bowl", Dose: 11, Water: 200, Kettle: 92}
	made := do[app.BowlsStarted](t, vega, app.CmdBowlsStart, app.BowlsStart{Setup: bowl, Bowls: []app.Bowl{{Coffee: "from the pass"}, {Coffee: "from the pass"}}})
	bowls := see[app.TableView](t, vega, app.ViewTable, app.TableParams(made)).Bowls
	for _, b := range bowls {
		mark(t, vega, app.BrewParams{Book: b.Book, Brew: b.Brew}, "start", 0)
	}
	v.Advance(60_000)
	steep := setup()
	steep.Method, steep.Geometry = "steep", "other"
	start(t, vega, steep)
	kept, open := bowls[0], app.BrewParams{Book: bowls[1].Book, Brew: bowls[1].Brew}
	do[app.Nothing](t, vega, app.CmdBrewSave, app.BrewSave{Book: kept.Book, Brew: kept.Brew})
	watch := vega.Watch(app.ViewTonight, app.Nothing{})
	what := func() (words []string) {
		tonight, _ := village.Seen[app.TonightView](vega, watch)
		for _, g := range tonight.Going {
			words = append(words, g.What)
		}
		return words
	}
	v.Advance(2 * 3_600_000)
	if got := what(); !slices.Equal(got, []string{"brewing", "brewing"}) {
		t.Fatalf("two hours later: %q", got)
	}
	v.Advance(2 * 3_600_000)
	if got := what(); !slices.Equal(got, []string{"left", "brewing"}) {
		t.Fatalf("four hours later, by the clock alone: %q", got)
	}
	save(t, vega, open, app.BrewOutcome{})
	v.Advance(2 * 3_600_000)
	if got := what(); !slices.Equal(got, []string{"brewing"}) {
		t.Fatalf("when it is kept: %q", got)
	}
}
