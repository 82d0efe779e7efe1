package app_test

import (
	"math"
	"slices"
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/core/response"
)

// wantedCup is planted: what strength and extraction a coffee wants, in percent, and how keenly this person tastes each of them,
// where 1 is what the trade expects. The app is told none of it.
type wantedCup struct{ tds, yield, keenTDS, keenYield float64 }

// balanceOf is the planted truth in a kitchen of 24 clicks, 1:16, 88 °C and two swirls: the trade's directions, and no noise.
func (w wantedCup) balanceOf(s app.BrewSetup) (tds float64, balance [5]float64) {
	finer, ratio, hotter := float64(24-number(s.Grind))/2, s.Ratio-16, (s.Kettle-88)/3
	stirs := 0.0
	for _, step := range s.Steps {
		if step.Kind == "swirl" || step.Kind == "stir" {
			stirs += float64(step.Times)
		}
	}
	tds = 1.35 + 0.055*finer - 0.07*ratio + 0.02*hotter + 0.035*(stirs-2)
	yield := 19.5 + 0.8*finer + 0.4*ratio + 0.3*hotter + 0.5*(stirs-2)
	for i, side := range [][2]float64{{1.5, -0.2}, {-1.5, 0}, {2, 0.2}, {2.5, 0}, {1.5, 0.05}} {
		balance[i] = math.Tanh(w.keenTDS*side[0]*(tds-w.tds) + w.keenYield*side[1]*(yield-w.yield))
	}
	return tds, balance
}

func number(text string) (n int) {
	for _, digit := range text {
		n = 10*n + int(digit-'0')
	}
	return n
}

func off(balance [5]float64) float64 {
	sum := 0.0
	for _, b := range balance {
		sum += b * b
	}
	return math.Sqrt(sum / 5)
}

// tasteIt brews a setup and notes the planted cup as a person does.
func (k *kitchen) tasteIt(w wantedCup, s app.BrewSetup, parent *app.BrewParams) app.BrewParams {
	k.t.Helper()
	tds, balance := w.balanceOf(s)
	o := app.BrewOutcome{TDS: math.Round(100*(tds+0.02*k.random.NormFloat64())) / 100, Beverage: math.Round(s.Dose * (s.Ratio - 2))}
	for i, of := range []string{"acid", "sweet", "bitter", "body", "finish"} {
		v := max(-1, min(balance[i]+0.1*k.random.NormFloat64(), 1))
		o.Balance = append(o.Balance, app.BalanceMark{Of: of, Mark: 100 * int(math.Round(10*v))})
	}
	return k.brew(s, parent, 180, o)
}

// Whoever brews what the app proposes, one change at a time, comes near to what the coffee wants, which nobody told the app.
func TestAdviceApproachesAPlantedOptimum(t *testing.T) {
	const brews = 8
	wants := []wantedCup{{1.55, 21, 1, 1}, {1.2, 18, 1.4, 0.6}, {1.5, 19, 0.7, 2}, {1.25, 20.5, 1, -1}}
	before, after := 0.0, 0.0
	for i, w := range wants {
		k := newKitchen(t, uint64(20+i))
		s := k.setup
		s.Kettle = 88
		_, first := w.balanceOf(s)
		before += off(first)
		last := k.tasteIt(w, s, nil)
		var view app.AdviceView
		for range brews {
			view = see[app.AdviceView](t, k.vega, app.ViewAdvice, last)
			if !view.Ready || view.Verdict == "" || len(view.Reasons) == 0 {
				t.Fatalf("%+v", view)
			}
			if view.Setup == nil {
				break
			}
			if c := changesOf(s, *view.Setup); view.Verdict == "change" && c == 0 {
				t.Fatalf("nothing is changed: %+v", view)
			}
			base := view.Base
			last = k.tasteIt(w, *view.Setup, &base)
		}
		best := see[app.BrewView](t, k.vega, app.ViewBrew, view.Base)
		_, balance := w.balanceOf(best.Setup)
		t.Logf("wants %+v: off by %.2f at first, %.2f at the recommended %s, 1:%v, %v °C; %s after %d cups", w, off(first), off(balance), best.Setup.Grind, best.Setup.Ratio, best.Setup.Kettle, view.Verdict, view.Cups)
		after += off(balance)
	}
	if after > before/2 {
		t.Errorf("off by %.2f on average at first, by %.2f at last", before/float64(len(wants)), after/float64(len(wants)))
	}
}

func changesOf(a, b app.BrewSetup) (n int) {
	for _, differ := range []bool{a.Grind != b.Grind, a.Ratio != b.Ratio, a.Kettle != b.Kettle, len(a.Steps) != len(b.Steps)} {
		if differ {
			n++
		}
	}
	for i := range min(len(a.Steps), len(b.Steps)) {
		if a.Steps[i] != b.Steps[i] {
			n++
		}
	}
	return n
}

// A proposal changes one thing of its base, speaks in percent where the screens do, and says how many cups are behind it.
func TestAdviceSpeaksInTheScreensUnits(t *testing.T) {
	k := newKitchen(t, 30)
	w := wantedCup{1.6, 21, 1, 1}
	last := k.tasteIt(w, k.setup, nil)
	for _, grind := range []int{26, 22} {
		last = k.tasteIt(w, at(k.setup, 15, grind), &last)
	}
	v := see[app.AdviceView](t, k.vega, app.ViewAdvice, last)
	if v.Verdict != "change" || v.Setup == nil || v.Cups != 3 || v.Better < 65 || v.Better > 99 {
		t.Fatalf("%+v", v)
	}
	if assumed := slices.ContainsFunc(v.Reasons, func(r app.Reason) bool { return r.Code == response.ReasonCoarserUp }); assumed != (v.Variable == "grind") {
		t.Errorf("nobody said which way this grinder is coarser: %q for %+v", v.Variable, v.Reasons)
	}
	base := see[app.BrewView](t, k.vega, app.ViewBrew, v.Base)
	if n := changesOf(base.Setup, *v.Setup); n != 1 {
		t.Errorf("%d things change from %+v to %+v", n, base.Setup, *v.Setup)
	}
	if v.TDS == nil || v.TDS.Before.Value < 1 || v.TDS.Before.Value > 2 || v.EY == nil || v.EY.Before.Value < 15 || v.EY.Before.Value > 25 {
		t.Errorf("percent are %+v and %+v", v.TDS, v.EY)
	}
	if v.Seconds == nil || !near(v.Seconds.Before.Value, 180, 0.2) || v.Seconds.Change.Value < 0.5 || v.Seconds.Change.Value > 2 {
		t.Errorf("seconds, and a factor: %+v", v.Seconds)
	}
	if len(v.Balance) != 5 || v.Balance[0].Of != "acid" || v.Balance[0].Before.Value > 0 || math.Abs(v.Balance[0].Before.Value) > 1 {
		t.Errorf("the balance from -1 to 1: %+v", v.Balance)
	}
	if v.Left == nil || v.Left.Attempts != 3 { // 100 g, 10 kept, three brews of 15 g made
		t.Errorf("what is left: %+v", v.Left)
	}
}

func TestAdviceSaysWhenItCannotTell(t *testing.T) {
	k := newKitchen(t, 31)
	untasted := k.brew(k.setup, nil, 180, app.BrewOutcome{})
	v := see[app.AdviceView](t, k.vega, app.ViewAdvice, untasted)
	if v.Verdict != "few" || v.Setup != nil || v.Cups != 0 || v.Reasons[0].Code != "no-cups" {
		t.Fatalf("of a cup that nobody tasted: %+v", v)
	}
	bowl := k.setup
	bowl.BrewerID, bowl.Brewer, bowl.Geometry, bowl.Method, bowl.RecipeID, bowl.Recipe, bowl.Steps = "", "", "cupping-bowl", "bowl", "", "", nil
	b := k.brew(bowl, nil, 600, app.BrewOutcome{Balance: k.taste(0.5)})
	if v := see[app.AdviceView](t, k.vega, app.ViewAdvice, b); v.Verdict == "change" || v.Setup != nil || v.Cups != 0 {
		t.Errorf("of a bowl: %+v", v)
	}
	steep := k.setup
	steep.BrewerID, steep.Brewer, steep.Geometry, steep.RecipeID, steep.Recipe, steep.Steps = "", "a jug", "steep-and-drain", "", "", nil
	b = k.brew(steep, nil, 240, app.BrewOutcome{Balance: k.taste(-0.8)})
	if v := see[app.AdviceView](t, k.vega, app.ViewAdvice, b); v.Setup == nil || v.Seconds != nil {
		t.Errorf("where the clock decides a time is foretold: %+v", v)
	}
	agreed := k.brew(k.other, nil, 180, app.BrewOutcome{Balance: k.taste(0)})
	for range 3 {
		agreed = k.brew(k.other, nil, 180, app.BrewOutcome{Balance: k.taste(0)})
	}
	if v := see[app.AdviceView](t, k.vega, app.ViewAdvice, agreed); v.Verdict != "keep" || v.Setup != nil {
		t.Errorf("of a cup in agreement: %+v", v)
	}
	words := k.setup
	words.GrinderID, words.Grinder, words.Grind, words.Dose, words.Ratio, words.Water, words.Kettle = "", "", "middling", 0, 0, 0, 0
	words.RecipeID, words.Recipe, words.Steps = "", "", nil
	b = k.brew(words, nil, 180, app.BrewOutcome{Balance: k.taste(0.6)})
	if v := see[app.AdviceView](t, k.vega, app.ViewAdvice, b); v.Verdict == "change" || v.Setup != nil {
		t.Errorf("without a scale, a thermometer or numbers on the grinder nothing can be proposed: %+v", v)
	}
}

// Too weak a cup wants a finer grind, whichever way the grinder counts.
func TestFinerIsWhereTheGrindersStopsSayItIs(t *testing.T) {
	for _, c := range []struct {
		finest, coarse string
		up, told       bool
	}{{"", "", false, false}, {"0", "60", false, true}, {"60", "0", true, true}} {
		k := newKitchen(t, 40)
		s := k.setup
		s.GrinderID = do[app.Saved](t, k.vega, app.CmdGrinderSave, app.Grinder{Name: "another", Scale: "clicks", Finest: c.finest, Coarse: c.coarse}).ID
		s.RecipeID, s.Recipe, s.Steps, s.Dose, s.Ratio, s.Kettle, s.Scoops = "", "", nil, 0, 0, 0, 2 // nothing but the grind can be changed
		weak := []app.BalanceMark{{Of: "acid", Mark: -500}, {Of: "sweet", Mark: 500}, {Of: "bitter", Mark: -700}, {Of: "body", Mark: -700}, {Of: "finish", Mark: -500}}
		v := see[app.AdviceView](t, k.vega, app.ViewAdvice, k.brew(s, nil, 150, app.BrewOutcome{Balance: weak}))
		if v.Variable != "grind" || v.FromName != "24" || (v.To > v.From) != c.up || v.Setup.Grind != v.ToName {
			t.Errorf("from finest %q to coarsest %q: %s from %q to %q", c.finest, c.coarse, v.Variable, v.FromName, v.ToName)
		}
		assumed := slices.ContainsFunc(v.Reasons, func(r app.Reason) bool { return r.Code == response.ReasonCoarserUp })
		if assumed == c.told {
			t.Errorf("from finest %q to coarsest %q: %+v", c.finest, c.coarse, v.Reasons)
		}
	}
}
