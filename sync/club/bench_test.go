package club_test

import (
	"fmt"
	"testing"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
)

// evenings is a club with a history: flights of six samples, each guessed by three.
func evenings(b *testing.B, flights int) *world {
	w := newWorld(b)
	w.run("vega create")
	w.run("vega invites door uses=20")
	for _, name := range []string{"mira", "lyra", "altair", "rigel", "deneb"} {
		w.run(name + " joins door")
	}
	for f := range flights {
		w.run(fmt.Sprintf("vega flight f%d", f))
		for code := 100; code < 106; code++ {
			w.run(fmt.Sprintf("vega seals f%d %d/%d", f, code, f))
			for _, name := range []string{"mira", "lyra", "altair"} {
				w.run(fmt.Sprintf("%s writes guess:%d/%d", name, code, f))
			}
		}
	}
	return w
}

// The cost of judging a part must not grow with the book: compare the two.
func BenchmarkAdmitPart(b *testing.B) {
	for _, flights := range []int{1, 20} {
		w := evenings(b, flights)
		b.Run(fmt.Sprintf("flights=%d", flights), func(b *testing.B) {
			runs := manyParts(w, b.N)
			b.ResetTimer()
			for i := range runs {
				if _, err := w.server.Admit(&runs[i], w.now, nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// What a phone pays for each entry of a long log, its chains included.
func BenchmarkFoldPart(b *testing.B) {
	w := evenings(b, 5)
	runs := manyParts(w, b.N)
	entries := make([]oplog.Entry, 0, b.N)
	order := w.phone.Order()
	for i := range runs {
		placed, next := order.Entries(&runs[i], w.now)
		entries, order = append(entries, placed...), next
	}
	b.ResetTimer()
	b.ReportAllocs()
	for i := range entries {
		if err := w.phone.Fold(entries[i], nil); err != nil {
			b.Fatal(err)
		}
		w.docs.Fold(entries[i], w.phone)
	}
}

func manyParts(w *world, n int) []oplog.Run {
	author := w.device("mira")
	head, key := w.server.Head(author.id()), w.server.Epoch().ID
	runs := make([]oplog.Run, n)
	body := make([]byte, 298)
	for i := range runs {
		op := oplog.New(oplog.Header{
			Book: w.book, Device: author.id(), Seq: head.Seq + 1, Prev: head.Hash, Time: oplog.TimeAt(w.now),
			Kind: oplog.Part, Doc: oplog.DocID{1, byte(i), byte(i >> 8)}, Part: 1, Keys: []oplog.KeyID{key},
		}, body)
		runs[i] = oplog.Run{Ops: []oplog.Op{op}}
		head = oplog.Head{Seq: op.Seq, Hash: op.Hash()}
	}
	return runs
}

// A notebook of 5,000 brews of five parts each, as a start reads it and a save writes it.
func BenchmarkDocsSnapshot(b *testing.B) {
	w := evenings(b, 1)
	runs := manyParts(w, 25_000)
	order := w.phone.Order()
	for i := range runs {
		placed, next := order.Entries(&runs[i], w.now)
		if err := w.phone.Fold(placed[0], nil); err != nil {
			b.Fatal(err)
		}
		w.docs.Fold(placed[0], w.phone)
		order = next
	}
	packed := w.docs.Encode()
	b.Run("encode", func(b *testing.B) {
		b.SetBytes(int64(len(packed)))
		for b.Loop() {
			w.docs.Encode()
		}
	})
	b.Run("decode", func(b *testing.B) {
		b.SetBytes(int64(len(packed)))
		for b.Loop() {
			if _, err := club.DecodeDocs(packed); err != nil {
				b.Fatal(err)
			}
		}
	})
}
