package memstore_test

import (
	"context"
	"errors"
	"testing"

	"hushcup/sync/oplog"
	"hushcup/sync/relay"
	"hushcup/sync/relay/memstore"
	"hushcup/sync/relay/storetest"
)

func TestContract(t *testing.T) {
	storetest.Run(t, func(*testing.T) relay.Store { return memstore.New() })
}

func TestWritesFailTwoWays(t *testing.T) {
	for fate, kept := range map[memstore.Fate]uint64{memstore.Lost: 0, memstore.Persisted: 1} {
		s := memstore.New()
		s.Fail = func(call string) memstore.Fate {
			if call == "write" {
				return fate
			}
			return memstore.Works
		}
		b := storetest.NewBook(1)
		run := b.Run(1, 100)
		err := s.Write(context.Background(), b.ID, true, func(tx relay.Tx) error {
			entries, _ := oplog.Order{}.Entries(&run, 1)
			return tx.Append(&run, entries)
		})
		if !errors.Is(err, relay.ErrDown) {
			t.Errorf("fate %d: %v", fate, err)
		}
		head, err := s.Head(context.Background(), b.ID)
		if err != nil || head.Order.Pos != kept {
			t.Errorf("fate %d left %d ops (%v), want %d", fate, head.Order.Pos, err, kept)
		}
	}
}

func TestALostTailEndsWithAWholeRun(t *testing.T) {
	s, b := memstore.New(), storetest.NewBook(1)
	var order oplog.Order
	for range 3 {
		run := b.Run(2, 100)
		err := s.Write(context.Background(), b.ID, true, func(tx relay.Tx) (err error) {
			var entries []oplog.Entry
			entries, order = order.Entries(&run, 1)
			return tx.Append(&run, entries)
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	s.LoseTail(b.ID, 5, nil)
	if head, err := s.Head(context.Background(), b.ID); err != nil || head.Order.Pos != 4 {
		t.Fatalf("head at %d (%v), want 4", head.Order.Pos, err)
	}
}
