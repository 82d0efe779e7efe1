package replica

import (
	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// SampleArgs seals a sample.
type SampleArgs struct {
	Flight     oplog.FlightID
	Code       uint16
	Centigrams uint32
	Declared   []byte // allergens and additives: open to every member
	Answer     []byte
	Holders    []oplog.MemberID
}

// SealSample seals a sample with this person as its keeper.
func (r *Replica) SealSample(now int64, book oplog.BookID, a SampleArgs) (oplog.SampleID, Ticket, error) {
	r.now = now
	var id oplog.SampleID
	b, err := r.writable(book)
	if err != nil {
		return id, 0, err
	}
	if err := r.draw(id[:]); err != nil {
		return id, 0, err
	}
	it, err := r.sampleItem(b, id, &a)
	if err != nil {
		return id, 0, err
	}
	if err := r.propose(b, it); err != nil {
		return id, 0, err
	}
	return id, r.ticket(), nil
}

func (r *Replica) sampleItem(b *book, id oplog.SampleID, a *SampleArgs) (item, error) {
	it := item{Kind: oplog.Sample, Sample: &id}
	epoch, _, err := r.epochNow(b)
	if err != nil {
		return it, err
	}
	_, notebook, err := r.envelopeNow(b, id)
	if err != nil {
		return it, err
	}
	key, ok := r.notebookKey(notebook)
	if !ok {
		return it, refuse("no-notebook-key", "this phone does not have the notebook's key")
	}
	it.Epoch = notebook
	pair := seal.SampleFor(key, b.id, id)
	body := club.SampleBody{ID: id, Flight: a.Flight, Code: a.Code, Centigrams: a.Centigrams, Key: pair.Public}
	if err := r.sealSample(b, &body, &it, epoch, a.Declared, a.Answer); err != nil {
		return it, err
	}
	for _, holder := range a.Holders {
		hold, err := r.holdFor(b, r.stateAhead(b), &body, holder, pair)
		if err != nil {
			return it, err
		}
		body.Holders = append(body.Holders, hold)
	}
	it.Body = codec.MustMarshal(&body)
	return it, nil
}

// sealSample seals declaration and answer under an epoch.
func (r *Replica) sealSample(b *book, body *club.SampleBody, it *item, epoch seal.Key, declared, answer []byte) error {
	envelope, err := r.ownEnvelope(b, body.ID, it.Epoch)
	if err != nil {
		return err
	}
	epochID := oplog.KeyID(epoch.ID())
	open, err := seal.SealUnder(r.rand, []seal.Key{epoch}, club.DeclaredAD(b.id, body.ID), declared, seal.Powers)
	if err != nil {
		return fromSeal(err)
	}
	keys := []seal.Key{envelope, epoch}
	box, err := seal.SealUnder(r.rand, keys, club.AnswerAD(b.id, body.ID, b.record.Member), answer, seal.Uniform)
	if err != nil {
		return fromSeal(err)
	}
	it.Keys = []oplog.KeyID{oplog.KeyID(envelope.ID()), epochID}
	body.Declared = club.Sealed{Keys: []oplog.KeyID{epochID}, Box: open}
	body.Answer = club.Sealed{Keys: it.Keys, Box: box}
	return nil
}

// holdFor hands a sample's private half to a holder's devices.
func (r *Replica) holdFor(b *book, state *club.State, body *club.SampleBody, holder oplog.MemberID, pair seal.Sample) (club.Hold, error) {
	hold := club.Hold{Member: holder}
	m, ok := state.Member(holder)
	if !ok || !m.In() {
		return hold, refuse("wrong-holders", "a holder is not in the club")
	}
	info := seal.HoldInfo(b.id, body.ID, holder, body.Key)
	for i := range m.Devices {
		d := &m.Devices[i]
		if !d.In() {
			continue
		}
		w, err := seal.Wrap(r.rand, d.Box, info, seal.Key(pair.Private))
		if err != nil {
			return hold, fromSeal(err)
		}
		hold.Wraps = append(hold.Wraps, club.Wrapped{Device: d.Sign, Enc: w.Enc, Box: w.Box[:]})
	}
	return hold, nil
}

// refreshSample seals a waiting sample under the current epoch.
func (r *Replica) refreshSample(p *press, it *item) error {
	current := p.state.Epoch().ID
	epoch, ok := p.b.log.keys[current]
	if it.Keys[1] == current || !ok {
		return nil
	}
	return refreshBody(it, func(body *club.SampleBody) error {
		declared, answer, ok := r.openSample(p.b, body, it)
		if !ok {
			return nil
		}
		return r.sealSample(p.b, body, it, epoch, declared, answer)
	})
}

// openSample opens what this phone itself sealed.
func (r *Replica) openSample(b *book, body *club.SampleBody, it *item) (declared, answer []byte, ok bool) {
	keys, ok := r.itemKeys(b, it)
	if !ok {
		return nil, nil, false
	}
	declared, err := seal.OpenUnder(keys[1:], keyIDs(body.Declared.Keys), club.DeclaredAD(b.id, body.ID), body.Declared.Box)
	if err != nil {
		return nil, nil, false
	}
	ad := club.AnswerAD(b.id, body.ID, b.record.Member)
	answer, err = seal.OpenUnder(keys, keyIDs(body.Answer.Keys), ad, body.Answer.Box)
	return declared, answer, err == nil
}

// samplePublic is the key to which an op's envelope is handed over.
func samplePublic(state *club.State, it *item) ([32]byte, error) {
	if it.Kind == oplog.Sample {
		var body club.SampleBody
		if err := codec.Unmarshal(it.Body, &body); err != nil {
			return [32]byte{}, refuse("malformed", "the waiting sample does not decode: %v", err)
		}
		return body.Key, nil
	}
	info, ok := state.Sample(*it.Sample)
	if !ok {
		return [32]byte{}, refuse("no-such-sample", "there is no such sample")
	}
	return info.Body.Key, nil
}
