package sim

import (
	"context"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/relay"
	"hushcup/sync/relay/memstore"
	"hushcup/sync/wire"
)

// Mutant is a fault built into a world on purpose, to see that the promises notice it.
type Mutant uint8

// The mutants.
const (
	None          Mutant = iota
	SavedEarly           // a phone that says saved before its disk does
	DiskForgets          // a disk that now and then calls durable what it did not keep
	RoleGrabbed          // a phone on which somebody made themselves organiser
	RulesOff             // a server that takes what the rules refuse
	PlainLeaks           // a phone that sends words in clear
	KeyLeaks             // a phone that sends one of its keys
	LateScores           // rules that score what came after the close
	AnswerChanges        // a phone that shows another answer than was sealed
	AckEarly             // a server that acknowledges what its store did not take
	RowDropped           // a store that now and then loses a run
	BodyForged           // a store that changes a sealed body
	LiesBelieved         // phones that believe every lie of a server
	NeverHeals           // a network that does not come back
	Restless             // a phone that never falls silent
	mutants
)

var mutantNames = [mutants]string{"none", "saved early", "disk forgets", "role grabbed", "rules off", "plain leaks", "key leaks",
	"late scores", "answer changes", "ack early", "row dropped", "body forged", "lies believed", "never heals", "restless"}

func (m Mutant) String() string { return mutantNames[m] }

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

// pushes remembers what a phone asked of the server.
func (m Mutant) pushes(l *line, frame []byte) {
	if m != AckEarly && m != RulesOff {
		return
	}
	if f, err := wire.Decode(frame); err == nil {
		if p, ok := f.(*wire.Push); ok {
			l.pushed = &p.Run
		}
	}
}

// answers changes what a server says to the last push.
func (m Mutant) answers(l *line, frame []byte) []byte {
	if l.pushed == nil {
		return frame
	}
	f, err := wire.Decode(frame)
	run, bad := l.pushed.Unpack()
	if err != nil || bad != nil {
		return frame
	}
	switch f := f.(type) {
	case *wire.Slow:
		if m == AckEarly && f.Code == "store-down" {
			last := &run.Ops[len(run.Ops)-1]
			return wire.Encode(&wire.Ack{Book: last.BookOf(), Device: last.Device, Seq: last.Seq, First: 1, At: l.w.clock()})
		}
	case *wire.Refuse:
		if m == RulesOff {
			l.w.force(&run)
		}
	}
	return frame
}

// force stores a run without asking the rules.
func (w *World) force(run *oplog.Run) {
	_ = w.store.Write(context.Background(), run.Ops[0].BookOf(), false, func(tx relay.Tx) error {
		entries, _ := tx.Head().Order.Entries(run, max(w.clock(), tx.Head().Order.At))
		return tx.Append(run, entries)
	})
	w.observe()
}

// leaks adds to a frame what should never be in one.
func (m Mutant) leaks(w *World, frame []byte) []byte {
	switch one := w.writings[1]; {
	case m == PlainLeaks && w.lastWord > 3 && one != nil:
		return append(append([]byte{}, frame...), one.words...)
	case m == KeyLeaks:
		return append(append([]byte{}, frame...), w.secrets.last[:]...)
	}
	return frame
}

// grabs makes a taster an organiser, on one phone only.
func (m Mutant) grabs(s *club.State) {
	if m == RoleGrabbed {
		for _, one := range s.Members() {
			one.Role = club.Organiser
		}
	}
}

// stirs has a phone talk on and on.
func (m Mutant) stirs(w *World) {
	if m != Restless {
		return
	}
	for _, p := range w.phones {
		if p.up() && p.line != nil {
			p.line.up(wire.Encode(&wire.BooksAsk{}))
			w.after(500, func() { m.stirs(w) })
			return
		}
	}
}
