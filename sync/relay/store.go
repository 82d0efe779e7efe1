package relay

import (
	"context"

	"hushcup/sync/oplog"
)

// Store keeps books. All its methods may be called from many sessions and many servers at once.
//
// Errors: a Store returns ErrDown (wrapped) when it cannot be reached or refuses for now (nothing was done, or, after a
// commit whose answer was lost, it may have been done: the phone resends and is answered from what is there), and any other
// error for a fault that waiting does not mend.
type Store interface {
	// Write runs fn in one transaction that holds the book's row locked against every other server, creating the row for a
	// new book if create is set. When Write returns nil everything that fn appended is durable (it survives power loss);
	// when it returns an error nothing of it is visible. fn may be run again after a serialisation failure. fn's own error
	// is returned as it is and rolls back.
	Write(ctx context.Context, book oplog.BookID, create bool, fn func(Tx) error) error

	// Read gives placed runs after a position, in order, whole runs only, at least one if there is one, then at most
	// limit.Bytes.
	Read(ctx context.Context, book oplog.BookID, after uint64, limit Limit) ([]oplog.Placed, error)

	// Head says where a book's order stands; a book that does not exist has Head{Exists: false}.
	Head(ctx context.Context, book oplog.BookID) (Head, error)

	// Chain gives the chain value at a position up to the head; ok is false when there is none.
	Chain(ctx context.Context, book oplog.BookID, pos uint64) (chain oplog.Hash, ok bool, err error)

	// BooksOf lists the books in which a device is enrolled now.
	BooksOf(ctx context.Context, device oplog.DeviceID) ([]oplog.BookID, error)

	// Heads lists the heads of all books that changed since a moving mark that it returns ("" asks for the mark only); for
	// the slow poll.
	Heads(ctx context.Context, since string) (changed []oplog.BookID, mark string, err error)
}

// Tx is one transaction on one book.
type Tx interface {
	// Head as of this transaction.
	Head() Head

	// Control gives every entry after a position that can change the rules' state (control kinds, ops that carry a wrap,
	// guesses) together with the device heads it needs, as whole runs in order: an implementation may simply give all runs.
	Runs(after uint64, limit Limit) ([]oplog.Placed, error)

	// Chain gives the chain value at a position up to the head.
	Chain(pos uint64) (chain oplog.Hash, ok bool, err error)

	// Append stores a run of entries at the positions after the head. Unique (book, position) and (book, device, seq).
	Append(run *oplog.Run, entries []oplog.Entry) error

	// SetEnrolled makes BooksOf say which devices are in the book.
	SetEnrolled(in, out []oplog.DeviceID) error

	// SetRestored marks or unmarks a book that was filled from phones after the store lost its tail.
	SetRestored(restored bool) error

	// Drop forgets the bodies at positions; headers and chains stay.
	Drop(positions []uint64) error
}

// Head is where a book stands in a store.
type Head struct {
	Exists   bool
	Order    oplog.Order
	Restored bool
}

// Limit bounds a read.
type Limit struct {
	Bytes int
	Runs  int
}
