package app

// whole says whether all of the index is at hand, and asks for the rest of it: a bucket in a reading, since a long one would hold up
// whatever comes meanwhile, a tap as well. A start asks before anything else, so that the first search finds it at hand.
func (x *index) whole(a *App) bool {
	all := true
	for _, bucket := range x.bench.Buckets {
		_, read := x.page(a, bucket)
		all = all && read
	}
	a.watches.whole = a.watches.whole || !all
	return all
}

// page gives a bucket's brews, newest first; false while they are being read.
func (x *index) page(a *App, bucket int64) (page, bool) {
	if page, ok := x.pages[bucket]; ok {
		return page, true
	}
	a.watches.reading = true
	if x.asked[bucket] {
		return nil, false
	}
	if x.asked == nil {
		x.asked = map[int64]bool{}
	}
	x.asked[bucket] = true
	x.save(a) // what is to be found
	a.readOwn(bucketKeys(bucket), func(found []StoredRecord) {
		x.ready(a)
		delete(x.asked, bucket)
		x.takePage(bucket, found)
		x.changed()
		if len(x.asked) == 0 {
			x.meanwhile = nil
			x.heal()
			_, _ = a.searchBrews(BrewsParams{Search: BrewSearch{Words: "a"}}) // for nobody: a browser is slowest with what runs the first time
		}
		a.packIn(packAfter)
	})
	return nil, false
}

// takePage keeps a bucket that was read, with what was digested since it was asked for.
func (x *index) takePage(bucket int64, found []StoredRecord) {
	p := x.readPage(found)
	for _, e := range x.meanwhile {
		if bucketOf(e.Created) == bucket && x.known[e.ref()] {
			p = p.with(e)
		}
	}
	if x.pages == nil {
		x.pages = map[int64]page{}
	}
	x.pages[bucket] = p
	for _, record := range found {
		x.loosen(record.Key)
	}
}
