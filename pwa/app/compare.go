package app

import (
	"cmp"

	"hushcup/pwa/core/brewing"
	"hushcup/pwa/core/repeat"
)

// comparedBrew is one of two brews side by side.
type comparedBrew struct {
	entry *entry
	setup trialSetup
	view  BrewView
}

// lookCompare puts two brews side by side and judges what differs by one's own repeated brews in the brewers of both.
func (a *App) lookCompare(params CompareParams) (v CompareView, refusal *Error) {
	first, err := a.compared(params.First)
	second, also := a.compared(params.Second)
	for _, err := range []*Error{err, also} {
		switch {
		case err == errReading:
			return v, nil
		case err != nil:
			return v, err
		}
	}
	if when(first.entry) > when(second.entry) {
		first, second = second, first
	}
	v.First, v.Second = &first.view, &second.view
	v.Changes = changesBetween(&first.setup, &second.setup)
	v.Match = a.matched(&first.view, &second)
	own, ready := a.ownOf(first.entry, second.entry)
	if !ready {
		return v, nil
	}
	v.Ready = true
	v.judge(own, first.entry, second.entry)
	return v, nil
}

func when(e *entry) int64 {
	if e.Digest.Began != 0 {
		return e.Digest.Began
	}
	return e.Created
}

func (a *App) compared(params BrewParams) (out comparedBrew, err *Error) {
	var b openBrew
	if out.entry, b, err = a.ownEntry(params); err != nil {
		return out, err
	}
	out.setup = trialOf(out.entry, b.content.Setup.setup())
	out.view, err = a.lookBrew(params)
	return out, err
}

// matched is the ratio at which a brew would be as strong as another one. What was lengthened has no ratio of its own.
func (a *App) matched(wanted *BrewView, b *comparedBrew) *Interval {
	var content brewContent
	if open, err := a.brew(b.view.Book, b.view.Brew); err == nil {
		content = open.content
	}
	s, contact := &content.Setup, contactOf(content.Setup.Method)
	retained := cmp.Or(content.Kitchen.Retained, contact.Retained())
	at, low, high, ok := brewing.Match(contact, brewing.Ratio(brewing.Grams(s.Dose), brewing.Grams(s.Water)), retained,
		brewing.Fraction(b.view.Outcome.TDS/100), brewing.Fraction(wanted.Outcome.TDS/100), content.Kitchen.instruments().TDS)
	if !ok || b.view.Outcome.Bypass > 0 || b.entry.Facts.Bowl {
		return nil
	}
	return &Interval{at, low, high}
}

// trialOf is a brew as changes are told.
func trialOf(e *entry, setup BrewSetup) trialSetup {
	return trialSetup{BrewSetup: setup, Key: e.Facts.Coffee, Code: e.Digest.Code, Ground: e.Facts.Grind, Set: e.Facts.GrindSet}
}

// ownOf is one's own repeatability for two brews.
func (a *App) ownOf(first, second *entry) (own *repeat.Own, ready bool) {
	if first.Facts.Bowl {
		bowls, ready := a.bowls()
		return ownRepeat(bowls, repeat.Bowl), ready
	}
	brewed, ready := a.brewed(func(e *entry) bool {
		return e.Facts.Brewer == first.Facts.Brewer || e.Facts.Brewer == second.Facts.Brewer
	})
	return ownRepeat(brewed, repeat.Brewed), ready
}

var compareVerdicts = [...]string{
	repeat.NotEnough: "few", repeat.OtherMethods: "methods", repeat.NoDifference: "none", repeat.MayBeBrewing: "brewing",
	repeat.NotTheCoffee: "same-coffee", repeat.CanBeCoffee: "coffee",
}

// judge says what the difference can be. That what was set up differs makes the brewing a cause as well, whatever was measured.
func (v *CompareView) judge(own *repeat.Own, first, second *entry) {
	v.Verdict = "few"
	c, err := own.Compare([]repeat.Cup{first.cup()}, []repeat.Cup{second.cup()})
	if err != nil {
		return
	}
	v.Verdict, v.By, v.Reasons = compareVerdicts[c.Verdict], differences(c), repeatReasons(c.Reasons)
	if (v.Verdict == "coffee" || v.Verdict == "same-coffee") && !v.alike() {
		v.Verdict = "brewing"
	}
	for _, q := range quantities {
		if c.By[q].Known {
			v.Brews = max(v.Brews, own.Spread(q).Brews)
		}
	}
}

// alike reports whether nothing but the coffee was set up otherwise.
func (v *CompareView) alike() bool {
	if v.Changes == nil {
		return false
	}
	for _, c := range v.Changes.List {
		if c.Field != "coffee" && c.Kind != "unknown" {
			return false
		}
	}
	return true
}
