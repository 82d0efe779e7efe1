package relay

import (
	"context"
	"errors"
	"sync/atomic"

	"hushcup/sync/oplog"
)

// A store that was out of reach may have come back without its newest entries, as after a failover. doubts counts how often
// that may have happened; a book that was ordered on since then has lost nothing, and needs no offers from phones.
type doubts struct{ atomic.Uint64 }

// Doubt says that the store may have lost something: whoever drives the relay calls it when a connection to the database broke.
// A call of the store that fails with ErrDown is noticed without it.
func (r *Relay) Doubt() { r.doubts.Add(1) }

// live says that this server has ordered something in the book itself and has had no reason to doubt the store since.
func (r *Relay) live(b *book) bool { return b.ordered == r.doubts.Load()+1 }

// doubting notices when a store does not answer.
type doubting struct {
	store  Store
	doubts *doubts
}

func (d doubting) notice(err error) error {
	if errors.Is(err, ErrDown) {
		d.doubts.Add(1)
	}
	return err
}

func (d doubting) Write(ctx context.Context, book oplog.BookID, create bool, fn func(Tx) error) error {
	return d.notice(d.store.Write(ctx, book, create, fn))
}

func (d doubting) Read(ctx context.Context, book oplog.BookID, after uint64, limit Limit) ([]oplog.Placed, error) {
	runs, err := d.store.Read(ctx, book, after, limit)
	return runs, d.notice(err)
}

func (d doubting) Head(ctx context.Context, book oplog.BookID) (Head, error) {
	head, err := d.store.Head(ctx, book)
	return head, d.notice(err)
}

func (d doubting) Chain(ctx context.Context, book oplog.BookID, pos uint64) (oplog.Hash, bool, error) {
	chain, ok, err := d.store.Chain(ctx, book, pos)
	return chain, ok, d.notice(err)
}

func (d doubting) BooksOf(ctx context.Context, device oplog.DeviceID) ([]oplog.BookID, error) {
	books, err := d.store.BooksOf(ctx, device)
	return books, d.notice(err)
}

func (d doubting) Heads(ctx context.Context, since string) ([]oplog.BookID, string, error) {
	changed, mark, err := d.store.Heads(ctx, since)
	return changed, mark, d.notice(err)
}
