package app

import "hushcup/sync/oplog"

// facts are the entries that keep takes, newest first, at most so many. Until ready older ones are still being read, and the
// look under way is made again.
func (a *App) facts(most int, keep func(*entry) bool) (newest []*entry, ready bool) {
	for i, bucket := range a.index.bench.Buckets {
		if i > 0 && !a.index.whole(a) { // the newest month alone answers most questions
			return newest, false
		}
		page, read := a.index.page(a, bucket)
		if !read {
			return newest, false
		}
		for _, l := range page {
			e := l.entry()
			if e == nil || !keep(e) {
				continue
			}
			if newest = append(newest, e); len(newest) == most {
				return newest, true
			}
		}
	}
	return newest, true
}

// usage is how often an item of the Cupboard was used.
type usage struct {
	count int
	last  int64
	grams float64
}

// used says how many brews used an item of the Cupboard, when one last did, and how many grams of coffee they took. It is right
// once the whole index is at hand, for which it asks.
func (x *index) used(a *App, what, id string) (count int, last int64, grams float64) {
	x.whole(a)
	if x.usage == nil {
		x.usage = map[oplog.DocID]usage{}
		var scratch entry
		for _, page := range x.pages {
			for _, l := range page {
				e := l.head(&scratch)
				for _, item := range e.Items {
					u := x.usage[item]
					u.count++
					u.last = max(u.last, e.Digest.Began)
					u.grams += e.Digest.Dose
					x.usage[item] = u
				}
			}
		}
	}
	u := x.usage[itemDoc(id)]
	return u.count, u.last, u.grams
}

// changed forgets what was counted over the entries.
func (x *index) changed() { x.usage = nil }
