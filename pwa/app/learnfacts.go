package app

import (
	"slices"

	"hushcup/pwa/core/repeat"
	"hushcup/pwa/core/response"
	"hushcup/pwa/core/scaling"
)

// mostFacts bounds what is learned from: the newest brews that are about the question.
const mostFacts = 400

// brewed are the newest brews that may be learned from and that keep takes, oldest first. Cupping bowls are never among them.
func (a *App) brewed(keep func(*entry) bool) (oldest []*entry, ready bool) {
	found, ready := a.facts(mostFacts, func(e *entry) bool { return e.Facts.Counts && !e.Facts.Bowl && keep(e) })
	return reversed(found), ready
}

// between are the entries that keep takes of those planned in a time, newest first. Other months are not read.
func (a *App) between(since, until int64, keep func(*entry) bool) (newest []*entry, ready bool) {
	ready = true
	for _, bucket := range a.index.bench.Buckets {
		if bucket > bucketOf(until) || bucket < bucketOf(since) {
			continue
		}
		page, read := a.index.page(a, bucket)
		ready = ready && read
		for _, l := range page {
			if l.created < since || l.created > until {
				continue
			}
			if e := l.entry(); e != nil && keep(e) {
				newest = append(newest, e)
			}
		}
	}
	return newest, ready
}

func reversed(list []*entry) []*entry {
	out := slices.Clone(list)
	slices.Reverse(out)
	return out
}

// ownEntry is what is known of one brew, and the brew.
func (a *App) ownEntry(p BrewParams) (*entry, openBrew, *Error) {
	b, err := a.brew(p.Book, p.Brew)
	if err != nil {
		return nil, b, err
	}
	e, ok := a.entry(b.brewRef, b.part, &b.content)
	if !ok {
		return nil, b, errReading
	}
	return e, b, nil
}

func (e *entry) params() BrewParams { return BrewParams{e.Book.String(), e.Doc.String()} }

// shapeOf is what decides how time goes with the dose; false when nobody said how it is brewed. Where water stands on the coffee,
// in a press or above a valve, the clock decides.
func shapeOf(geometry, method string) (scaling.Shape, bool) {
	switch geometry {
	case "cone":
		return scaling.Cone, true
	case "flat-bed":
		return scaling.FlatBed, true
	case "steep-and-drain", "press-inverted", "press-upright", "cupping-bowl":
		return scaling.Immersion, true
	}
	switch method {
	case "drip":
		return scaling.Cone, true
	case "steep", "press", "bowl":
		return scaling.Immersion, true
	}
	return 0, false
}

// balance puts marks where the models count: from -1 to 1, by attribute.
func (f *brewFacts) balance(set func(attribute int, value float64)) {
	for _, mark := range f.Balance {
		if i := slices.Index(attributeNames, mark.Of); i >= 0 {
			set(i, float64(mark.Mark)/1000)
		}
	}
}

// attributeNames are the sides of a cup in the order in which the models count them.
var attributeNames = []string{
	response.Acid.String(), response.Sweet.String(), response.Bitter.String(), response.Body.String(), response.Finish.String(),
}

func (f *brewFacts) ratio() (float64, bool) {
	if f.Dose <= 0 || f.Water <= 0 {
		return 0, false
	}
	return f.Water / f.Dose, true
}

// cup is a brew as its repeatability is judged.
func (e *entry) cup() repeat.Cup {
	f := &e.Facts
	c := repeat.Cup{Recipe: f.Recipe, Coffee: f.Coffee}
	if f.Bowl {
		c.Method = repeat.Bowl
	}
	read := func(q repeat.Quantity, value float64) {
		if value > 0 {
			c.Values[q] = repeat.Read(value)
		}
	}
	read(repeat.Seconds, f.Seconds)
	read(repeat.Beverage, f.Beverage)
	read(repeat.TDS, f.TDS)
	read(repeat.EY, f.EY)
	f.balance(func(i int, value float64) { c.Values[int(repeat.Acid)+i] = repeat.Read(value) })
	return c
}
