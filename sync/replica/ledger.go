package replica

import (
	"errors"

	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// ledger is what a book's verified order comes to: the folded rules, the winners, the chain and the keys.
type ledger struct {
	state   *club.State
	docs    *club.Docs
	order   oplog.Order
	chain   chain
	keys    map[oplog.KeyID]seal.Key
	tail    []tailRun    // runs after the snapshot
	since   int          // entries after the snapshot
	lacking bool         // a part came without its body: by the head something must have superseded it
	mine    []oplog.Hash // the last own ops that were folded
}

// tailRun is a placed run without its sealed bodies, as it is stored.
type tailRun struct {
	first uint64
	value []byte
}

func (r *Replica) newLedger() ledger {
	return ledger{state: club.New(), docs: club.NewDocs(), keys: map[oplog.KeyID]seal.Key{}, chain: chain{size: r.segment}}
}

// These say when a snapshot is due: its cost is shared by a growing number of entries, so that what an entry costs does not grow
// with the book. A phone that is still catching up writes fewer: only the last one shortens the next start.
const (
	leastTail     = 128
	tailShare     = 64
	catchingShare = 16
)

// A quiet phone writes one sooner, so that a start after it has next to nothing to replay.
const (
	restTail  = 8
	restAfter = 20_000 // milliseconds in which nothing was folded
)

func (l *ledger) snapshotDue(current bool) bool {
	share := uint64(catchingShare)
	if current {
		share = tailShare
	}
	return l.since >= leastTail && l.since >= int(l.order.Pos/share)
}

// restSoon waits for a quiet moment to write a snapshot.
func (r *Replica) restSoon(b *book) {
	if b.log.since >= restTail {
		r.do(SetTimer{Name: timerRest + b.id.String(), After: restAfter})
	}
}

// rest writes the snapshot that could wait. While the disk takes nothing it would only be in the way.
func (r *Replica) rest(b *book) {
	if b.log.since >= restTail && r.disk.fault == "" {
		r.snapshot(b)
	}
}

// snapshot writes the folded state and moves the runs before it out of what a start reads.
func (r *Replica) snapshot(b *book) {
	l := &b.log
	r.disk.put(snapKey(b.id), codec.MustMarshal(&snapRecord{State: l.state.Encode(), Docs: l.docs.Encode()}))
	for _, run := range l.tail {
		r.disk.put(coldRunKey(b.id, run.first), run.value)
		r.disk.del(tailKey(b.id, run.first))
	}
	l.tail, l.since = nil, 0
	r.saveChain(b)
}

// errDamaged says that the stored records do not hold together: whoever meets it fetches the book anew.
var errDamaged = errors.New("the stored log is damaged")

// load rebuilds a ledger from its stored records: the snapshot, and the runs after it, which must lead to the cursor.
func (l *ledger) load(records *ledgerRecords) error {
	if records.headValue == nil {
		return errDamaged
	}
	var err error
	if records.head, err = decodeRecord[headRecord](records.headValue); err != nil {
		return err
	}
	if err := l.loadKeys(records.keys); err != nil {
		return err
	}
	if records.snap != nil {
		snap, err := decodeRecord[snapRecord](records.snap)
		if err != nil {
			return err
		}
		if l.state, err = club.Decode(snap.State); err != nil {
			return err
		}
		if l.docs, err = club.DecodeDocs(snap.Docs); err != nil {
			return err
		}
		l.order, l.lacking = l.state.Order(), len(l.docs.Missing()) > 0
	}
	if err := l.chain.load(records.chain, l.order); err != nil {
		return err
	}
	for _, run := range records.tail {
		if err := l.replay(run); err != nil {
			return err
		}
	}
	if l.order != records.head.Order {
		return errDamaged
	}
	return nil
}

// replay folds a stored run. Its signature was checked before it was stored; that these are the same bytes follows from the
// chain, which must end at the stored cursor.
func (l *ledger) replay(run tailRun) error {
	placed, err := decodeRecord[oplog.Placed](run.value)
	if err != nil {
		return err
	}
	if placed.First != run.first || placed.First != l.order.Pos+1 || len(placed.Run.Ops) > oplog.MaxRunOps {
		return errDamaged
	}
	for i := range placed.Run.Ops {
		op, err := parseStripped(&placed.Run.Ops[i])
		if err != nil {
			return err
		}
		if _, err := l.fold(op, placed.At, i); err != nil && !isVoid(err) {
			return err
		}
	}
	l.tail = append(l.tail, run)
	return nil
}

// fold takes the next op of the order. It returns positions whose bodies nobody needs any more; a *club.Void leaves only the
// chains changed.
func (l *ledger) fold(op oplog.Op, at int64, place int) (droppable []uint64, err error) {
	entry := oplog.Entry{Op: op, Order: l.order.Next(op.Hash(), at)}
	err = l.state.Fold(entry, l.chain.at)
	if err != nil && !isVoid(err) {
		return nil, err
	}
	l.order = entry.Order
	l.chain.add(entry.Order.Chain, place)
	l.since++
	l.lacking = l.lacking || op.Kind == oplog.Part && op.Body == nil
	if err == nil {
		droppable = l.docs.Fold(entry, l.state)
	}
	return droppable, err
}

func isVoid(err error) bool {
	_, void := err.(*club.Void)
	return void
}

// strip gives a placed run without its sealed bodies: an empty body says that it stands in storage, none that it was dropped
// before it came.
func strip(p *oplog.Placed, ops []oplog.Op) oplog.Placed {
	stripped := oplog.Placed{First: p.First, At: p.At, Run: oplog.Packed{Sig: p.Run.Sig}}
	stripped.Run.Ops = append([]oplog.PackedOp{}, p.Run.Ops...)
	for i := range ops {
		if ops[i].Kind == oplog.Part && ops[i].Body != nil {
			stripped.Run.Ops[i].Body = &inStorage
		}
	}
	return stripped
}

// inStorage marks a body that stands in a record of its own.
var inStorage = []byte{}

// parseStripped reads an op of a stripped run. The rules never look into a sealed body, so the mark takes its place.
func parseStripped(p *oplog.PackedOp) (oplog.Op, error) {
	if p.Body == nil {
		return oplog.Parse(p.Raw, nil)
	}
	if len(*p.Body) > 0 {
		return oplog.Parse(p.Raw, *p.Body)
	}
	op, err := oplog.Parse(p.Raw, nil)
	if err == nil && op.Kind == oplog.Part {
		op.Body = inStorage
	}
	return op, err
}

func (l *ledger) saveKeys() []byte {
	ids := make(map[string][]byte, len(l.keys))
	for id := range l.keys {
		ids[string(id[:])] = nil
	}
	keys := make([]seal.Key, 0, len(ids))
	for _, id := range sortedKeys(ids) {
		keys = append(keys, l.keys[oplog.KeyID([]byte(id))])
	}
	return codec.MustMarshal(keys)
}

func (l *ledger) loadKeys(value []byte) error {
	if value == nil {
		return nil
	}
	keys, err := decodeRecord[[]seal.Key](value)
	if err != nil {
		return err
	}
	for _, key := range keys {
		l.keys[oplog.KeyID(key.ID())] = key
	}
	return nil
}

// ledgerRecords are the stored records of one ledger.
type ledgerRecords struct {
	headValue []byte
	head      headRecord
	keys      []byte
	snap      []byte
	tail      []tailRun
	chain     map[uint64][]byte
}
