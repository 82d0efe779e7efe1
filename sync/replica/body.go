package replica

import (
	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// Body opens a part.
func (r *Replica) Body(book oplog.BookID, part DocPart) ([]byte, BodyStatus) {
	b := r.books[book]
	switch {
	case b == nil:
		return nil, BodyMissing
	case part.Pos == 0:
		return r.pendingBody(b, &part)
	case part.Erased:
		return nil, BodyDropped
	}
	return r.bodyAt(b, part.Pos, part.DocKey)
}

func (r *Replica) pendingBody(b *book, part *DocPart) ([]byte, BodyStatus) {
	var found *item
	b.out.pending(func(it *item, _ bool) {
		if it.ID == part.Item {
			found = it
		}
	})
	for i := range r.refused {
		if r.refused[i].Item.ID == part.Item && r.refused[i].Book == b.id {
			found = &r.refused[i].Item
		}
	}
	if found == nil || found.Kind != oplog.Part {
		return nil, BodyMissing
	}
	return r.openItem(b, b.out.author, found)
}

// bodyAt opens the sealed body at a position; what is not in the cache is asked from storage.
func (r *Replica) bodyAt(b *book, pos uint64, key DocKey) ([]byte, BodyStatus) {
	c, ok := r.cache.get(b.id, pos)
	if !ok {
		c, ok = r.unwritten(coldBodyKey(b.id, pos))
	}
	if !ok {
		r.ask(b.id, pos, key)
		return nil, BodyLoading
	}
	if c.gone {
		return nil, BodyDropped
	}
	op, err := oplog.Parse(c.raw, c.body)
	if err != nil {
		return nil, BodyUnreadable
	}
	return r.openOp(b, &op)
}

// openOp opens a sealed body with the keys that its header names.
func (r *Replica) openOp(b *book, op *oplog.Op) ([]byte, BodyStatus) {
	m, ok := memberWith(b.log.state, op.Device)
	if !ok {
		return nil, BodyUnreadable
	}
	keys, status := r.keysOf(b, m.ID, op.Keys)
	if status != BodyReady {
		return nil, status
	}
	ad := oplog.AssociatedData(b.id, op.Device, op.Kind, op.Doc, op.Part, op.Keys)
	plain, err := seal.OpenUnder(keys, keyIDs(op.Keys), ad, op.Body)
	if err != nil {
		return nil, BodyUnreadable
	}
	return plain, BodyReady
}

// keysOf finds the keys by their ids: of an epoch, or of a member's envelope and an epoch.
func (r *Replica) keysOf(b *book, member oplog.MemberID, ids []oplog.KeyID) ([]seal.Key, BodyStatus) {
	if len(ids) == 0 || len(ids) > 2 {
		return nil, BodyUnreadable
	}
	epoch, ok := b.log.keys[ids[len(ids)-1]]
	if !ok {
		return nil, BodyUnreadable
	}
	if len(ids) == 1 {
		return []seal.Key{epoch}, BodyReady
	}
	envelope, sealed, ok := r.envelope(b, member, ids[0])
	if !ok && sealed {
		return nil, BodySealed
	}
	if !ok {
		return nil, BodyUnreadable
	}
	return []seal.Key{envelope, epoch}, BodyReady
}

// Answer opens a sample's answer.
func (r *Replica) Answer(book oplog.BookID, sample oplog.SampleID) ([]byte, BodyStatus) {
	b, info, ok := r.sample(book, sample)
	if !ok {
		return nil, BodyMissing
	}
	if it := b.out.sealing(sample); it != nil {
		var body club.SampleBody
		if codec.Unmarshal(it.Body, &body) != nil {
			return nil, BodyUnreadable
		}
		if _, answer, ok := r.openSample(b, &body, it); ok {
			return answer, BodyReady
		}
		return nil, BodyUnreadable
	}
	keys, status := r.keysOf(b, info.Keeper, info.Body.Answer.Keys)
	if status != BodyReady {
		return nil, status
	}
	ad := club.AnswerAD(b.id, sample, info.Keeper)
	plain, err := seal.OpenUnder(keys, keyIDs(info.Body.Answer.Keys), ad, info.Body.Answer.Box)
	if err != nil {
		return nil, BodyUnreadable
	}
	return plain, BodyReady
}

// sealing finds a sample that is not ordered yet.
func (o *outbox) sealing(sample oplog.SampleID) (found *item) {
	if o.ruling == 0 && !o.run.rules() {
		return nil
	}
	o.pending(func(it *item, _ bool) {
		if it.Kind == oplog.Sample && *it.Sample == sample {
			found = it
		}
	})
	return found
}

func (r *Replica) sample(book oplog.BookID, sample oplog.SampleID) (*book, club.SampleInfo, bool) {
	b := r.books[book]
	if b == nil {
		return nil, club.SampleInfo{}, false
	}
	info, ok := r.stateAhead(b).Sample(sample)
	return b, info, ok
}

// Declared opens a sample's declaration of allergens and additives.
func (r *Replica) Declared(book oplog.BookID, sample oplog.SampleID) ([]byte, BodyStatus) {
	b, info, ok := r.sample(book, sample)
	if !ok {
		return nil, BodyMissing
	}
	keys, status := r.keysOf(b, info.Keeper, info.Body.Declared.Keys)
	if status != BodyReady {
		return nil, status
	}
	plain, err := seal.OpenUnder(keys, keyIDs(info.Body.Declared.Keys), club.DeclaredAD(b.id, sample), info.Body.Declared.Box)
	if err != nil {
		return nil, BodyUnreadable
	}
	return plain, BodyReady
}

// Guess opens the scoring guess of a member about a sample: this person's own newest one before the close, another's only
// after the unseal, although a holder's phone could.
func (r *Replica) Guess(book oplog.BookID, sample oplog.SampleID, member oplog.MemberID) ([]byte, BodyStatus) {
	b := r.books[book]
	if b == nil {
		return nil, BodyMissing
	}
	info, known := b.log.state.Sample(sample)
	key := DocKey{member, oplog.GuessDoc(sample, member), club.GuessPart}
	if member == b.record.Member && (!known || info.ClosedPos == 0) {
		if d, ok := r.Doc(book, key); ok {
			return r.Body(book, d)
		}
		return nil, BodyMissing
	}
	g, ok := b.log.state.Guess(sample, member)
	if !ok || g.Scoring == nil {
		return nil, BodyMissing
	}
	if info.UnsealedPos == 0 && member != b.record.Member {
		return nil, BodySealed
	}
	return r.bodyAt(b, g.Scoring.Pos, key)
}
