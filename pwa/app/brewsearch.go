package app

import (
	"math"
	"slices"
	"strings"
)

// lookBrews gives a page of the log. Without a search it reads only the months that it shows; a search reads the whole index
// once, which then stays at hand; so does a page somewhere in the middle.
func (a *App) lookBrews(params BrewsParams) (BrewsView, *Error) {
	if err := within("limit", params.Limit, 1, mostPage); err != nil {
		return BrewsView{}, err
	}
	if err := within("skip", params.Skip, 0, math.MaxInt32); err != nil {
		return BrewsView{}, err
	}
	if params.Search != (BrewSearch{}) || params.Skip > 0 {
		return a.searchBrews(params)
	}
	v, last := BrewsView{All: a.index.count()}, ""
	v.Found = v.All
	for _, bucket := range a.index.bench.Buckets {
		if params.After != "" && bucketKeys(bucket) > params.After {
			continue // newer than where the page begins
		}
		page, ok := a.index.page(a, bucket)
		if !ok {
			return v, nil
		}
		for _, l := range page {
			if params.After != "" && l.key() >= params.After {
				continue
			}
			if len(v.Brews) == params.Limit {
				v.More, v.Ready = last, true
				return v, nil
			}
			last = v.add(l)
		}
	}
	v.Ready = true
	return v, nil
}

func (a *App) searchBrews(params BrewsParams) (BrewsView, *Error) {
	v, last := BrewsView{All: a.index.count()}, ""
	if v.Ready = a.index.whole(a); !v.Ready {
		return v, nil
	}
	find := params.Search.finder()
	for _, bucket := range a.index.bench.Buckets {
		for _, l := range a.index.pages[bucket] {
			if !find(l) {
				continue
			}
			v.Found++
			switch {
			case params.After != "" && l.key() >= params.After, v.Found <= params.Skip:
			case len(v.Brews) < params.Limit:
				last = v.add(l)
			default:
				v.More = last
			}
		}
	}
	return v, nil
}

// add lists a brew, and gives its key.
func (v *BrewsView) add(l *line) (key string) {
	if e := l.entry(); e != nil {
		v.Brews = append(v.Brews, e.Digest)
	}
	return l.key()
}

// finder tells the brews that a search finds. It is asked of thousands, so all that can be is worked out beforehand.
func (s BrewSearch) finder() func(*line) bool {
	words := strings.Fields(searched(s.Words))
	coffee, brewer, grinder, recipe := asked(s.Coffee), asked(s.Brewer), asked(s.Grinder), itemDoc(s.Recipe)
	onlyWords := s == BrewSearch{Words: s.Words}
	var scratch entry
	return func(l *line) bool {
		for _, word := range words {
			if !begins(l.text, word) {
				return false
			}
		}
		if onlyWords {
			return true
		}
		e := l.head(&scratch)
		f, d := &e.Facts, &e.Digest
		switch {
		case s.Sample != "" && s.Sample != d.Sample,
			s.From != 0 && d.Began < s.From, s.Until != 0 && d.Began >= s.Until,
			s.Bowls && !f.Bowl, s.Measured && f.TDS == 0,
			s.Recipe != "" && !slices.Contains(e.Items, recipe),
			!coffee.is(f.Coffee, d.Coffee), !brewer.is(f.Brewer, d.Brewer), !grinder.is(f.Grinder, ""):
			return false
		}
		return true
	}
}

// begins says whether a word of a text begins so. A space stands before each, and too often for a search for it to be quick.
func begins(text, word string) bool {
	for from := 0; ; {
		i := strings.Index(text[from:], word)
		if i < 0 {
			return false
		}
		if from += i + 1; from > 1 && text[from-2] == ' ' {
			return true
		}
	}
}

// wanted is an item that a search asks for, by its id or by its name; empty asks for none.
type wanted struct{ id, name string }

func asked(text string) wanted { return wanted{text, folded(text)} }

// is tells by the key of an item's brews, or by the name where the key is an id.
func (w wanted) is(key, name string) bool {
	return w.id == "" || w.id == key || w.name == key || len(w.name) <= len(name) && w.name == folded(name)
}
