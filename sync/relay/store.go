package relay

import (
	"context"
	"errors"

	"hushcup/sync/oplog"
)

// ErrDown is what a Store returns (wrapped) when it cannot be reached or refuses for now: nothing was done, or, after a commit
// whose answer was lost, it may have been done. The phone resends and is answered from what is there.
var ErrDown = errors.New("the store does not answer")

// ErrNoBook is what Write returns for a book that does not exist and is not to be created.
var ErrNoBook = errors.New("the store has no such book")

// Store keeps books. All its methods may be called from many sessions and many servers at once.
//
// Errors: ErrDown (wrapped) as said there, ErrNoBook, and any other error for a fault that waiting does not mend.
type Store interface {
	// Write runs fn in one transaction that holds the book's row locked against every other server, creating the row for a
	// new book if create is set. When Write returns nil everything that fn did is durable (it survives power loss) and
	// visible to every later read; when it returns an error nothing of it is visible, except that after ErrDown all of it
	// may be. fn may be run again after a serialisation failure. fn's own error is returned as it is and rolls back.
	Write(ctx context.Context, book oplog.BookID, create bool, fn func(Tx) error) error

	// Read gives placed runs after a position, which is the last one of a run or zero, in order, whole runs only: at least
	// one if there is one, and no more than limit says after the first.
	Read(ctx context.Context, book oplog.BookID, after uint64, limit Limit) ([]oplog.Placed, error)

	// Head says where a book's order stands; a book that does not exist has Head{Exists: false}.
	Head(ctx context.Context, book oplog.BookID) (Head, error)

	// Chain gives the chain value at a position from 1 up to the head; ok is false when there is none.
	Chain(ctx context.Context, book oplog.BookID, pos uint64) (chain oplog.Hash, ok bool, err error)

	// BooksOf lists the books in which a device is enrolled now, sorted by id.
	BooksOf(ctx context.Context, device oplog.DeviceID) ([]oplog.BookID, error)

	// Heads lists the books that were written since a moving mark that it returns ("" asks for the mark only); for the slow
	// poll. A book may be listed though nothing is new; none that is new is left out.
	Heads(ctx context.Context, since string) (changed []oplog.BookID, mark string, err error)
}

// Tx is one transaction on one book. It sees what it did itself.
type Tx interface {
	// Head as of the last Append.
	Head() Head

	// Runs is Read within the transaction.
	Runs(after uint64, limit Limit) ([]oplog.Placed, error)

	// Chain is Store.Chain within the transaction.
	Chain(pos uint64) (chain oplog.Hash, ok bool, err error)

	// Place says where a device's op of a seq stands.
	Place(device oplog.DeviceID, seq uint64) (place Place, ok bool, err error)

	// Append stores a run of entries at the positions after the head. (book, position) and (book, device, seq) are unique.
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

// Place is where an op stands.
type Place struct {
	Pos  uint64
	At   int64
	Hash oplog.Hash
}

// Limit bounds a read. Zero is no bound.
type Limit struct {
	Bytes int // of headers and bodies
	Runs  int

	// Rules asks only for what the rules fold: the bodies of parts may be left out, as if they were dropped.
	Rules bool
}

// Full says whether a read that has so many runs and bytes has to end before one of so many more bytes.
func (l Limit) Full(runs, bytes, more int) bool {
	if runs == 0 {
		return false
	}
	return l.Runs > 0 && runs >= l.Runs || l.Bytes > 0 && bytes+more > l.Bytes
}
