package storetest

import (
	"bytes"
	"crypto/ed25519"
	"testing"

	"hushcup/sync/oplog"
	"hushcup/sync/relay"
)

// Book is a device that writes a book of its own, with real chains and signatures. A store does not judge, so what the ops
// mean does not matter here.
type Book struct {
	ID    oplog.BookID
	Order oplog.Order

	device oplog.DeviceID
	key    ed25519.PrivateKey
	head   oplog.Head
	placed []oplog.Placed
	chains map[uint64]oplog.Hash
}

// NewBook gives a book whose bytes depend on n alone.
func NewBook(n byte) *Book {
	key := ed25519.NewKeyFromSeed(bytes.Repeat([]byte{n}, ed25519.SeedSize))
	b := &Book{ID: oplog.BookID{n, 0xff}, key: key, chains: map[uint64]oplog.Hash{}}
	copy(b.device[:], key.Public().(ed25519.PublicKey))
	return b
}

// Run gives the next ops of the device, of so many bytes each.
func (b *Book) Run(ops, size int) oplog.Run {
	list := make([]oplog.Op, ops)
	for i := range list {
		list[i] = b.op(oplog.Part, size)
	}
	return b.sign(list...)
}

func (b *Book) op(kind oplog.Kind, size int) oplog.Op {
	h := oplog.Header{Book: b.ID, Device: b.device, Seq: b.head.Seq + 1, Prev: b.head.Hash, Kind: kind, Doc: oplog.DocID{7}}
	if kind == oplog.Part {
		h.Keys = []oplog.KeyID{{1}}
	}
	op := oplog.New(h, bytes.Repeat([]byte{byte(h.Seq)}, size))
	b.head = oplog.Head{Seq: h.Seq, Hash: op.Hash()}
	return op
}

func (b *Book) sign(ops ...oplog.Op) oplog.Run {
	return oplog.Sign(ops, func(message []byte) [64]byte { return [64]byte(ed25519.Sign(b.key, message)) })
}

func (b *Book) write(t *testing.T, s relay.Store, runs ...oplog.Run) {
	t.Helper()
	check(t, s.Write(ctx, b.ID, true, func(tx relay.Tx) error {
		for i := range runs {
			if err := b.put(tx, &runs[i]); err != nil {
				return err
			}
		}
		return nil
	}))
}

// put appends a run after the book's order and notes what must come back.
func (b *Book) put(tx relay.Tx, run *oplog.Run) error {
	at := b.Order.At + 10
	entries, order := b.Order.Entries(run, at)
	if err := tx.Append(run, entries); err != nil {
		return err
	}
	b.placed = append(b.placed, oplog.Placed{First: b.Order.Pos + 1, At: at, Run: run.Pack()})
	for _, e := range entries {
		b.chains[e.Order.Pos] = e.Order.Chain
	}
	b.Order = order
	return nil
}

func check(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// same compares runs byte for byte; a dropped body and an empty one differ.
func same(t *testing.T, got, want []oplog.Placed) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%d runs, want %d", len(got), len(want))
	}
	for i := range got {
		g, w := &got[i], &want[i]
		if g.First != w.First || g.At != w.At || !bytes.Equal(g.Run.Sig, w.Run.Sig) || len(g.Run.Ops) != len(w.Run.Ops) {
			t.Fatalf("run %d is another: first %d at %d with %d ops, want %d at %d with %d", i, g.First, g.At, len(g.Run.Ops),
				w.First, w.At, len(w.Run.Ops))
		}
		for j := range g.Run.Ops {
			g, w := &g.Run.Ops[j], &w.Run.Ops[j]
			if !bytes.Equal(g.Raw, w.Raw) || (g.Body == nil) != (w.Body == nil) || g.Body != nil && !bytes.Equal(*g.Body, *w.Body) {
				t.Fatalf("op %d of run %d is another", j, i)
			}
		}
	}
}
