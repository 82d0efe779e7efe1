package replica

import (
	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
)

// item is an op before it is frozen: what it says, but not yet where it stands in its device's chain, nor its final time.
type item struct {
	_       struct{} `cbor:",toarray"`
	ID      uint64   // the order of the outbox
	Kind    oplog.Kind
	Doc     oplog.DocID
	Part    uint32
	Keys    []oplog.KeyID
	Body    []byte
	Sample  *oplog.SampleID // whose envelope it lies under, or (Kind Sample) which it seals
	Epoch   oplog.KeyID     // the notebook epoch that the envelope is derived from
	Uniform bool
	Wall    int64      // this phone's clock when it was written
	Base    oplog.Time // the revision that the author saw; this one is newer
	Secret  string     // an invitation's text, so that it can be made again under a newer epoch
	Auto    bool       // written by the phone of itself: what is refused is dropped in silence
	Calls   uint8      // refusals that mend themselves, so far
}

type partKey struct {
	doc  oplog.DocID
	part uint32
}

func (it *item) key() partKey { return partKey{it.Doc, it.Part} }

// urgent ops leave at once: others wait for them, or a close may come first.
func (it *item) urgent() bool { return it.Kind.Control() || it.Uniform }

// frozen is a signed run. It is persisted before its first byte leaves, and sent byte for byte until it is answered.
type frozen struct {
	items []*item
	run   oplog.Run
	tx    uint64 // the transaction that it is persisted with
	kept  bool   // and that is durable
	sent  bool   // on this connection
	first uint64 // its first position, as acknowledged; 0 before
}

func (f *frozen) last() *oplog.Op { return &f.run.Ops[len(f.run.Ops)-1] }

// outbox is what one author has not got ordered in one book yet: a frozen run at most, and what waits behind it.
type outbox struct {
	author oplog.DeviceID
	run    *frozen
	items  []*item // by ID; nil where one was superseded
	live   int
	ruling int // of them, control ops
	byPart map[partKey]*item
	taken  uint64 // a seq that is taken by an op that this phone has not seen yet: nothing is frozen before it has
}

func newOutbox(author oplog.DeviceID) *outbox {
	return &outbox{author: author, byPart: map[partKey]*item{}}
}

// waiting counts ops that are not ordered.
func (o *outbox) waiting() int {
	if o.run == nil {
		return o.live
	}
	return o.live + len(o.run.items)
}

// pending calls f for all that is not ordered, in order.
func (o *outbox) pending(f func(it *item, frozen bool)) {
	if o.run != nil {
		for _, it := range o.run.items {
			f(it, true)
		}
	}
	for _, it := range o.items {
		if it != nil {
			f(it, false)
		}
	}
}

// revision is the newest pending revision of a part.
func (o *outbox) revision(key partKey) (it *item, frozen bool) {
	if it := o.byPart[key]; it != nil {
		return it, false
	}
	if o.run != nil {
		for i := len(o.run.items) - 1; i >= 0; i-- {
			if it := o.run.items[i]; it.Kind == oplog.Part && it.key() == key {
				return it, true
			}
		}
	}
	return nil, false
}

// insert puts an item into its place.
func (o *outbox) insert(it *item) {
	at := len(o.items)
	for at > 0 && (o.items[at-1] == nil || o.items[at-1].ID > it.ID) {
		at--
	}
	o.items = append(o.items, nil)
	copy(o.items[at+1:], o.items[at:])
	o.items[at] = it
	o.live++
	if it.Kind == oplog.Part {
		o.byPart[it.key()] = it
	} else {
		o.ruling++
	}
}

// remove takes an item out that is not frozen.
func (o *outbox) remove(it *item) {
	if at := o.find(it.ID); at >= 0 && o.items[at] == it {
		o.items[at] = nil
		o.live--
		if it.Kind.Control() {
			o.ruling--
		}
	}
	if o.byPart[it.key()] == it {
		delete(o.byPart, it.key())
	}
	for len(o.items) > 0 && o.items[0] == nil {
		o.items = o.items[1:]
	}
	if len(o.items) > 2*o.live+32 {
		kept := make([]*item, 0, o.live)
		for _, it := range o.items {
			if it != nil {
				kept = append(kept, it)
			}
		}
		o.items = kept
	}
}

// find is a binary search among items of which some are gone.
func (o *outbox) find(id uint64) int {
	low, high := 0, len(o.items)
	for low < high {
		middle := (low + high) / 2
		at := middle
		for at < high && o.items[at] == nil {
			at++
		}
		switch {
		case at == high || o.items[at].ID > id:
			high = middle
		case o.items[at].ID == id:
			return at
		default:
			low = at + 1
		}
	}
	return -1
}

// enqueue puts a new op on its way. A waiting revision of the same part is superseded.
func (r *Replica) enqueue(b *book, o *outbox, it *item) {
	r.lastItem++
	it.ID = r.lastItem
	it.Wall = r.now
	if it.Kind == oplog.Part {
		r.supersede(b, o, it)
	}
	o.insert(it)
	r.saveItem(b, o, it)
	r.moved(b, it)
	if b.id == r.phone.Notebook && it.Kind == oplog.Part {
		r.noteOwn(it.key())
	}
	if it.urgent() {
		r.hurry = append(r.hurry, b)
	} else {
		r.freezeSoon(b)
	}
}

func (r *Replica) supersede(b *book, o *outbox, it *item) {
	key := it.key()
	if w, ok := r.winner(b, b.record.Member, key); ok {
		it.Base = max(it.Base, w.Time)
	}
	if old, isFrozen := o.revision(key); isFrozen {
		it.Base = max(it.Base, r.frozenTime(o, old))
	} else if old != nil {
		it.Base = max(it.Base, old.Base)
		o.remove(old)
		r.disk.del(outKey(b.id, o.author, old.ID))
	}
	for at := len(r.refused) - 1; at >= 0; at-- { // a newer revision is the person's decision about a refused one
		if old := &r.refused[at]; old.Book == b.id && old.Item.Kind == oplog.Part && old.Item.key() == key {
			r.forgetRefused(at)
		}
	}
}

func (r *Replica) frozenTime(o *outbox, it *item) oplog.Time {
	for i := range o.run.items {
		if o.run.items[i] == it {
			return o.run.run.Ops[i].Time
		}
	}
	return 0
}

func (r *Replica) saveItem(b *book, o *outbox, it *item) {
	r.putOwn(outKey(b.id, o.author, it.ID), it)
}

func (r *Replica) putOwn(key string, v any) { r.disk.put(key, codec.MustMarshal(v)) }

// moved says which views an op's progress touches.
func (r *Replica) moved(b *book, it *item) {
	what := ChangedSync
	if it.Kind.Control() {
		what |= ChangedState
		r.changed(b.id, what)
		return
	}
	if it.Uniform {
		what |= ChangedGuesses
	}
	r.changed(b.id, what|ChangedDocs, r.docKey(b, b.record.Member, it.key()))
}

// docKey names a part as reads do: a shared document has no member.
func (r *Replica) docKey(b *book, member oplog.MemberID, key partKey) DocKey {
	if r.stateAhead(b).Shared(key.doc) {
		member = oplog.MemberID{}
	}
	return DocKey{Member: member, Doc: key.doc, Part: key.part}
}

// winner is the ordered winner of a part, of a member or shared.
func (r *Replica) winner(b *book, member oplog.MemberID, key partKey) (club.Winner, bool) {
	if b.log.state.Shared(key.doc) {
		return b.log.docs.Shared(key.doc, key.part)
	}
	return b.log.docs.Get(member, key.doc, key.part)
}
