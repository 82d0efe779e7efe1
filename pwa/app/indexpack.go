package app

import (
	"slices"
	"strconv"
	"strings"
)

// Thousands of small records take longer to read than what stands in them. So a bucket is packed into one record, in the same
// transaction that deletes the single ones, once enough of those lie beside it. That waits until nothing else was digested for a
// while, and is never needed: a bucket reads the same with it and without.

const (
	timerPack = "app pack"
	packAfter = 5_000 // milliseconds; the next one follows sooner
	packNext  = 200
	mostLoose = 32 // single records in the month that goes on
	fewLoose  = 4  // and in those that are over
)

// loosen notes a single record that was read or written beside a page that is at hand.
func (x *index) loosen(key string) {
	bucket, _ := strconv.ParseInt(key[len(brewKeys):len(brewKeys)+bucketDigits], 10, 64)
	if _, read := x.pages[bucket]; !read || strings.HasSuffix(key, packedName) || slices.Contains(x.loose[bucket], key) {
		return
	}
	if x.loose == nil {
		x.loose = map[int64][]string{}
	}
	x.loose[bucket] = append(x.loose[bucket], key)
}

func (a *App) packIn(after int64) {
	a.emit(TimerEffect{Kind: "timer", Name: timerPack, After: after})
}

// pack packs one bucket, the newest of those that need it, so that a tap does not wait for many. When there is none, what was not
// read yet is.
func (x *index) pack(a *App) {
	for _, bucket := range x.bench.Buckets {
		keys := x.loose[bucket]
		if len(keys) < fewLoose || len(keys) < mostLoose && bucket == bucketOf(a.now) {
			continue
		}
		delete(x.loose, bucket)
		a.persistOwn([]StoredRecord{{Key: bucketKeys(bucket) + packedName, Value: x.pages[bucket].pack()}}, keys, func(saved bool) {
			if saved {
				a.packIn(packNext)
				return
			}
			for _, key := range keys { // they are packed with what comes next
				x.loosen(key)
			}
		})
		return
	}
	x.whole(a)
}

// heal has digested again what should stand in the index and does not, once all of it was read.
func (x *index) heal() {
	lines := 0
	for _, bucket := range x.bench.Buckets {
		page, read := x.pages[bucket]
		if !read {
			return
		}
		lines += len(page)
	}
	if lines == len(x.known) {
		return
	}
	found := make(map[brewRef]bool, lines)
	for _, page := range x.pages {
		for _, l := range page {
			found[l.ref] = true
		}
	}
	for ref := range x.known {
		if !found[ref] {
			x.dirty(ref)
		}
	}
}
