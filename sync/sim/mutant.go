package sim

import (
	"context"

	"hushcup/sync/oplog"
	"hushcup/sync/relay"
	"hushcup/sync/relay/memstore"
	"hushcup/sync/wire"
)

// Mutant is a fault built into a world on purpose, to see that the promises notice it.
type Mutant uint8

// The mutants.
const (
	None       Mutant = iota
	AckEarly          // a server that acknowledges what its store did not take
	SavedEarly        // a phone that says saved before the disk does
	LateScores        // rules that score what came after the close
	RowDropped        // a store that now and then loses an op of a run
	BodyForged        // a store that changes a sealed body
	SaidTwice         // a store that takes what the rules refuse
	PlainLeaks        // a phone that sends words in clear
	KeyLeaks          // a phone that sends one of its keys
	NeverOpens        // a network that does not come back
	Restless          // a phone that never falls silent
)

// store puts a bad store in the place of a good one.
func (m Mutant) store(w *World, s *memstore.Store) relay.Store {
	switch m {
	case RowDropped, BodyForged:
		return badStore{s, m, w}
	}
	return s
}

// badStore spoils some appends.
type badStore struct {
	*memstore.Store
	mutant Mutant
	w      *World
}

func (s badStore) Write(ctx context.Context, id oplog.BookID, create bool, fn func(relay.Tx) error) error {
	return s.Store.Write(ctx, id, create, func(tx relay.Tx) error { return fn(badTx{tx, s}) })
}

type badTx struct {
	relay.Tx
	store badStore
}

func (t badTx) Append(run *oplog.Run, entries []oplog.Entry) error {
	if t.store.w.rng.oneIn(10) {
		switch t.store.mutant {
		case RowDropped:
			return nil
		case BodyForged:
			entries = forge(entries)
		}
	}
	return t.Tx.Append(run, entries)
}

// forge turns a bit in the first sealed body.
func forge(entries []oplog.Entry) []oplog.Entry {
	forged := append([]oplog.Entry{}, entries...)
	for i := range forged {
		if op := &forged[i].Op; op.Kind == oplog.Part {
			op.Body = append([]byte{}, op.Body...)
			op.Body[40] ^= 1
			break
		}
	}
	return forged
}

// answer turns a server's request for patience into an acknowledgement.
func (m Mutant) answer(w *World, frame []byte) []byte {
	if m != AckEarly {
		return frame
	}
	f, err := wire.Decode(frame)
	if err != nil {
		return frame
	}
	if slow, ok := f.(*wire.Slow); ok && slow.Code == "store-down" {
		return wire.Encode(&wire.Ack{Book: slow.Book, Seq: 1, First: 1, At: w.clock()})
	}
	return frame
}

// leak adds to a frame what should never be in one.
func (m Mutant) leak(w *World, frame []byte) []byte {
	switch m {
	case PlainLeaks:
		if w.lastWord > 3 {
			return append(append([]byte{}, frame...), marker...)
		}
	case KeyLeaks:
		for key := range w.secrets.keys {
			return append(append([]byte{}, frame...), key[:]...)
		}
	}
	return frame
}
