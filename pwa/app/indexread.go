package app

import (
	"sort"
	"strings"
)

// together is how many buckets are read at a time: each reading takes a turn, and a long one would hold up whatever comes meanwhile,
// a tap as well.
const together = 4

// timerTrial has a search made for nobody: a browser is slowest with what runs the first time.
const timerTrial = "app trial"

// whole says whether all of the index is at hand, and asks for the rest of it, the newest bucket first and alone: the log begins
// with it.
func (x *index) whole(a *App) bool {
	all := true
	var group []int64
	for i, bucket := range x.bench.Buckets {
		if _, read := x.pages[bucket]; read {
			continue
		}
		all = false
		if x.asked[bucket] {
			continue
		}
		if group = append(group, bucket); i == 0 || len(group) == together {
			x.ask(a, group)
			group = nil
		}
	}
	if len(group) > 0 {
		x.ask(a, group)
	}
	a.watches.reading = a.watches.reading || !all
	a.watches.whole = a.watches.whole || !all
	return all
}

// page gives a bucket's brews, newest first; false while they are being read.
func (x *index) page(a *App, bucket int64) (page, bool) {
	if page, ok := x.pages[bucket]; ok {
		return page, true
	}
	a.watches.reading = true
	if !x.asked[bucket] {
		x.ask(a, []int64{bucket})
	}
	return nil, false
}

// ask reads buckets that follow each other, newest first.
func (x *index) ask(a *App, buckets []int64) {
	if x.asked == nil {
		x.asked = map[int64]bool{}
	}
	for _, bucket := range buckets {
		x.asked[bucket] = true
	}
	x.save(a) // what is to be found
	a.readOwn(bucketKeys(buckets[len(buckets)-1]), bucketKeys(buckets[0]), func(found []StoredRecord) {
		x.ready(a)
		for _, bucket := range buckets {
			delete(x.asked, bucket)
			x.takePage(bucket, beginning(found, bucketKeys(bucket)))
		}
		x.changed()
		if len(x.asked) == 0 {
			x.meanwhile = nil
			x.heal()
			a.emit(TimerEffect{Kind: "timer", Name: timerTrial, After: 0}) // after what waits for it
		}
		a.packIn(packAfter)
	})
}

// beginning are those of records in the order of their keys that begin so.
func beginning(records []StoredRecord, prefix string) []StoredRecord {
	from := sort.Search(len(records), func(i int) bool { return records[i].Key >= prefix })
	until := from
	for until < len(records) && strings.HasPrefix(records[until].Key, prefix) {
		until++
	}
	return records[from:until]
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
