package app

import (
	"sort"
	"strings"
)

// whole says whether all of the index is at hand, and asks for the rest of it in one reading.
func (x *index) whole(a *App) bool {
	if _, missing := x.missing(); !missing {
		return true
	}
	a.watches.reading = true
	if x.askedAll {
		return false
	}
	x.askedAll = true
	x.beforeReading(a)
	a.readOwn(brewKeys, func(found []StoredRecord) {
		x.askedAll = false
		x.takeAll(found)
	})
	return false
}

// missing is the newest bucket that was not read.
func (x *index) missing() (bucket int64, missing bool) {
	for _, bucket := range x.bench.Buckets {
		if _, read := x.pages[bucket]; !read {
			return bucket, true
		}
	}
	return 0, false
}

// warm reads the rest of the index a bucket at a time, while nobody waits for it, so that the first search finds it at hand.
func (x *index) warm(a *App) {
	if !x.warming || len(x.asked) > 0 || x.askedAll {
		return
	}
	bucket, missing := x.missing()
	if x.warming = missing; missing {
		x.page(a, bucket)
	}
}

// page gives a bucket's entries, newest first; false while they are being read.
func (x *index) page(a *App, bucket int64) (entries, bool) {
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
	x.beforeReading(a)
	a.readOwn(bucketKeys(bucket), func(found []StoredRecord) {
		delete(x.asked, bucket)
		x.takePage(bucket, found)
		x.doneReading()
	})
	return nil, false
}

// beforeReading writes what is to be found.
func (x *index) beforeReading(a *App) {
	x.ready(a)
	x.save(a)
}

func (x *index) doneReading() {
	x.changed()
	if len(x.asked) == 0 && !x.askedAll {
		x.meanwhile = nil
	}
}

// takeAll sorts what was read into its buckets. The keys of a bucket lie together, oldest first.
func (x *index) takeAll(found []StoredRecord) {
	from := func(key string) int {
		return sort.Search(len(found), func(i int) bool { return found[i].Key >= key })
	}
	for _, bucket := range x.bench.Buckets {
		if _, read := x.pages[bucket]; read {
			continue
		}
		list := found[from(bucketKeys(bucket)):]
		upto := sort.Search(len(list), func(i int) bool { return !strings.HasPrefix(list[i].Key, bucketKeys(bucket)) })
		x.takePage(bucket, list[:upto])
	}
	x.doneReading()
}

// takePage keeps a bucket that was read, with what was digested since it was asked for.
func (x *index) takePage(bucket int64, found []StoredRecord) {
	page := x.decodePage(found)
	for _, e := range x.meanwhile {
		if bucketOf(e.Created) == bucket && x.known[e.ref()] {
			page = page.with(e)
		}
	}
	if x.pages == nil {
		x.pages = map[int64]entries{}
	}
	x.pages[bucket] = page
}

// decodePage reads a bucket's records, which come in the order of their keys, oldest first. An entry whose brew is gone
// (thrown away on another device) is left out.
func (x *index) decodePage(records []StoredRecord) entries {
	page := make(entries, 0, len(records))
	for i := len(records) - 1; i >= 0; i-- {
		if e := decodeEntry(records[i].Value); e != nil && x.known[e.ref()] {
			page = append(page, e)
		}
	}
	return page
}
