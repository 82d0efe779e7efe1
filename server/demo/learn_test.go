package demo

import (
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
)

// learnt is what the app tells somebody of their brews of one coffee.
type learnt struct {
	of      []app.BrewDigest // newest first
	advice  app.AdviceView
	repeat  app.RepeatView
	compare app.CompareView
	trials  app.TrialsView
	trend   app.TrendView
	planned app.BrewPlanned
}

func learn(t *testing.T, phone *village.Phone, coffee string) (l learnt) {
	t.Helper()
	for _, b := range looked[app.BrewsView](t, phone, app.ViewBrews, app.BrewsParams{Limit: 200}).Brews {
		if b.Coffee == coffee && b.Method != "bowl" {
			l.of = append(l.of, b)
		}
	}
	if len(l.of) < 2 {
		t.Fatalf("%d brews of %q", len(l.of), coffee)
	}
	newest, oldest := brewOf(l.of[0]), brewOf(l.of[len(l.of)-1])
	l.advice = looked[app.AdviceView](t, phone, app.ViewAdvice, newest)
	l.repeat = looked[app.RepeatView](t, phone, app.ViewRepeat, newest)
	l.compare = looked[app.CompareView](t, phone, app.ViewCompare, app.CompareParams{First: oldest, Second: newest})
	l.trials = looked[app.TrialsView](t, phone, app.ViewTrials, oldest)
	l.trend = looked[app.TrendView](t, phone, app.ViewTrend, app.TrendParams{Limit: 500})
	setup := looked[app.BrewView](t, phone, app.ViewBrew, newest).Setup
	planned, err := village.Do[app.BrewPlanned](phone, app.CmdBrewPlan, app.BrewPlan{Setup: setup})
	if err != nil {
		t.Fatal(err)
	}
	l.planned = planned
	return l
}

func brewOf(b app.BrewDigest) app.BrewParams { return app.BrewParams{Book: b.Book, Brew: b.Brew} }

func looked[V any](t *testing.T, phone *village.Phone, name string, params any) V {
	t.Helper()
	value, err := village.See[V](phone, name, params)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return value
}

// Every screen about what was learned has something to say to Vega.
func vegaLearns(t *testing.T, phone *village.Phone) {
	t.Helper()
	l := learn(t, phone, terrace.Name)
	if a := l.advice; a.Verdict != "change" && a.Verdict != "keep" || a.Cups < 10 || a.Left == nil && a.Verdict == "change" {
		t.Errorf("what to change next: %+v", a)
	}
	for _, s := range l.repeat.Brewed {
		if !s.Enough {
			t.Errorf("how equal her brews are: %+v", s)
		}
	}
	for _, s := range l.repeat.Bowls {
		if tasted := s.Of == "acid" || s.Of == "finish"; tasted && (!s.Enough || s.Brews != 4 || s.Recipes != 2) {
			t.Errorf("how equal her bowls are: %+v", s)
		}
	}
	if l.compare.Verdict == "few" || l.compare.Changes == nil || len(l.compare.By) != 9 {
		t.Errorf("two side by side: %q, %+v", l.compare.Verdict, l.compare.By)
	}
	one, several := 0, 0
	for _, row := range l.trials.Rows {
		if row.Since != nil && row.Since.Verdict == "one" {
			one++
		} else if row.Since != nil && row.Since.Verdict == "several" {
			several++
		}
	}
	if len(l.trials.Rows) != 5 || one != 3 || several != 1 {
		t.Errorf("the first evening's trials: %d, %d with one change, %d with more", len(l.trials.Rows), one, several)
	}
	if len(l.trend.Points) < 20 || !l.trend.Ready {
		t.Errorf("%d points", len(l.trend.Points))
	}
	p := l.planned
	if p.Time == nil || !p.Time.Enough || p.Grind == nil || !p.Grind.Known || p.Ration == nil || p.Ration.Attempts < 3 || p.Caffeine == nil || p.Purge == nil {
		t.Errorf("before the next one: %+v %+v %+v", p.Time, p.Grind, p.Ration)
	}
}

// Lyra has brewed too little for most of it, and is told so.
func lyraIsToldToBrewMore(t *testing.T, phone *village.Phone) {
	t.Helper()
	l := learn(t, phone, kitchens["Lyra"].coffees[0].Name)
	if l.compare.Verdict != "few" || len(l.compare.Reasons) == 0 {
		t.Errorf("two side by side: %+v", l.compare)
	}
	for _, s := range l.repeat.Bowls {
		if s.Enough {
			t.Errorf("bowls that she never set: %+v", s)
		}
	}
	if l.planned.Grind != nil {
		t.Errorf("the valve decides the time, and still the grind is %+v", l.planned.Grind)
	}
}
