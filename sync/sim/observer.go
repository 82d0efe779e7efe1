package sim

import (
	"context"
	"crypto/sha256"
	"fmt"
	"slices"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/relay"
	"hushcup/sync/relay/memstore"
)

// place is a position in one history of a book.
type place struct {
	book  oplog.BookID
	pos   uint64
	chain oplog.Hash
}

// digest is a fingerprint of what a book's log means at a place; zero where none was taken.
type digest [32]byte

// observer reads a store as whoever runs the server could, and folds every book for itself. It is who phones are compared
// with, and it never asks a relay.
type observer struct {
	w     *World
	store *memstore.Store
	mark  string
	books map[oplog.BookID]*watched
	order []*watched // as they appeared
}

// watched is one book as the observer folded it.
type watched struct {
	id      oplog.BookID
	state   *club.State
	docs    *club.Docs
	order   oplog.Order
	chain   []oplog.Hash
	entries []oplog.Entry   // with the bodies that they came with
	ends    []uint64        // the last position of each run
	dropped map[uint64]bool // positions whose bodies a store may have forgotten
	reckon  *reckoning
}

func newObserver(w *World, store *memstore.Store) *observer {
	return &observer{w: w, store: store, mark: "0", books: map[oplog.BookID]*watched{}}
}

func newWatched(id oplog.BookID) *watched {
	return &watched{id: id, state: club.New(), docs: club.NewDocs(), reckon: newReckoning(), dropped: map[uint64]bool{}}
}

// observe looks at what was stored since the last time. It must come before any phone can hear of it.
func (w *World) observe() {
	w.looking = true
	defer func() { w.looking = false }()
	for _, o := range w.observers {
		changed, mark, err := o.store.Heads(context.Background(), o.mark)
		if err != nil {
			w.fail("the observer cannot read: %v", err)
		}
		o.mark = mark
		for _, id := range changed {
			o.follow(id)
		}
	}
}

func (o *observer) follow(id oplog.BookID) {
	b := o.books[id]
	if b == nil {
		b = newWatched(id)
		o.books[id] = b
		o.order = append(o.order, b)
		if !slices.Contains(o.w.bookIDs, id) {
			o.w.bookIDs = append(o.w.bookIDs, id)
		}
	}
	runs, err := o.store.Read(context.Background(), id, b.order.Pos, relay.Limit{})
	if err != nil {
		o.w.fail("the observer cannot read: %v", err)
	}
	for i := range runs {
		run, err := runs[i].Run.Unpack()
		if err != nil {
			o.w.fail("promise 5: the store of %.4s holds at %d what does not verify: %v", id, runs[i].First, err)
		}
		if runs[i].First != b.order.Pos+1 {
			o.w.fail("promise 5: position %d of %.4s is followed by %d in the store", b.order.Pos, id, runs[i].First)
		}
		o.take(b, run.Ops, runs[i].At)
	}
}

// take folds a run and notes the place where it ends.
func (o *observer) take(b *watched, ops []oplog.Op, at int64) {
	for i := range ops {
		e := oplog.Entry{Op: ops[i], Order: b.order.Next(ops[i].Hash(), at)}
		if err := b.fold(&e); err != nil {
			o.w.fail("promise 2: the server stored at %d of %.4s what the rules call %v", e.Order.Pos, b.id, err)
		}
		o.w.countOp(&ops[i])
	}
	b.ends = append(b.ends, b.order.Pos)
	at0 := place{b.id, b.order.Pos, b.order.Chain}
	if _, known := o.w.known[at0]; !known {
		o.w.known[at0] = o.w.digestAt(at0, b.state)
	}
}

func (b *watched) fold(e *oplog.Entry) error {
	if err := b.state.Fold(*e, b.chainAt); err != nil {
		return err
	}
	for _, pos := range b.docs.Fold(*e, b.state) {
		b.dropped[pos] = true
	}
	b.order = e.Order
	b.chain = append(b.chain, e.Order.Chain)
	b.entries = append(b.entries, *e)
	b.reckon.take(e)
	return nil
}

func (b *watched) chainAt(pos uint64) (oplog.Hash, bool) {
	if pos == 0 || pos > uint64(len(b.chain)) {
		return oplog.Hash{}, pos == 0
	}
	return b.chain[pos-1], true
}

// digestAt takes the fingerprint of a state at one place in a few; all who fold choose the same ones.
func (w *World) digestAt(at place, s *club.State) digest {
	if w.thinned > 1 && (at.pos+uint64(at.chain[0]))%w.thinned != 0 {
		return digest{}
	}
	return sha256.Sum256(s.Encode())
}

// upTo folds the book anew, as far as a position.
func (b *watched) upTo(pos uint64) *watched {
	shorter := newWatched(b.id)
	for i := range b.entries[:pos] {
		if err := shorter.fold(&b.entries[i]); err != nil {
			panic(err) // it was folded before
		}
	}
	for _, end := range b.ends {
		if end <= pos {
			shorter.ends = append(shorter.ends, end)
		}
	}
	return shorter
}

// forgetTail follows a store that lost what came after a position.
func (o *observer) forgetTail(id oplog.BookID, pos uint64) {
	if pos == 0 {
		delete(o.books, id)
		o.order = slices.DeleteFunc(o.order, func(b *watched) bool { return b.id == id })
		return
	}
	b := o.books[id].upTo(pos)
	o.books[id] = b
	for i := range o.order {
		if o.order[i].id == id {
			o.order[i] = b
		}
	}
}

// somePast draws a book and one of the last places at which a backup of it could have been taken.
func (w *World) somePast() (b *watched, pos uint64) {
	books := w.observers[0].order
	if len(books) == 0 {
		return nil, 0
	}
	b = pick(&w.rng, books)
	back := 1 + w.rng.upTo(min(6, len(b.ends)))
	if at := len(b.ends) - 1 - back; at >= 0 {
		pos = b.ends[at]
	}
	return b, pos
}

// countOp notes which kinds were ordered.
func (w *World) countOp(op *oplog.Op) { w.count(fmt.Sprintf("ordered kind %d", op.Kind)) }
