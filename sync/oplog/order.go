package oplog

import (
	"encoding/binary"

	"hushcup/sync/seal"
)

// Order is where a book's order chain stands: the last position, its chain value, and the server's time there.
type Order struct {
	_     struct{} `cbor:",toarray"`
	Pos   uint64
	Chain Hash
	At    int64 // milliseconds since 1970 by the server's clock; never falls within a book
}

// Next is the order after one more op: chain(n) = H(chain(n-1) || hash(op n) || at).
func (o Order) Next(op Hash, at int64) Order {
	var time [8]byte
	binary.BigEndian.PutUint64(time[:], uint64(at))
	return Order{Pos: o.Pos + 1, Chain: Hash(seal.Sum("hushcup/1 chain", o.Chain[:], op[:], time[:])), At: at}
}

// Entry is an op at its place in the book's order.
type Entry struct {
	Op    Op
	Order Order // the order after this op
}

// Placed is a run at its place: its ops stand at First, First+1, ... and share one server time.
type Placed struct {
	_     struct{} `cbor:",toarray"`
	First uint64
	At    int64
	Run   Packed
}

// Entries places a verified run after an order.
func (o Order) Entries(run *Run, at int64) ([]Entry, Order) {
	entries := make([]Entry, len(run.Ops))
	for i := range run.Ops {
		o = o.Next(run.Ops[i].Hash(), at)
		entries[i] = Entry{Op: run.Ops[i], Order: o}
	}
	return entries, o
}
