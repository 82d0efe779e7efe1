package app

import (
	"math"

	"hushcup/pwa/core/repeat"
)

// quantities are all that core/repeat judges, in its order.
var quantities = []repeat.Quantity{
	repeat.Seconds, repeat.Beverage, repeat.TDS, repeat.EY, repeat.Acid, repeat.Sweet, repeat.Bitter, repeat.Body, repeat.Finish,
}

// lookRepeat tells the spread of one's brews. With a brew named it is that of the brews in its brewer: a press repeats
// otherwise than a cone. Bowls are all of a kind.
func (a *App) lookRepeat(params BrewParams) (v RepeatView, refusal *Error) {
	brewer := func(*entry) bool { return true }
	if params.Brew != "" {
		asked, _, err := a.ownEntry(params)
		if err == errReading {
			return v, nil
		}
		if err != nil {
			return v, err
		}
		brewer = func(e *entry) bool { return e.Facts.Brewer == asked.Facts.Brewer || asked.Facts.Bowl }
	}
	brewed, ready := a.brewed(brewer)
	bowls, also := a.bowls()
	v.Ready = ready && also
	v.Brewed, v.Bowls = spreads(brewed, repeat.Brewed), spreads(bowls, repeat.Bowl)
	return v, nil
}

// bowls are the newest cupping bowls that may be learned from, oldest first.
func (a *App) bowls() (oldest []*entry, ready bool) {
	found, ready := a.facts(mostFacts, func(e *entry) bool { return e.Facts.Counts && e.Facts.Bowl })
	return reversed(found), ready
}

func spreads(brews []*entry, method repeat.Method) (out []Spread) {
	own := ownRepeat(brews, method)
	for _, q := range quantities {
		s := own.Spread(q)
		out = append(out, Spread{
			Of: q.String(), Deviation: Interval(s.Deviation), Limit: s.Limit, Brews: s.Brews, Recipes: s.Recipes, Enough: s.Enough,
		})
	}
	return out
}

// ownRepeat leaves out what core/repeat refuses: one odd number in an old brew must not hide all others.
func ownRepeat(brews []*entry, method repeat.Method) *repeat.Own {
	var cups []repeat.Cup
	for _, e := range brews {
		if c := e.cup(); c.Check() == nil {
			cups = append(cups, c)
		}
	}
	own, err := repeat.Of(cups, method)
	if err != nil { // every cup was checked
		own = &repeat.Own{Method: method}
	}
	return own
}

// differences are those of what is known on both sides; those of what is measured as a share.
func differences(c repeat.Comparison) (out []Difference) {
	for _, q := range quantities {
		d := c.By[q]
		if !d.Known {
			continue
		}
		by := Interval(d.By)
		if !d.Enough {
			by.Low, by.High = by.Value, by.Value
		}
		if !q.Tasted() {
			by = Interval{math.Expm1(by.Value), math.Expm1(by.Low), math.Expm1(by.High)}
		}
		out = append(out, Difference{Of: q.String(), Enough: d.Enough, By: by, Chance: 100 * d.Chance, Beyond: d.Beyond})
	}
	return out
}

// repeatReasons name the quantity that each is about.
func repeatReasons(reasons []repeat.Reason) (out []Reason) {
	for _, r := range reasons {
		reason := Reason{Code: r.Code, N: r.N, Of: r.Quantity.String()}
		switch r.Code {
		case repeat.ReasonUntold, repeat.ReasonUnread, repeat.ReasonMethods:
			reason.Of = ""
		case repeat.ReasonBeyond:
			if !r.Quantity.Tasted() {
				reason.N = math.Expm1(r.N)
			}
		}
		out = append(out, reason)
	}
	return out
}
