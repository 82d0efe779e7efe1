package replica

import (
	"hushcup/sync/oplog"
	"hushcup/sync/wire"
)

// Refusals that mend themselves are tried this often before the op is listed.
const maxCalls = 8

// listRefused takes an op off its way and lists it for the person, unless the phone had written it of itself.
func (r *Replica) listRefused(b *book, o *outbox, it *item, code, text string) {
	o.remove(it)
	r.disk.del(outKey(b.id, o.author, it.ID))
	if it.Kind.Control() {
		b.ahead = nil
	}
	r.moved(b, it)
	if it.Auto || o != b.out {
		r.jobRefused(b, o, it, code, text)
		return
	}
	record := refusedRecord{Book: b.id, Item: *it, Code: code, Text: text}
	r.refused = append(r.refused, record)
	r.putOwn(refusedKey(it.ID), &record)
	r.jobRefused(b, o, it, code, text)
}

// ack notes that a run is stored. It leaves the outbox when it is seen in the order.
func (r *Replica) onAck(b *book, f *wire.Ack) {
	for _, o := range []*outbox{b.out, b.guest} {
		if o == nil || o.run == nil || o.author != f.Device || o.run.last().Seq != f.Seq {
			continue
		}
		o.run.first = f.First
		b.calls, b.troubled = 0, ""
		for _, it := range o.run.items {
			r.moved(b, it)
		}
	}
	if !b.asked {
		r.subscribe(b)
	}
}

// onRefuse thaws a run: what is to blame is listed or mended, all else goes on.
func (r *Replica) onRefuse(b *book, f *wire.Refuse) {
	for _, o := range []*outbox{b.out, b.guest} {
		if o != nil && o.run != nil && o.author == f.Device && o.run.sent && o.run.run.Ops[0].Seq == f.First {
			r.refuseRun(b, o, f)
			return
		}
	}
}

func (r *Replica) refuseRun(b *book, o *outbox, f *wire.Refuse) {
	index := int(min(f.Seq-min(f.First, f.Seq), uint64(len(o.run.items)-1)))
	bad := o.run.items[index]
	switch f.Code {
	case "restored":
		o.run.sent = false
		b.restored = true
		r.changed(b.id, ChangedSync)
		r.advanceRecovery(b)
		return
	case "seq-taken":
		o.taken = max(o.taken, o.run.run.Ops[0].Seq)
		r.thaw(b, o)
		r.subscribe(b) // whatever stands there, this phone has to see it first
		return
	case "time-ahead":
		r.trustHello(b.record.Host)
	case "malformed", "bad-signature", "stale-epoch", "chain-gap", "seen-ahead", "seen-contradicts", "no-such-book", "seen-before-close", "wrong-device":
		if f.Code == "chain-gap" || f.Code == "seen-ahead" || f.Code == "seen-contradicts" || f.Code == "no-such-book" {
			r.subscribe(b)
		}
	default:
		if bad.Kind == oplog.Create {
			r.hold(b, o, f.Code, 60_000)
			return
		}
		r.thaw(b, o)
		r.listRefused(b, o, bad, f.Code, f.Text)
		r.freezeNow(b)
		return
	}
	bad.Calls++
	if damaged(f.Code) && bad.Calls < maxCalls {
		r.hold(b, o, f.Code, backoff(uint(bad.Calls), 100, 30_000))
		return
	}
	if bad.Kind == oplog.Create {
		r.hold(b, o, f.Code, 60_000)
		return
	}
	r.thaw(b, o)
	if bad.Calls >= maxCalls {
		r.listRefused(b, o, bad, f.Code, f.Text)
	}
	r.pause(b, f.Code, backoff(uint(bad.Calls), 100, 30_000))
}

// damaged says that a run, which was good when it was signed, came to the server as something else: it is sent again.
func damaged(code string) bool { return code == "malformed" || code == "bad-signature" }

// hold keeps a run frozen and pushes it again after a while: a book's create must stay as it is, since its hash names the book.
func (r *Replica) hold(b *book, o *outbox, code string, after int64) {
	o.run.sent = false
	r.pause(b, code, after)
}

// pause holds pushing back for a while.
func (r *Replica) pause(b *book, code string, after int64) {
	b.slowed, b.troubled = true, code
	r.do(SetTimer{Name: timerPush + b.id.String(), After: after})
	r.changed(b.id, ChangedSync)
}

// thaw puts the ops of a run back to where they waited. A revision that was superseded meanwhile is gone.
func (r *Replica) thaw(b *book, o *outbox) {
	run := o.run
	o.run = nil
	r.disk.del(runKey(b.id, o.author))
	for i := range run.items {
		it := run.items[i]
		if newer := o.byPart[it.key()]; it.Kind == oplog.Part && newer != nil {
			newer.Base = it.Base
			r.saveItem(b, o, newer)
			continue
		}
		o.insert(it)
		r.saveItem(b, o, it)
		r.moved(b, it)
	}
	b.ahead = nil
}

// ordered takes what is seen in the order out of the outbox.
func (r *Replica) ordered(b *book, op *oplog.Op, void error) {
	for _, o := range []*outbox{b.out, b.guest} {
		if o == nil || o.author != op.Device {
			continue
		}
		if o.run == nil {
			r.adopt(b, o, op, void)
			continue
		}
		for i := range o.run.run.Ops {
			if o.run.run.Ops[i].Hash() == op.Hash() {
				r.orderedItem(b, o, i, void)
				return
			}
		}
		if op.Seq >= o.run.run.Ops[0].Seq { // another copy of this phone's storage was faster
			r.thaw(b, o)
		}
		r.adopt(b, o, op, void)
	}
}

func (r *Replica) orderedItem(b *book, o *outbox, index int, void error) {
	it := o.run.items[index]
	r.moved(b, it)
	if void != nil {
		r.listRefused(b, o, it, codeOf(fromVoid(void)), void.Error())
	}
	if index == len(o.run.items)-1 {
		o.run = nil
		r.disk.del(runKey(b.id, o.author))
		b.ahead = nil
		b.calls, b.troubled = 0, ""
	}
}

// adopt forgets a waiting op that another copy of this phone's storage has already had ordered.
func (r *Replica) adopt(b *book, o *outbox, op *oplog.Op, void error) {
	if void != nil || o.live == 0 {
		return
	}
	for _, it := range o.items {
		if it != nil && it.Kind == op.Kind && it.Doc == op.Doc && it.Part == op.Part && oplog.HashBody(it.Body) == op.BodyHash {
			o.remove(it)
			r.disk.del(outKey(b.id, o.author, it.ID))
			b.ahead = nil
			r.moved(b, it)
			return
		}
	}
}

// Discard forgets a refused op.
func (r *Replica) Discard(now int64, id uint64) (Ticket, error) {
	r.now = now
	at := r.findRefused(id)
	if at < 0 {
		return 0, refuse("no-such-op", "no refused op has the number %d", id)
	}
	gone := r.refused[at]
	r.forgetRefused(at)
	if b := r.books[gone.Book]; b != nil {
		r.moved(b, &gone.Item)
	}
	return r.ticket(), nil
}

// Retry puts a refused op back on its way.
func (r *Replica) Retry(now int64, id uint64) (Ticket, error) {
	r.now = now
	at := r.findRefused(id)
	if at < 0 {
		return 0, refuse("no-such-op", "no refused op has the number %d", id)
	}
	again := r.refused[at]
	b, err := r.writable(again.Book)
	if err != nil {
		return 0, err
	}
	it := again.Item
	it.Calls, it.Base = 0, 0
	if newer, _ := b.out.revision(it.key()); it.Kind == oplog.Part && newer != nil {
		return 0, refuse("superseded", "a newer revision of it is already on its way")
	}
	if it.Kind.Control() {
		if err := r.propose(b, it); err != nil {
			return 0, err
		}
	} else {
		r.enqueue(b, b.out, &it)
	}
	if at := r.findRefused(id); at >= 0 {
		r.forgetRefused(at)
	}
	return r.ticket(), nil
}

func (r *Replica) findRefused(id uint64) int {
	for i := range r.refused {
		if r.refused[i].Item.ID == id {
			return i
		}
	}
	return -1
}

func (r *Replica) forgetRefused(at int) {
	r.disk.del(refusedKey(r.refused[at].Item.ID))
	r.refused = append(r.refused[:at:at], r.refused[at+1:]...)
}

// giveUp lists everything that waits in a book which this person is not in any more.
func (r *Replica) giveUp(b *book, code, text string) {
	if b.out.run != nil {
		if b.out.run.items[0].Kind == oplog.Create {
			return
		}
		r.thaw(b, b.out)
	}
	for _, it := range append([]*item{}, b.out.items...) {
		if it != nil {
			r.listRefused(b, b.out, it, code, text)
		}
	}
}
