package app

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"hushcup/sync/oplog"
)

// storedBrews are the records of so many brews as the disk hands them over: one a brew, or one a bucket.
func storedBrews(count int, packed bool) (a *App, records []StoredRecord) {
	a = manyBrews(count)
	i := 0
	for _, bucket := range a.index.bench.Buckets {
		var p page
		for _, l := range a.index.pages[bucket] {
			p = append(p, wordy(l.made, i).line())
			i++
			if !packed {
				records = append(records, StoredRecord{Key: l.key(), Value: l.encode()})
			}
		}
		if packed {
			records = append(records, StoredRecord{Key: bucketKeys(bucket) + packedName, Value: p.pack()})
		}
	}
	slices.SortFunc(records, func(x, y StoredRecord) int { return strings.Compare(x.Key, y.Key) })
	return a, records
}

// wordy gives an entry what somebody would have written.
func wordy(e *entry, i int) *entry {
	d := &e.Digest
	d.Coffee, d.Brewer, d.Recipe, d.Grind = fmt.Sprintf("Sidama, lot %d", i%60), "cone, 60 degrees", "three pours, short", fmt.Sprint(20+i%9)
	notes := fmt.Sprintf("bergamot, black tea; try %d: a little dry at the end, sweeter when it had cooled", i)
	e.Facts.Text = searched(d.Coffee, d.Brewer, d.Recipe, "conical", "valley spring", "paper, white", d.Grind, notes)
	e.Items = append(e.Items, [16]byte{2, byte(i % 60)}, [16]byte{3}, [16]byte{4}, [16]byte{5})
	return e
}

// BenchmarkSearch is what an answer costs with 5,000 brews: the first one, which reads the whole index from its records, single ones
// or packed, and every later one.
func BenchmarkSearch(b *testing.B) {
	words := BrewsParams{Limit: 40, Search: BrewSearch{Words: "sweeter berg"}}
	narrow := BrewsParams{Limit: 40, Search: BrewSearch{Words: "sweeter berg", Coffee: "Sidama, lot 7"}}
	look := func(b *testing.B, a *App, params BrewsParams) {
		if v, _ := a.lookBrews(params); v.Found == 0 || !v.Ready {
			b.Fatal("nothing is found")
		}
	}
	for name, packed := range map[string]bool{"single": false, "packed": true} {
		a, records := storedBrews(5000, packed)
		of := map[string][]StoredRecord{}
		for _, r := range records {
			keys := r.Key[:len(bucketKeys(0))]
			of[keys] = append(of[keys], r)
		}
		read := func() {
			a.index.pages, a.index.loose = nil, nil
			for _, bucket := range a.index.bench.Buckets {
				a.index.takePage(bucket, of[bucketKeys(bucket)])
			}
			a.out = nil
		}
		read()
		size := 0
		for _, r := range records {
			size += len(r.Value)
		}
		b.Logf("%s: %d bytes a brew", name, size/5000)
		for what, params := range map[string]BrewsParams{"words": words, "narrowed": narrow} {
			b.Run("first/"+name+"/"+what, func(b *testing.B) {
				for b.Loop() {
					read()
					look(b, a, params)
				}
			})
			b.Run("later/"+name+"/"+what, func(b *testing.B) {
				for b.Loop() {
					look(b, a, params)
				}
			})
		}
		b.Run("items/"+name, func(b *testing.B) {
			for b.Loop() {
				a.index.changed()
				if n, _, _ := a.index.used(a, "coffee", oplog.DocID{2, 7}.String()); n == 0 {
					b.Fatal("nothing is used")
				}
			}
		})
	}
}
