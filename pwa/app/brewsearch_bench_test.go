package app

import (
	"fmt"
	"testing"
)

// storedBrews are the records of so many brews as the disk hands them over.
func storedBrews(count int) (a *App, records []StoredRecord) {
	a = manyBrews(count)
	for i := len(a.index.bench.Buckets) - 1; i >= 0; i-- {
		page := a.index.pages[a.index.bench.Buckets[i]]
		for j := len(page) - 1; j >= 0; j-- {
			records = append(records, StoredRecord{Key: page[j].key(), Value: wordy(page[j], len(records)).encode()})
		}
	}
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

// BenchmarkSearch is what an answer costs with 5,000 brews: the first one, which reads the whole index from its records, and every
// later one.
func BenchmarkSearch(b *testing.B) {
	a, records := storedBrews(5000)
	params := BrewsParams{Limit: 40, Search: BrewSearch{Words: "sweeter berg", Coffee: "Sidama, lot 7"}}
	b.Run("first", func(b *testing.B) {
		for b.Loop() {
			a.index.pages = nil
			a.index.takeAll(records)
			if v, _ := a.lookBrews(params); v.Found == 0 || !v.Ready {
				b.Fatal("nothing is found")
			}
		}
	})
	b.Run("later", func(b *testing.B) {
		for b.Loop() {
			_, _ = a.lookBrews(params)
		}
	})
	size := 0
	for _, r := range records {
		size += len(r.Value)
	}
	b.Logf("%d bytes a brew", size/len(records))
}
