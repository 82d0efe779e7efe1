package replica

import (
	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// freezeDelay is how long what is typed waits for more of it.
const freezeDelay = 150

// ready says whether a run of this author can leave now.
func (r *Replica) ready(b *book, o *outbox) bool {
	return o.run == nil && o.live > 0 && r.connected(b, o) && b.current() && !b.removed && !b.slowed &&
		(!b.restored || o.waits(oplog.Resume)) &&
		b.log.state.Head(o.author).Seq >= o.taken && r.disk.fault == ""
}

// freezeSoon freezes what waits after a moment, so that an evening of typing becomes a handful of ops.
func (r *Replica) freezeSoon(b *book) {
	if !b.freezing && r.ready(b, b.out) {
		b.freezing = true
		r.do(SetTimer{Name: timerFreeze + b.id.String(), After: freezeDelay})
	}
}

// freezeNow freezes what waits and can leave.
func (r *Replica) freezeNow(b *book) {
	for _, o := range []*outbox{b.out, b.guest} {
		if o != nil && r.ready(b, o) {
			r.freeze(b, o)
		}
	}
}

// press is a run while it is being made.
type press struct {
	b      *book
	o      *outbox
	state  *club.State // as it will be before the next op
	trial  bool        // state is a copy on which ops are tried
	head   oplog.Head
	seen   oplog.Order
	ops    []oplog.Op
	items  []*item
	size   int
	sealed map[oplog.KeyID]bool // envelopes that this run hands over
}

// freeze makes a run of what waits, persists it, and lets it leave once that is durable. What the rules would refuse is
// listed at once; what needs newer keys is sealed anew.
func (r *Replica) freeze(b *book, o *outbox) {
	p := &press{
		b: b, o: o, state: b.log.state, head: b.log.state.Head(o.author), seen: b.log.order, sealed: map[oplog.KeyID]bool{},
	}
	if o.ruling > 0 {
		p.state, p.trial = b.log.state.Clone(), true
	}
	for _, it := range append([]*item{}, o.items...) {
		if it == nil || b.restored && it.Kind != oplog.Resume {
			continue
		}
		if len(p.ops) == oplog.MaxRunOps || !r.pressItem(p, it) {
			break
		}
	}
	if len(p.ops) == 0 {
		return
	}
	identity, ok := r.identity(o.author)
	if !ok {
		return
	}
	sign := identity.Sign
	if o.author == r.device {
		sign = r.sign
	}
	for _, it := range p.items {
		o.remove(it)
		r.disk.del(outKey(b.id, o.author, it.ID))
	}
	r.keepRun(b, o, &frozen{items: p.items, run: oplog.Sign(p.ops, sign)})
}

// keepRun persists a run and remembers with which transaction.
func (r *Replica) keepRun(b *book, o *outbox, f *frozen) {
	record := runRecord{Run: f.run.Pack()}
	for _, it := range f.items {
		bare := *it
		bare.Body = nil
		record.Items = append(record.Items, bare)
	}
	r.putOwn(runKey(b.id, o.author), &record)
	f.tx = r.disk.next()
	o.run = f
	r.changed(b.id, ChangedSync)
}

// pressItem adds one op to the run; false when the run is full.
func (r *Replica) pressItem(p *press, it *item) bool {
	fresh, err := r.refresh(p, it)
	if err != nil {
		r.listRefused(p.b, p.o, it, codeOf(err), err.Error())
		return true
	}
	*it = fresh
	op, err := r.pressOp(p, it)
	if err != nil {
		r.listRefused(p.b, p.o, it, codeOf(err), err.Error())
		return true
	}
	if len(p.ops) > 0 && p.size+op.Size() > oplog.MaxRunBytes {
		return false
	}
	if p.trial {
		if _, err := p.state.Admit(&oplog.Run{Ops: []oplog.Op{op}}, r.serverTime(p.b), nil); err != nil {
			r.foreseen(p, it, fromRules(err))
			return true
		}
	}
	p.ops, p.items, p.size = append(p.ops, op), append(p.items, it), p.size+op.Size()
	p.head = oplog.Head{Seq: op.Seq, Hash: op.Hash()}
	return true
}

// foreseen handles what the rules would refuse: a stale epoch mends itself once more is verified.
func (r *Replica) foreseen(p *press, it *item, err error) {
	r.listRefused(p.b, p.o, it, codeOf(err), err.Error())
}

func (r *Replica) pressOp(p *press, it *item) (oplog.Op, error) {
	wrap, err := r.wrapFor(p, it)
	if err != nil {
		return oplog.Op{}, err
	}
	h := oplog.Header{
		Book: p.b.id, Device: p.o.author, Seq: p.head.Seq + 1, Prev: p.head.Hash, SeenPos: p.seen.Pos, SeenHash: p.seen.Chain,
		Time: r.stamp(p.b, it), Kind: it.Kind, Doc: it.Doc, Part: it.Part, Keys: it.Keys, Wrap: wrap,
	}
	return oplog.New(h, it.Body), nil
}

// stamp is an op's final time: what the clock said when it was written, corrected by what is known of the clock's error now,
// never past the server's time, and after the revision that the author saw.
func (r *Replica) stamp(b *book, it *item) oplog.Time {
	offset := r.offset(b.record.Host)
	wall := min(it.Wall+offset, r.serverTime(b))
	return it.Base.Next(wall)
}

// wrapFor hands over the envelope of a sample in the first op that lies under it.
func (r *Replica) wrapFor(p *press, it *item) (*oplog.Wrap, error) {
	if it.Sample == nil || len(it.Keys) != 2 {
		return nil, nil
	}
	envelope, member := it.Keys[0], p.b.record.Member
	if p.sealed[envelope] {
		return nil, nil
	}
	if _, known := p.state.WrapOf(member, envelope); known && it.Kind != oplog.Sample {
		return nil, nil
	}
	public, err := samplePublic(p.state, it)
	if err != nil {
		return nil, err
	}
	key, err := r.ownEnvelope(p.b, *it.Sample, it.Epoch)
	if err != nil {
		return nil, err
	}
	info := seal.Info(seal.PurposeEnvelope, p.b.id, it.Sample[:], member, seal.KeyID(envelope))
	w, err := seal.Wrap(r.rand, public, info, key)
	if err != nil {
		return nil, fromSeal(err)
	}
	p.sealed[envelope] = true
	return &oplog.Wrap{Sample: *it.Sample, Epoch: it.Epoch, Enc: w.Enc, Box: w.Box[:]}, nil
}

// send lets runs leave that are durable and not under way on this connection.
func (r *Replica) send(b *book) {
	for _, o := range []*outbox{b.out, b.guest} {
		if o == nil || o.run == nil || !o.run.kept || o.run.sent || b.restored && !o.run.resumes() {
			continue
		}
		if b.slowed || b.removed || b.halted || !r.connected(b, o) || !b.answered && b.born() {
			continue
		}
		o.run.sent = true
		r.say(b.record.Host, pushOf(&o.run.run))
		r.expectAnswer(b.record.Host)
	}
}

func (f *frozen) resumes() bool { return f.run.Ops[0].Kind == oplog.Resume }
