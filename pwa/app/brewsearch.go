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
	a.index.warming = true // who reads the log may search it
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
		for _, e := range page {
			if params.After != "" && e.key() >= params.After {
				continue
			}
			if len(v.Brews) == params.Limit {
				v.More, v.Ready = last, true
				return v, nil
			}
			v.Brews = append(v.Brews, e.Digest)
			last = e.key()
		}
	}
	v.Ready = true
	return v, nil
}

func (a *App) searchBrews(params BrewsParams) (BrewsView, *Error) {
	v, last := BrewsView{All: a.index.count()}, ""
	find := params.Search.finder()
	v.Ready = a.index.whole(a)
	for _, bucket := range a.index.bench.Buckets {
		for _, e := range a.index.pages[bucket] {
			if !find(e) {
				continue
			}
			v.Found++
			switch {
			case params.After != "" && e.key() >= params.After, v.Found <= params.Skip:
			case len(v.Brews) < params.Limit:
				v.Brews = append(v.Brews, e.Digest)
				last = e.key()
			default:
				v.More = last
			}
		}
	}
	return v, nil
}

// finder tells the brews that a search finds. It is asked of thousands, so all that can be is worked out beforehand.
func (s BrewSearch) finder() func(*entry) bool {
	words := strings.Fields(searched(s.Words))
	for i := range words {
		words[i] = " " + words[i]
	}
	coffee, brewer, grinder, recipe := asked(s.Coffee), asked(s.Brewer), asked(s.Grinder), itemDoc(s.Recipe)
	return func(e *entry) bool {
		f, d := &e.Facts, &e.Digest
		switch {
		case s.Sample != "" && s.Sample != d.Sample,
			s.From != 0 && d.Began < s.From, s.Until != 0 && d.Began >= s.Until,
			s.Bowls && !f.Bowl, s.Measured && f.TDS == 0,
			s.Recipe != "" && !slices.Contains(e.Items, recipe),
			!coffee.is(f.Coffee, d.Coffee), !brewer.is(f.Brewer, d.Brewer), !grinder.is(f.Grinder, ""):
			return false
		}
		for _, word := range words {
			if !strings.Contains(f.Text, word) && !(d.Code != 0 && strings.HasPrefix(decimal(d.Code), word[1:])) {
				return false
			}
		}
		return true
	}
}

// wanted is an item that a search asks for, by its id or by its name; empty asks for none.
type wanted struct{ id, name string }

func asked(text string) wanted { return wanted{text, folded(text)} }

// is tells by the key of an item's brews, or by the name where the key is an id.
func (w wanted) is(key, name string) bool {
	return w.id == "" || w.id == key || w.name == key || len(w.name) <= len(name) && w.name == folded(name)
}
