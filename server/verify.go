package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"hushcup/server/store"
	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/relay"
)

// verify walks every book: each run's signature, each device's chain, the order chain up to the head, the rules, the bodies
// that should be there, and the list of devices. It reports the first fault.
func verify(ctx context.Context, s *settings, stdout io.Writer) error {
	if err := mustExist(s); err != nil {
		return err
	}
	if version, dirty, err := store.Version(ctx, s.database); err != nil {
		return unreachable(err)
	} else if dirty || version != store.Newest {
		return fmt.Errorf("the database's tables have version %d (half-way: %v), not %d: run `server migrate` first", version, dirty, store.Newest)
	}
	books, err := store.Open(ctx, s.database)
	if err != nil {
		return unreachable(err)
	}
	defer books.Close()
	ids, err := books.Books(ctx)
	if err != nil {
		return unreachable(err)
	}
	ops := uint64(0)
	for _, id := range ids {
		v := verifier{books: books, id: id, rules: club.New(), docs: club.NewDocs()}
		if err := v.walk(ctx); err != nil {
			return fmt.Errorf("book %.8s, position %d: %w", id, v.rules.Order().Pos+1, err)
		}
		ops += v.rules.Order().Pos
	}
	fmt.Fprintf(stdout, "%d books with %d entries: every chain holds\n", len(ids), ops)
	return nil
}

func isFile(database string) bool { return !strings.Contains(database, "://") }

// verifier walks one book.
type verifier struct {
	books  *store.Store
	id     oplog.BookID
	rules  *club.State
	docs   *club.Docs
	chains []oplog.Hash
}

func (v *verifier) walk(ctx context.Context) error {
	head, err := v.books.Head(ctx, v.id)
	if err != nil {
		return err
	}
	for v.rules.Order().Pos < head.Order.Pos {
		runs, err := v.books.Read(ctx, v.id, v.rules.Order().Pos, relay.Limit{Bytes: 1 << 20, Runs: 256})
		if err != nil {
			return err
		}
		if len(runs) == 0 {
			return fmt.Errorf("the entry is missing; the book's head says %d", head.Order.Pos)
		}
		for i := range runs {
			if err := v.run(ctx, &runs[i]); err != nil {
				return err
			}
		}
	}
	if v.rules.Order() != head.Order {
		return errors.New("the chain ends with another value than the book's head has")
	}
	if missing := v.docs.Missing(); len(missing) > 0 {
		return fmt.Errorf("the body at position %d is missing, though nothing superseded or erased it", missing[0])
	}
	return v.devices(ctx)
}

func (v *verifier) run(ctx context.Context, placed *oplog.Placed) error {
	if want := v.rules.Order().Pos + 1; placed.First != want {
		return fmt.Errorf("the next entry stands at %d", placed.First)
	}
	run, err := placed.Run.Unpack()
	if err != nil {
		return err
	}
	if placed.At < v.rules.Order().At {
		return errors.New("the server's time falls")
	}
	entries, _ := v.rules.Order().Entries(&run, placed.At)
	for _, e := range entries {
		stored, _, err := v.books.Chain(ctx, v.id, e.Order.Pos)
		if err != nil {
			return err
		}
		if stored != e.Order.Chain {
			return errors.New("the stored chain value is not that of the entries up to here")
		}
		if e.Op.BookOf() != v.id {
			return errors.New("the entry is of another book")
		}
		if err := v.rules.Fold(e, v.chainAt); err != nil {
			return err
		}
		v.chains = append(v.chains, e.Order.Chain)
		v.docs.Fold(e, v.rules)
	}
	return nil
}

func (v *verifier) chainAt(pos uint64) (oplog.Hash, bool) {
	if pos == 0 {
		return oplog.Hash{}, true
	}
	if pos > uint64(len(v.chains)) {
		return oplog.Hash{}, false
	}
	return v.chains[pos-1], true
}

// devices compares the list by which a device finds its books.
func (v *verifier) devices(ctx context.Context) error {
	for _, m := range v.rules.Members() {
		for i := range m.Devices {
			d := &m.Devices[i]
			books, err := v.books.BooksOf(ctx, d.Sign)
			if err != nil {
				return err
			}
			listed := false
			for _, id := range books {
				listed = listed || id == v.id
			}
			if _, in := v.rules.MemberOf(d.Sign); in != listed {
				return fmt.Errorf("device %.8s is listed as in the book: %v; the rules say %v", d.Sign, listed, in)
			}
		}
	}
	return nil
}
