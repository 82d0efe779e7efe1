// Package storetest is the contract that every relay.Store must pass. A store's own test calls Run with a function that opens
// an empty store; what a store promises beyond the contract (durability, several servers) it tests itself.
package storetest

import (
	"bytes"
	"context"
	"errors"
	"slices"
	"sync"
	"testing"

	"hushcup/sync/oplog"
	"hushcup/sync/relay"
)

// Open gives an empty store that is closed when the test ends.
type Open func(t *testing.T) relay.Store

// Run checks the whole contract.
func Run(t *testing.T, open Open) {
	for _, c := range []struct {
		name string
		test func(*testing.T, relay.Store)
	}{
		{"an unknown book", unknownBook},
		{"what was appended comes back byte for byte", appended},
		{"a run is read whole", wholeRuns},
		{"a read for the rules may leave bodies of parts out", forRules},
		{"a failed write leaves nothing", rolledBack},
		{"a transaction sees what it did", seesItself},
		{"a position and a seq are taken once", takenOnce},
		{"places are found by device and seq", places},
		{"enrolled devices list their books", enrolled},
		{"the restored mark", restored},
		{"dropped bodies are gone, their chains stay", dropped},
		{"changed books are listed", heads},
		{"books do not mix", apart},
		{"writers of one book take turns", turns},
		{"an empty body is not a dropped one", emptyBody},
	} {
		t.Run(c.name, func(t *testing.T) { c.test(t, open(t)) })
	}
}

var ctx = context.Background()

func unknownBook(t *testing.T, s relay.Store) {
	id := oplog.BookID{1}
	head, err := s.Head(ctx, id)
	check(t, err)
	if head.Exists || head.Order != (oplog.Order{}) {
		t.Errorf("head of an unknown book is %+v", head)
	}
	runs, err := s.Read(ctx, id, 0, relay.Limit{})
	check(t, err)
	if len(runs) != 0 {
		t.Errorf("an unknown book has %d runs", len(runs))
	}
	if _, ok, err := s.Chain(ctx, id, 1); ok || err != nil {
		t.Errorf("chain of an unknown book: %v, %v", ok, err)
	}
	if books, err := s.BooksOf(ctx, oplog.DeviceID{1}); err != nil || len(books) != 0 {
		t.Errorf("books of an unknown device: %v, %v", books, err)
	}
	err = s.Write(ctx, id, false, func(relay.Tx) error { t.Error("fn ran for a book that does not exist"); return nil })
	if !errors.Is(err, relay.ErrNoBook) {
		t.Errorf("write to a book that does not exist: %v", err)
	}
}

func appended(t *testing.T, s relay.Store) {
	b := NewBook(1)
	for range 3 {
		b.write(t, s, b.Run(2, 300))
	}
	runs, err := s.Read(ctx, b.ID, 0, relay.Limit{})
	check(t, err)
	same(t, runs, b.placed)
	head, err := s.Head(ctx, b.ID)
	check(t, err)
	if want := (relay.Head{Exists: true, Order: b.Order}); head != want {
		t.Errorf("head is %+v, want %+v", head, want)
	}
	for pos := uint64(0); pos <= 8; pos++ {
		chain, ok, err := s.Chain(ctx, b.ID, pos)
		check(t, err)
		if want := pos >= 1 && pos <= 6; ok != want || ok && chain != b.chains[pos] {
			t.Errorf("chain at %d: %v %v", pos, chain, ok)
		}
	}
	// bytes come back as a verifiable run
	if _, err := runs[1].Run.Unpack(); err != nil {
		t.Errorf("a stored run no longer verifies: %v", err)
	}
}

func wholeRuns(t *testing.T, s relay.Store) {
	b := NewBook(1)
	for _, n := range []int{1, oplog.MaxRunOps, 3, 2} {
		b.write(t, s, b.Run(n, 200))
	}
	for _, c := range []struct {
		after uint64
		limit relay.Limit
		from  int
		to    int
	}{
		{0, relay.Limit{}, 0, 4},
		{0, relay.Limit{Runs: 1}, 0, 1},
		{0, relay.Limit{Bytes: 1}, 0, 1}, // at least one
		{1, relay.Limit{Bytes: 1}, 1, 2},
		{1, relay.Limit{Runs: 2}, 1, 3},
		{65, relay.Limit{}, 2, 4},
		{65, relay.Limit{Bytes: 5 * 1000}, 2, 4},
		{70, relay.Limit{}, 4, 4},
		{90, relay.Limit{}, 4, 4},
	} {
		runs, err := s.Read(ctx, b.ID, c.after, c.limit)
		check(t, err)
		same(t, runs, b.placed[c.from:c.to])
	}
}

func forRules(t *testing.T, s relay.Store) {
	b := NewBook(1)
	control := b.sign(b.op(oplog.Invite, 100))
	b.write(t, s, control, b.Run(2, 500))
	runs, err := s.Read(ctx, b.ID, 0, relay.Limit{Rules: true})
	check(t, err)
	if len(runs) != 2 || runs[0].Run.Ops[0].Body == nil {
		t.Fatalf("the body of a control op is missing: %+v", runs)
	}
	if !bytes.Equal(*runs[0].Run.Ops[0].Body, control.Ops[0].Body) {
		t.Error("the body of a control op is another")
	}
	if !bytes.Equal(runs[1].Run.Ops[1].Raw, b.placed[1].Run.Ops[1].Raw) {
		t.Error("a header is another")
	}
}

func rolledBack(t *testing.T, s relay.Store) {
	b := NewBook(1)
	b.write(t, s, b.Run(1, 100))
	fault := errors.New("no")
	before := *b
	err := s.Write(ctx, b.ID, false, func(tx relay.Tx) error {
		run := b.Run(2, 100)
		check(t, b.put(tx, &run))
		check(t, tx.SetEnrolled([]oplog.DeviceID{b.device}, nil))
		check(t, tx.SetRestored(true))
		check(t, tx.Drop([]uint64{1}))
		return fault
	})
	if err != fault {
		t.Errorf("fn's error came back as %v", err)
	}
	head, err := s.Head(ctx, b.ID)
	check(t, err)
	if head.Order != before.Order || head.Restored {
		t.Errorf("after a failed write the head is %+v", head)
	}
	runs, err := s.Read(ctx, b.ID, 0, relay.Limit{})
	check(t, err)
	same(t, runs, before.placed)
	if books, err := s.BooksOf(ctx, b.device); err != nil || len(books) != 0 {
		t.Errorf("a failed write enrolled a device: %v, %v", books, err)
	}
	// and a book whose first write failed does not exist
	other := NewBook(2)
	if err := s.Write(ctx, other.ID, true, func(relay.Tx) error { return fault }); err != fault {
		t.Errorf("fn's error came back as %v", err)
	}
	if head, err := s.Head(ctx, other.ID); err != nil || head.Exists {
		t.Errorf("a failed first write left a book: %+v, %v", head, err)
	}
}

func seesItself(t *testing.T, s relay.Store) {
	b := NewBook(1)
	b.write(t, s, b.Run(2, 100))
	check(t, s.Write(ctx, b.ID, false, func(tx relay.Tx) error {
		if got := tx.Head(); got.Order != b.Order || !got.Exists {
			t.Errorf("head in a transaction is %+v", got)
		}
		run := b.Run(3, 100)
		check(t, b.put(tx, &run))
		if got := tx.Head(); got.Order != b.Order {
			t.Errorf("head after an append is %+v, want %+v", got, b.Order)
		}
		chain, ok, err := tx.Chain(4)
		check(t, err)
		if !ok || chain != b.chains[4] {
			t.Errorf("chain of an op just appended: %v %v", chain, ok)
		}
		place, ok, err := tx.Place(b.device, 5)
		check(t, err)
		if !ok || place.Pos != 5 || place.Hash != run.Ops[2].Hash() {
			t.Errorf("place of an op just appended: %+v %v", place, ok)
		}
		runs, err := tx.Runs(0, relay.Limit{})
		check(t, err)
		same(t, runs, b.placed)
		return nil
	}))
}

func takenOnce(t *testing.T, s relay.Store) {
	b := NewBook(1)
	run := b.Run(2, 100)
	b.write(t, s, run)
	for name, order := range map[string]oplog.Order{"position": {}, "seq": b.Order} {
		entries, _ := order.Entries(&run, b.Order.At)
		err := s.Write(ctx, b.ID, false, func(tx relay.Tx) error { return tx.Append(&run, entries) })
		if err == nil || errors.Is(err, relay.ErrDown) {
			t.Errorf("a taken %s was answered with %v", name, err)
		}
	}
	runs, err := s.Read(ctx, b.ID, 0, relay.Limit{})
	check(t, err)
	same(t, runs, b.placed)
}

func places(t *testing.T, s relay.Store) {
	b := NewBook(1)
	run := b.Run(3, 100)
	b.write(t, s, run)
	check(t, s.Write(ctx, b.ID, false, func(tx relay.Tx) error {
		place, ok, err := tx.Place(b.device, 2)
		check(t, err)
		if want := (relay.Place{Pos: 2, At: b.Order.At, Hash: run.Ops[1].Hash()}); !ok || place != want {
			t.Errorf("place %+v %v, want %+v", place, ok, want)
		}
		if _, ok, err := tx.Place(b.device, 4); ok || err != nil {
			t.Errorf("a seq that is not there was found: %v", err)
		}
		if _, ok, err := tx.Place(oplog.DeviceID{9}, 1); ok || err != nil {
			t.Errorf("a device that is not there was found: %v", err)
		}
		return nil
	}))
}

func enrolled(t *testing.T, s relay.Store) {
	phone, laptop := oplog.DeviceID{1}, oplog.DeviceID{2}
	books := []*Book{NewBook(1), NewBook(2)}
	slices.SortFunc(books, func(a, b *Book) int { return bytes.Compare(a.ID[:], b.ID[:]) })
	set := func(b *Book, in, out []oplog.DeviceID) {
		check(t, s.Write(ctx, b.ID, true, func(tx relay.Tx) error { return tx.SetEnrolled(in, out) }))
	}
	list := func(device oplog.DeviceID, want ...oplog.BookID) {
		t.Helper()
		got, err := s.BooksOf(ctx, device)
		check(t, err)
		if !slices.Equal(got, want) {
			t.Errorf("books of %x are %v, want %v", device[0], got, want)
		}
	}
	set(books[0], []oplog.DeviceID{phone, laptop}, nil)
	set(books[1], []oplog.DeviceID{phone}, nil)
	list(phone, books[0].ID, books[1].ID)
	list(laptop, books[0].ID)
	set(books[0], []oplog.DeviceID{phone}, []oplog.DeviceID{laptop}) // enrolling twice is fine
	list(phone, books[0].ID, books[1].ID)
	list(laptop)
	set(books[0], nil, []oplog.DeviceID{laptop}) // so is removing twice
	list(laptop)
}

func restored(t *testing.T, s relay.Store) {
	b := NewBook(1)
	b.write(t, s, b.Run(1, 100))
	for _, want := range []bool{true, true, false} {
		check(t, s.Write(ctx, b.ID, false, func(tx relay.Tx) error {
			check(t, tx.SetRestored(want))
			if tx.Head().Restored != want {
				t.Error("a transaction does not see the mark that it set")
			}
			return nil
		}))
		head, err := s.Head(ctx, b.ID)
		check(t, err)
		if head.Restored != want || head.Order != b.Order {
			t.Errorf("head is %+v, want restored %v", head, want)
		}
	}
}

func dropped(t *testing.T, s relay.Store) {
	b := NewBook(1)
	b.write(t, s, b.Run(3, 100))
	check(t, s.Write(ctx, b.ID, false, func(tx relay.Tx) error {
		run := b.Run(1, 100)
		check(t, b.put(tx, &run))
		return tx.Drop([]uint64{2, 4}) // one that stood before, one of this transaction
	}))
	runs, err := s.Read(ctx, b.ID, 0, relay.Limit{})
	check(t, err)
	b.placed[0].Run.Ops[1].Body, b.placed[1].Run.Ops[0].Body = nil, nil
	same(t, runs, b.placed)
	if _, err := runs[0].Run.Unpack(); err != nil {
		t.Errorf("a run with a dropped body no longer verifies: %v", err)
	}
}

func heads(t *testing.T, s relay.Store) {
	one, two := NewBook(1), NewBook(2)
	one.write(t, s, one.Run(1, 100))
	changed, mark, err := s.Heads(ctx, "")
	check(t, err)
	if len(changed) != 0 || mark == "" {
		t.Fatalf("the first mark is %q with %d books", mark, len(changed))
	}
	two.write(t, s, two.Run(1, 100))
	changed, mark, err = s.Heads(ctx, mark)
	check(t, err)
	if !slices.Contains(changed, two.ID) {
		t.Errorf("changed books are %v, which lacks %v", changed, two.ID)
	}
	one.write(t, s, one.Run(1, 100))
	changed, _, err = s.Heads(ctx, mark)
	check(t, err)
	if !slices.Contains(changed, one.ID) {
		t.Errorf("changed books are %v, which lacks %v", changed, one.ID)
	}
}

func apart(t *testing.T, s relay.Store) {
	one, two := NewBook(1), NewBook(2)
	one.write(t, s, one.Run(2, 100))
	two.write(t, s, two.Run(1, 100))
	one.write(t, s, one.Run(1, 100))
	for _, b := range []*Book{one, two} {
		runs, err := s.Read(ctx, b.ID, 0, relay.Limit{})
		check(t, err)
		same(t, runs, b.placed)
	}
}

func turns(t *testing.T, s relay.Store) {
	const writers, each = 8, 5
	books := make([]*Book, writers) // one device each, all in the book of the first
	for i := range books {
		books[i] = NewBook(byte(i + 1))
	}
	id := books[0].ID
	var group sync.WaitGroup
	for _, b := range books {
		group.Add(1)
		go func() {
			defer group.Done()
			for range each {
				run := b.Run(1, 100)
				err := s.Write(ctx, id, true, func(tx relay.Tx) error {
					entries, _ := tx.Head().Order.Entries(&run, tx.Head().Order.At+1)
					return tx.Append(&run, entries)
				})
				if err != nil {
					t.Error(err)
				}
			}
		}()
	}
	group.Wait()
	head, err := s.Head(ctx, id)
	check(t, err)
	runs, err := s.Read(ctx, id, 0, relay.Limit{})
	check(t, err)
	if head.Order.Pos != writers*each || len(runs) != writers*each {
		t.Fatalf("head at %d, %d runs, want %d", head.Order.Pos, len(runs), writers*each)
	}
	var order oplog.Order
	for i := range runs {
		run, err := runs[i].Run.Unpack()
		check(t, err)
		_, order = order.Entries(&run, runs[i].At)
	}
	if order != head.Order {
		t.Errorf("the runs chain to %+v, the head is %+v", order, head.Order)
	}
}

func emptyBody(t *testing.T, s relay.Store) {
	b := NewBook(1)
	b.write(t, s, b.Run(1, 0))
	runs, err := s.Read(ctx, b.ID, 0, relay.Limit{})
	check(t, err)
	same(t, runs, b.placed)
}
