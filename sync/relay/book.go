package relay

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"sync/atomic"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
)

// book is what a server keeps of one book. mu is held through a whole transaction: within a server a book's writers take
// turns here rather than at the database.
type book struct {
	id oplog.BookID

	// Owned by Books.
	users   int
	counted int

	size atomic.Int64 // in folded ops; see weigh
	line line         // runs that wait for a transaction

	mu       sync.Mutex
	rules    *club.State // nil: not read yet, or not to be trusted
	docs     *club.Docs  // nil when bodies are never dropped
	restored bool
	chains   chains
	feed     feed

	// What this server knows of the book beyond the store. It outlives forget.
	known   uint64 // the highest position that it saw stored
	ordered uint64 // see Relay.live
	lost    bool   // the store came back with less than known, and the book is not yet marked as restored
}

// source is where a book is read from: the store, or a transaction.
type source interface {
	Runs(after uint64, limit Limit) ([]oplog.Placed, error)
	Chain(pos uint64) (oplog.Hash, bool, error)
}

type storeSource struct {
	ctx   context.Context
	store Store
	id    oplog.BookID
}

func (s storeSource) Runs(after uint64, limit Limit) ([]oplog.Placed, error) {
	return s.store.Read(s.ctx, s.id, after, limit)
}

func (s storeSource) Chain(pos uint64) (oplog.Hash, bool, error) {
	return s.store.Chain(s.ctx, s.id, pos)
}

// errTooNew says that a newer server wrote to the book what this one does not understand.
var errTooNew = errors.New("a newer version wrote to this book")

// readLimit is how much is read at once to be folded.
var readLimit = Limit{Bytes: 1 << 20, Runs: 1024, Rules: true}

// forget throws away what the store may not hold.
func (b *book) forget() {
	b.rules, b.docs = nil, nil
	b.chains.clear()
	b.feed.clear()
}

// order is where the folded order stands.
func (b *book) order() oplog.Order {
	if b.rules == nil {
		return oplog.Order{}
	}
	return b.rules.Order()
}

// refresh folds what the store has and this server has not seen.
func (r *Relay) refresh(ctx context.Context, b *book) (Head, error) {
	head, err := r.store.Head(ctx, b.id)
	if err != nil {
		return Head{}, err
	}
	return head, r.catchUp(b, head, storeSource{ctx, r.store, b.id})
}

// fresh makes sure that the rules are there, be they the newest or not.
func (r *Relay) fresh(ctx context.Context, b *book) error {
	if b.rules != nil {
		return nil
	}
	_, err := r.refresh(ctx, b)
	return err
}

// catchUp folds up to a head. An order that is not a continuation of what was folded is that of a store which came back
// without its tail: then everything is read anew.
func (r *Relay) catchUp(b *book, head Head, from source) error {
	b.compare(head)
	if order := b.order(); order.Pos > head.Order.Pos || order.Pos == head.Order.Pos && order != head.Order {
		b.forget()
	}
	began := b.order().Pos
	err := r.foldUpTo(b, head, from)
	if err != nil && began > 0 && !errors.Is(err, ErrDown) && !errors.Is(err, errTooNew) {
		err = r.foldUpTo(b, head, from)
	}
	if err != nil {
		return faultFor(b.id, err)
	}
	b.restored, b.known = head.Restored, head.Order.Pos
	return nil
}

// compare notices that a store has lost what it once held.
func (b *book) compare(head Head) {
	if head.Order.Pos < b.known {
		b.known, b.ordered, b.lost = head.Order.Pos, 0, true
	}
}

// foldUpTo leaves nothing folded when it fails.
func (r *Relay) foldUpTo(b *book, head Head, from source) error {
	if b.rules == nil {
		b.rules = club.New()
		if !r.keep {
			b.docs = club.NewDocs()
		}
	}
	for b.order().Pos < head.Order.Pos {
		if err := b.foldNext(from); err != nil {
			b.forget()
			return err
		}
	}
	if order := b.order(); order.Pos == head.Order.Pos && order != head.Order {
		b.forget()
		return fmt.Errorf("the ops up to position %d do not chain to the stored head", order.Pos)
	}
	return nil
}

func (b *book) foldNext(from source) error {
	after := b.order().Pos
	runs, err := from.Runs(after, readLimit)
	if err != nil {
		return err
	}
	if len(runs) == 0 {
		return fmt.Errorf("nothing is stored after position %d", after)
	}
	for i := range runs {
		if err := b.foldRun(&runs[i], from); err != nil {
			return err
		}
	}
	return nil
}

// foldRun folds a stored run. Its signature was verified before it was stored.
func (b *book) foldRun(placed *oplog.Placed, from source) error {
	if placed.First != b.order().Pos+1 {
		return fmt.Errorf("position %d follows position %d", placed.First, b.order().Pos)
	}
	var failed error
	chainAt := b.chainAt(from, &failed)
	for i := range placed.Run.Ops {
		op, err := parseStored(&placed.Run.Ops[i])
		if err != nil {
			return err
		}
		entry := oplog.Entry{Op: op, Order: b.order().Next(op.Hash(), placed.At)}
		if err := b.fold(entry, chainAt); err != nil {
			return err
		}
		if failed != nil {
			return failed
		}
	}
	return nil
}

func parseStored(p *oplog.PackedOp) (oplog.Op, error) {
	if p.Body == nil {
		return oplog.Parse(p.Raw, nil)
	}
	if *p.Body == nil {
		return oplog.Parse(p.Raw, []byte{})
	}
	return oplog.Parse(p.Raw, *p.Body)
}

func (b *book) fold(e oplog.Entry, chainAt club.ChainAt) error {
	err := b.rules.Fold(e, chainAt)
	var void *club.Void
	var stop *club.Stop
	switch {
	case errors.As(err, &stop):
		return errTooNew
	case errors.As(err, &void): // it stays in the order and changes nothing
	case err != nil:
		return fmt.Errorf("position %d: %w", e.Order.Pos, err)
	}
	if b.docs != nil && err == nil {
		b.docs.Fold(e, b.rules)
	}
	b.advanced(e)
	return nil
}

// advanced keeps what later judgements look back at.
func (b *book) advanced(e oplog.Entry) {
	b.chains.add(e.Order)
	b.weigh()
}

// weigh keeps Books informed of how much memory the book takes.
func (b *book) weigh() { b.size.Store(int64(b.order().Pos) + int64(b.feed.bytes/opBytes)) }

// keep holds a chunk for the next reader.
func (b *book) keep(c chunk) {
	b.feed.keep(c)
	b.weigh()
}

// chainAt looks a chain value up in memory and then in the store; what goes wrong there is left in failed.
func (b *book) chainAt(from source, failed *error) club.ChainAt {
	return func(pos uint64) (oplog.Hash, bool) {
		if pos == 0 {
			return oplog.Hash{}, true
		}
		if pos > b.order().Pos {
			return oplog.Hash{}, false
		}
		if chain, ok := b.chains.get(pos); ok {
			return chain, true
		}
		chain, ok, err := from.Chain(pos)
		if err != nil {
			*failed = err
			return oplog.Hash{}, false
		}
		if ok {
			b.chains.older(pos, chain)
		}
		return chain, ok
	}
}
