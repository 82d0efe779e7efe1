// Package memstore is a relay.Store in memory, for the simulation and for tests. It can fail every write in the two ways that
// a real one fails: nothing was done, or everything was done and the answer was lost. And it can lose a book's tail, as a
// database does that comes back from a backup.
package memstore

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"strconv"
	"sync"

	"hushcup/sync/oplog"
	"hushcup/sync/relay"
)

// Fate is what becomes of a call.
type Fate uint8

// The fates. A read that is Lost or Persisted fails with ErrDown.
const (
	Works     Fate = iota
	Lost           // nothing is done; the caller gets ErrDown
	Persisted      // it is done; the caller gets ErrDown all the same
)

// Store is safe for concurrent use. Fail, when set, is asked before every call: "write", "read", "head", "chain", "booksof",
// "heads".
type Store struct {
	Fail func(call string) Fate

	mu    sync.Mutex
	books map[oplog.BookID]*book
	mark  uint64
}

// New gives an empty store.
func New() *Store { return &Store{books: map[oplog.BookID]*book{}} }

type book struct {
	rows     []row
	restored bool
	enrolled map[oplog.DeviceID]bool
	mark     uint64
	places   map[place]uint64
}

type place struct {
	device oplog.DeviceID
	seq    uint64
}

type row struct {
	device oplog.DeviceID
	seq    uint64
	hash   oplog.Hash
	kind   oplog.Kind
	raw    []byte
	body   *[]byte
	sig    []byte // on the last op of a run
	order  oplog.Order
}

func (b *book) head() relay.Head {
	h := relay.Head{Exists: true, Restored: b.restored}
	if n := len(b.rows); n > 0 {
		h.Order = b.rows[n-1].order
	}
	return h
}

func (b *book) clone() *book {
	c := &book{rows: slices.Clone(b.rows), restored: b.restored, enrolled: map[oplog.DeviceID]bool{}, places: map[place]uint64{}}
	for device := range b.enrolled {
		c.enrolled[device] = true
	}
	for p, pos := range b.places {
		c.places[p] = pos
	}
	return c
}

func (s *Store) fate(call string) Fate {
	if s.Fail == nil {
		return Works
	}
	return s.Fail(call)
}

// Write implements relay.Store. The transaction works in place and is undone by a log when it fails.
func (s *Store) Write(ctx context.Context, id oplog.BookID, create bool, fn func(relay.Tx) error) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	fate := s.fate("write")
	if fate == Lost {
		return down("write")
	}
	b, exists := s.books[id]
	if !exists {
		if !create {
			return relay.ErrNoBook
		}
		b = &book{enrolled: map[oplog.DeviceID]bool{}, places: map[place]uint64{}}
	}
	t := &tx{book: b}
	if err := fn(t); err != nil {
		t.rollback()
		return err
	}
	s.mark++
	b.mark = s.mark
	s.books[id] = b
	if fate == Persisted {
		return down("write")
	}
	return nil
}

func down(call string) error { return fmt.Errorf("%s: %w", call, relay.ErrDown) }

// Read implements relay.Store.
func (s *Store) Read(_ context.Context, id oplog.BookID, after uint64, limit relay.Limit) ([]oplog.Placed, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.fate("read") != Works {
		return nil, down("read")
	}
	b, ok := s.books[id]
	if !ok {
		return nil, nil
	}
	return b.runs(after, limit), nil
}

// Head implements relay.Store.
func (s *Store) Head(_ context.Context, id oplog.BookID) (relay.Head, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.fate("head") != Works {
		return relay.Head{}, down("head")
	}
	if b, ok := s.books[id]; ok {
		return b.head(), nil
	}
	return relay.Head{}, nil
}

// Chain implements relay.Store.
func (s *Store) Chain(_ context.Context, id oplog.BookID, pos uint64) (oplog.Hash, bool, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.fate("chain") != Works {
		return oplog.Hash{}, false, down("chain")
	}
	b, ok := s.books[id]
	if !ok {
		return oplog.Hash{}, false, nil
	}
	chain, ok := b.chain(pos)
	return chain, ok, nil
}

// BooksOf implements relay.Store.
func (s *Store) BooksOf(_ context.Context, device oplog.DeviceID) ([]oplog.BookID, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.fate("booksof") != Works {
		return nil, down("booksof")
	}
	var ids []oplog.BookID
	for id, b := range s.books {
		if b.enrolled[device] {
			ids = append(ids, id)
		}
	}
	slices.SortFunc(ids, compare)
	return ids, nil
}

// Heads implements relay.Store.
func (s *Store) Heads(_ context.Context, since string) ([]oplog.BookID, string, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.fate("heads") != Works {
		return nil, "", down("heads")
	}
	mark := strconv.FormatUint(s.mark, 10)
	if since == "" {
		return nil, mark, nil
	}
	from, err := strconv.ParseUint(since, 10, 64)
	if err != nil {
		return nil, "", fmt.Errorf("heads: mark %q: %w", since, err)
	}
	var changed []oplog.BookID
	for id, b := range s.books {
		if b.mark > from {
			changed = append(changed, id)
		}
	}
	slices.SortFunc(changed, compare)
	return changed, mark, nil
}

func compare(a, b oplog.BookID) int { return bytes.Compare(a[:], b[:]) }

func (b *book) chain(pos uint64) (oplog.Hash, bool) {
	if pos == 0 || pos > uint64(len(b.rows)) {
		return oplog.Hash{}, false
	}
	return b.rows[pos-1].order.Chain, true
}

func (b *book) runs(after uint64, limit relay.Limit) []oplog.Placed {
	var runs []oplog.Placed
	bytes := 0
	for pos := after; pos < uint64(len(b.rows)); {
		run, size, next := b.run(pos, limit.Rules)
		if limit.Full(len(runs), bytes, size) {
			break
		}
		runs, bytes, pos = append(runs, run), bytes+size, next
	}
	return runs
}

// run gives the run that begins after a position, its size, and where it ends.
func (b *book) run(after uint64, rules bool) (placed oplog.Placed, size int, end uint64) {
	placed = oplog.Placed{First: after + 1, At: b.rows[after].order.At}
	for pos := after; ; pos++ {
		r := &b.rows[pos]
		op := oplog.PackedOp{Raw: r.raw, Body: r.body}
		if rules && !r.kind.Control() {
			op.Body = nil
		}
		placed.Run.Ops = append(placed.Run.Ops, op)
		size += len(op.Raw)
		if op.Body != nil {
			size += len(*op.Body)
		}
		if r.sig != nil {
			placed.Run.Sig = r.sig
			return placed, size, pos + 1
		}
	}
}
