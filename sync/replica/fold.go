package replica

import (
	"slices"

	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/wire"
)

// news is what a stretch of the order brought.
type news struct {
	what    What
	docs    []DocKey
	all     bool // more documents than can be named
	devices bool // who is in, with which keys, may have changed
}

// onEntries verifies what the server ordered and folds it, run by run.
func (r *Replica) onEntries(b *book, f *wire.Entries) {
	if b.halted || b.removed && !r.unaware(b) {
		return
	}
	b.answered, b.head = true, f.Head
	var n news
	for i := range f.Runs {
		placed := &f.Runs[i]
		b.seenTo = max(b.seenTo, placed.First+uint64(len(placed.Run.Ops))-1)
		if placed.First > b.log.order.Pos+1 { // something between was lost: ask again from the cursor
			r.subscribe(b)
			break
		}
		if err := r.takeRun(b, placed, &n); err != nil {
			if r.recall(b); !b.removed { // what comes after one's own going is nothing to this phone
				r.halt(b, err)
			}
			break
		}
	}
	r.settle(b, &n)
}

// takeRun verifies a placed run and folds it. What came twice must be what came first.
func (r *Replica) takeRun(b *book, placed *oplog.Placed, n *news) error {
	run, err := placed.Run.Unpack()
	if err != nil {
		return err
	}
	last := placed.First + uint64(len(run.Ops)) - 1
	if run.Ops[0].BookOf() != b.id || placed.First == 0 {
		return contradiction("wrong-book", "the server delivered a run of another book")
	}
	if placed.First <= b.log.order.Pos {
		if err := b.log.repeated(placed, &run, last); err != nil {
			return err
		}
		r.refill(b, placed, &run)
		return nil
	}
	if err := b.log.precheck(&run, placed.At); err != nil {
		return err
	}
	for i := range run.Ops {
		if err := r.takeOp(b, &run.Ops[i], placed.At, i, n); err != nil {
			return err
		}
	}
	stripped := strip(placed, run.Ops)
	value := codec.MustMarshal(&stripped)
	b.log.tail = append(b.log.tail, tailRun{placed.First, value})
	r.disk.put(tailKey(b.id, placed.First), value)
	return nil
}

// repeated compares a run that was folded before with what came then.
func (l *ledger) repeated(placed *oplog.Placed, run *oplog.Run, last uint64) error {
	value, _ := l.chain.at(placed.First - 1)
	_, order := oplog.Order{Pos: placed.First - 1, Chain: value}.Entries(run, placed.At)
	if own, ok := l.chain.at(last); !ok || own != order.Chain {
		return contradiction("order-rewritten", "the server delivered another order than before")
	}
	return nil
}

// refill takes bodies that an earlier delivery held back.
func (r *Replica) refill(b *book, placed *oplog.Placed, run *oplog.Run) {
	if !b.log.lacking {
		return
	}
	missing := b.log.docs.Missing()
	found := false
	for i := range run.Ops {
		op, pos := &run.Ops[i], placed.First+uint64(i)
		if op.Body != nil && slices.Contains(missing, pos) {
			r.disk.put(coldBodyKey(b.id, pos), codec.MustMarshal(&coldBody{Raw: op.Raw, Body: op.Body}))
			r.cache.forget(b.id, pos)
			b.log.docs.Came(pos)
			found = true
		}
	}
	if found { // the winners are kept by the snapshot alone: the stored runs still say that the bodies did not come
		r.snapshot(b)
		r.changed(b.id, ChangedDocs)
	}
}

// ownBody finds the body of an own op, which a server has dropped already, in the run that it came from.
func (b *book) ownBody(op *oplog.Op) []byte {
	if b.out.run == nil || op.Device != b.out.author {
		return nil
	}
	for i := range b.out.run.run.Ops {
		if own := &b.out.run.run.Ops[i]; own.Hash() == op.Hash() {
			return own.Body
		}
	}
	return nil
}

// precheck finds what would make an op in the middle of a run impossible, so that a run is folded whole or not at all.
func (l *ledger) precheck(run *oplog.Run, at int64) error {
	_, known := memberWith(l.state, run.Ops[0].Device)
	if known {
		if err := l.state.Head(run.Ops[0].Device).Follows(&run.Ops[0]); err != nil {
			return contradiction(err.(*oplog.Error).Code, "a device's chain has a gap or two ends")
		}
	}
	for i := range run.Ops {
		op := &run.Ops[i]
		own, seen := l.chainWith(run, at, op.SeenPos)
		switch {
		case !op.Kind.Known() || i > 0 && newerRules(op):
			return &club.Stop{Code: "unknown-kind", Text: "a newer version wrote this"}
		case op.Kind.Control() && op.Body == nil:
			return contradiction(codeBodyMissing, "a control body is missing")
		case known && op.SeenPos > l.order.Pos+uint64(i):
			return contradiction("seen-ahead", "an author had seen positions that this order does not have")
		case known && seen && own != op.SeenHash:
			return contradiction("seen-contradicts", "an author saw another order than this one")
		}
	}
	return nil
}

// chainWith is the chain value at a position as it will be once a run is folded.
func (l *ledger) chainWith(run *oplog.Run, at int64, pos uint64) (oplog.Hash, bool) {
	if pos <= l.order.Pos {
		return l.chain.at(pos)
	}
	entries, _ := l.order.Entries(run, at)
	if pos-l.order.Pos > uint64(len(entries)) {
		return oplog.Hash{}, false
	}
	return entries[pos-l.order.Pos-1].Order.Chain, true
}

// newerRules says whether an op raises the rules past what this version knows.
func newerRules(op *oplog.Op) bool {
	var body club.RulesBody
	return op.Kind == oplog.Rules && codec.UnmarshalOpen(op.Body, &body) == nil && body.Rules > club.RulesVersion
}

func (r *Replica) takeOp(b *book, op *oplog.Op, at int64, place int, n *news) error {
	if op.Body == nil && op.Kind == oplog.Part {
		op.Body = b.ownBody(op)
	}
	droppable, err := b.log.fold(*op, at, place)
	if err != nil && !isVoid(err) {
		return err
	}
	pos := b.log.order.Pos
	if op.Kind == oplog.Part && op.Body != nil {
		r.disk.put(coldBodyKey(b.id, pos), codec.MustMarshal(&coldBody{Raw: op.Raw, Body: op.Body}))
	}
	for _, gone := range droppable {
		r.disk.del(coldBodyKey(b.id, gone))
		r.cache.forget(b.id, gone)
	}
	if op.Device == r.device {
		b.log.remember(op.Hash())
	}
	r.ordered(b, op, err)
	if err == nil {
		r.note(b, op, n)
	}
	return nil
}

// remember keeps the last own ops in mind, for when a failed write brings a run back that was folded.
func (l *ledger) remember(op oplog.Hash) {
	const most = 4 * oplog.MaxRunOps
	l.mine = append(l.mine, op)
	if len(l.mine) > 2*most {
		l.mine = append([]oplog.Hash{}, l.mine[len(l.mine)-most:]...)
	}
}

// note remembers what views an op touches.
func (r *Replica) note(b *book, op *oplog.Op, n *news) {
	switch op.Kind {
	case oplog.Part:
		n.what |= ChangedDocs
		if b.id == r.phone.Notebook {
			r.noteOwn(partKey{op.Doc, op.Part})
		}
		if len(op.Keys) == 2 {
			n.what |= ChangedGuesses
		}
		if len(n.docs) > 200 {
			n.all = true
			return
		}
		if m, ok := memberWith(b.log.state, op.Device); ok {
			n.docs = append(n.docs, r.docKey(b, m.ID, partKey{op.Doc, op.Part}))
		}
	case oplog.Erase:
		n.what, n.all = n.what|ChangedDocs, true
	case oplog.Unseal:
		n.what, n.all = n.what|ChangedState|ChangedDocs|ChangedGuesses, true
	case oplog.Create, oplog.Join, oplog.Device, oplog.Remove, oplog.Epoch, oplog.Leave:
		n.what |= ChangedState
		n.devices = true
	case oplog.Resume:
		b.restored = false
		n.what |= ChangedSync
	default:
		n.what |= ChangedState
	}
}

// doubtWait is how long a missing body may be explained by an entry that is still to come.
const doubtWait = 3000

// doubtBodies looks for bodies that are missing though nothing superseded or erased them. A server may have dropped one for an
// entry that another server has ordered and it has not heard of: so it is asked once more, from before the first missing one.
func (r *Replica) doubtBodies(b *book) {
	if !b.log.lacking || !b.current() || b.removed || b.restored || b.seenTo < b.head {
		return
	}
	if b.log.lacking = len(b.log.docs.Missing()) > 0; !b.log.lacking {
		b.doubt = trusting
		return
	}
	switch b.doubt {
	case trusting:
		b.doubt = doubting
		r.do(SetTimer{Name: timerDoubt + b.id.String(), After: doubtWait})
	case asking:
		r.halt(b, contradiction(codeBodyMissing, "a body is missing that nothing superseded or erased"))
	}
}

// doubt is how far the suspicion has come that a server holds bodies back.
type doubt uint8

const (
	trusting doubt = iota
	doubting       // a timer runs
	asking         // the server was asked once more
)

func (r *Replica) askAgain(b *book) {
	if b.doubt == doubting && b.log.lacking {
		b.doubt = asking
		r.subscribe(b)
	}
}

// settle is done after every stretch of the order: keys, cursor, snapshot, and what the phone now has to do.
func (r *Replica) settle(b *book, n *news) {
	if r.books[b.id] != b { // it was forgotten, with a join that failed
		return
	}
	if n.what != 0 || n.devices {
		b.ahead = nil
	}
	if n.devices {
		r.learnKeys(b)
		r.recall(b)
	}
	if b.current() {
		b.code, b.text = "", "" // what had stopped an earlier start did not come again
	}
	r.saveHead(b)
	if b.log.snapshotDue(b.current()) {
		r.snapshot(b)
	}
	r.restSoon(b)
	r.doubtBodies(b)
	docs := n.docs
	if n.all {
		docs = nil
	}
	r.changed(b.id, n.what|ChangedSync, docs...)
	r.advance(b)
}

func (r *Replica) saveHead(b *book) {
	r.disk.put(headKey(b.id), codec.MustMarshal(&headRecord{
		Order: b.log.order, Removed: b.removed, Code: b.code, Text: b.text,
	}))
}
