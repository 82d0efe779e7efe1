package replica

import (
	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
)

// Docs calls f for the newest revision of every part, until f returns false.
func (r *Replica) Docs(book oplog.BookID, f func(DocPart) bool) {
	b := r.books[book]
	if b == nil {
		return
	}
	r.eachPart(b, func(d DocPart) bool {
		if d.Part >= firstOwnPart && b.record.Kind == club.Notebook {
			return true
		}
		return f(d)
	})
}

// OwnPart is as much of a part as can be told of thousands quickly. Pos is 0 for a revision that is not ordered yet.
type OwnPart struct {
	Doc    oplog.DocID
	Pos    uint64
	Sample *oplog.SampleID
	Erased bool
}

// OwnParts calls f for this person's own parts of one number: first those that are ordered, then the revisions that are not.
func (r *Replica) OwnParts(book oplog.BookID, part uint32, f func(OwnPart)) {
	b := r.books[book]
	if b == nil {
		return
	}
	erasing := b.erasing()
	b.log.docs.EachOf(b.record.Member, part, func(w *club.Winner) {
		f(OwnPart{Doc: w.Doc, Pos: w.Pos, Sample: w.Sample, Erased: w.Erased || containsDoc(erasing, w.Doc)})
	})
	pending := r.pendingParts(b)
	for _, key := range pending.keys {
		if d := pending.byKey[key]; key.part == part && d.Member == b.record.Member {
			f(OwnPart{Doc: d.Doc, Pos: d.Pos, Sample: d.Sample, Erased: d.Erased})
		}
	}
}

// eachPart lists ordered winners, each in the shape that waiting and refused revisions give it, and then what is not ordered
// at all yet.
func (r *Replica) eachPart(b *book, f func(DocPart) bool) {
	pending, erasing := r.pendingParts(b), b.erasing()
	more := true
	b.log.docs.Each(func(w club.Winner) bool {
		d := ofWinner(&w)
		if w.Shared || w.Member == b.record.Member {
			d.Erased = d.Erased || !w.Shared && containsDoc(erasing, w.Doc)
			key := partKey{w.Doc, w.Part}
			if own, ok := pending.byKey[key]; ok {
				if own.Share != Refused || own.Time >= w.Time {
					d = own
				}
				delete(pending.byKey, key)
			}
		}
		more = f(d)
		return more
	})
	for _, key := range pending.keys {
		d, left := pending.byKey[key]
		if !more {
			return
		}
		if left {
			more = f(d)
		}
	}
}

type pendingParts struct {
	byKey map[partKey]DocPart
	keys  []partKey
}

func (p *pendingParts) add(key partKey, d DocPart) {
	if _, there := p.byKey[key]; !there {
		p.keys = append(p.keys, key)
	}
	p.byKey[key] = d
}

func (r *Replica) pendingParts(b *book) pendingParts {
	p := pendingParts{byKey: map[partKey]DocPart{}}
	for i := range r.refused {
		if it := &r.refused[i].Item; r.refused[i].Book == b.id && it.Kind == oplog.Part {
			p.add(it.key(), r.ofItem(b, it, Refused))
		}
	}
	b.out.pending(func(it *item, isFrozen bool) {
		if it.Kind != oplog.Part {
			return
		}
		p.add(it.key(), r.ofItem(b, it, b.out.share(isFrozen)))
	})
	return p
}

func (o *outbox) share(isFrozen bool) Share {
	switch {
	case !isFrozen:
		return OnDevice
	case o.run.first != 0:
		return Shared
	}
	return OnItsWay
}

func ofWinner(w *club.Winner) DocPart {
	d := DocPart{
		DocKey: DocKey{Member: w.Member, Doc: w.Doc, Part: w.Part}, Author: w.Member, Time: w.Time, Device: w.Device, Pos: w.Pos,
		Share: Shared, Sample: w.Sample, Erased: w.Erased,
	}
	if w.Shared {
		d.Member = oplog.MemberID{}
	}
	return d
}

func (r *Replica) ofItem(b *book, it *item, share Share) DocPart {
	return DocPart{
		DocKey: r.docKey(b, b.record.Member, it.key()), Author: b.record.Member, Time: it.provisional(), Device: b.out.author,
		Share: share, Sample: it.Sample, Item: it.ID,
	}
}

// provisional is what an op's time would be by this phone's clock alone.
func (it *item) provisional() oplog.Time { return it.Base.Next(it.Wall) }

// Doc is the newest revision of one part. A shared document has no member.
func (r *Replica) Doc(book oplog.BookID, key DocKey) (DocPart, bool) {
	b := r.books[book]
	if b == nil {
		return DocPart{}, false
	}
	part := partKey{key.Doc, key.Part}
	shared := r.stateAhead(b).Shared(key.Doc)
	if shared || key.Member == b.record.Member {
		if it, isFrozen := b.out.revision(part); it != nil {
			return r.ofItem(b, it, b.out.share(isFrozen)), true
		}
	}
	w, ordered := b.log.docs.Get(key.Member, key.Doc, key.Part)
	if !ordered { // or it is shared; what a member wrote before the document became a flight's stays that member's
		w, ordered = r.winner(b, key.Member, part)
	}
	if shared || key.Member == b.record.Member {
		for i := len(r.refused) - 1; i >= 0; i-- {
			it := &r.refused[i].Item
			if r.refused[i].Book != b.id || it.Kind != oplog.Part || it.key() != part || ordered && w.Time > it.provisional() {
				continue
			}
			return r.ofItem(b, it, Refused), true
		}
	}
	if ordered {
		d := ofWinner(&w)
		d.Erased = d.Erased || !w.Shared && w.Member == b.record.Member && containsDoc(b.erasing(), w.Doc)
		return d, true
	}
	return DocPart{}, false
}

// FlightShare says how far a flight has come that this phone made; what is not on its way from here is shared.
func (r *Replica) FlightShare(book oplog.BookID, flight oplog.FlightID) Share {
	return r.controlShare(book, oplog.Flight, func(body []byte) bool {
		var made club.FlightBody
		return codec.Unmarshal(body, &made) == nil && made.ID == flight
	})
}

// SampleShare says how far a sample has come that this phone sealed; what is not on its way from here is shared.
func (r *Replica) SampleShare(book oplog.BookID, sample oplog.SampleID) Share {
	return r.controlShare(book, oplog.Sample, func(body []byte) bool {
		var sealed club.SampleBody
		return codec.Unmarshal(body, &sealed) == nil && sealed.ID == sample
	})
}

// InviteShare says how far an invitation has come that this phone made; what is not on its way from here is shared.
func (r *Replica) InviteShare(book oplog.BookID, key oplog.DeviceID) Share {
	return r.controlShare(book, oplog.Invite, func(body []byte) bool {
		var made club.InviteBody
		return codec.Unmarshal(body, &made) == nil && made.Key == key
	})
}

func (r *Replica) controlShare(book oplog.BookID, kind oplog.Kind, is func(body []byte) bool) Share {
	b, share := r.books[book], Shared
	if b == nil {
		return share
	}
	b.out.pending(func(it *item, isFrozen bool) {
		if it.Kind == kind && is(it.Body) {
			share = b.out.share(isFrozen)
		}
	})
	return share
}

// erasing are the documents whose erasure waits to be ordered: to this phone they are erased already.
func (b *book) erasing() (docs []oplog.DocID) {
	b.out.pending(func(it *item, _ bool) {
		var body club.EraseBody
		if it.Kind == oplog.Erase && codec.Unmarshal(it.Body, &body) == nil {
			docs = append(docs, body.Docs...)
		}
	})
	return docs
}

// OwnGuess says how this person's guess about a sample stands.
func (r *Replica) OwnGuess(book oplog.BookID, sample oplog.SampleID) GuessStatus {
	b := r.books[book]
	if b == nil {
		return GuessStatus{}
	}
	member := b.record.Member
	d, ok := r.Doc(book, DocKey{member, oplog.GuessDoc(sample, member), club.GuessPart})
	if !ok {
		return GuessStatus{}
	}
	status := GuessStatus{Share: d.Share, Timing: TimingOpen}
	info, known := b.log.state.Sample(sample)
	if !known || info.ClosedPos == 0 {
		return status
	}
	status.Timing = TimingLate
	pos := d.Pos
	if pos == 0 && d.Share == Shared && b.out.run != nil {
		pos = b.out.run.first
	}
	if pos != 0 && pos < info.ClosedPos {
		status.Timing = TimingIn
	}
	return status
}
