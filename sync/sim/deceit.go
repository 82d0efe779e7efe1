package sim

import (
	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// deceit is one way in which a device with a program of its own lies.
type deceit struct {
	name string
	make func(d *draft) (oplog.Run, bool) // false when there is no occasion for it
}

var deceits = []deceit{
	{"a forged signature", forgedSignature},
	{"a run in another's name", anothersName},
	{"another's run", anothersRun},
	{"a second version of its last run", secondVersion},
	{"a gap in its chain", gapInChain},
	{"an order that it did not see", falseSeen},
	{"a position that does not exist", futureSeen},
	{"a time to come", timeToCome},
	{"a body of noise", noise},
	{"an unknown kind", unknownKind},
	{"newer rules", newerRules},
	{"a guess after the close", func(d *draft) (oplog.Run, bool) {
		return d.guess(func(s *club.SampleInfo) bool { return s.ClosedPos != 0 })
	}},
	{"a guess that nobody can open", func(d *draft) (oplog.Run, bool) {
		return d.guess(func(s *club.SampleInfo) bool { return s.ClosedPos == 0 })
	}},
	{"a second envelope", secondEnvelope},
	{"a sample with a key of low order", lowOrderSample},
	{"a device with a key of low order", lowOrderDevice},
	{"an unseal before the close", earlyUnseal},
	{"an unseal with another key", wrongUnseal},
	{"words in another's document", anothersDocument},
	{"a guess of another length", shortGuess},
	{"a role for itself", roleForItself},
	{"a removal with a stale epoch", staleRemoval},
	{"a good run with a bad end", badEnd},
}

func forgedSignature(d *draft) (oplog.Run, bool) {
	run, _ := noise(d)
	run.Sig[d.rng().upTo(64)] ^= 1
	return run, true
}

func anothersName(d *draft) (oplog.Run, bool) {
	other := pick(d.rng(), d.b.state.Members())
	d.header.Device = pick(d.rng(), other.Devices).Sign
	head := d.b.state.Head(d.header.Device)
	d.header.Seq, d.header.Prev = head.Seq+1, head.Hash
	if head.Seq == 0 {
		d.header.Prev = oplog.Hash{}
	}
	return noise(d)
}

// anothersRun sends what somebody else has signed, as it stands in the order.
func anothersRun(d *draft) (oplog.Run, bool) {
	for _, e := range d.b.entries {
		if e.Op.Device != d.l.device && e.Op.Body != nil {
			return d.sign(e.Op), true
		}
	}
	return oplog.Run{}, false
}

func secondVersion(d *draft) (oplog.Run, bool) {
	if d.header.Seq < 2 {
		return oplog.Run{}, false
	}
	d.header.Seq--
	if d.header.Seq == 1 {
		d.header.Prev = oplog.Hash{}
	}
	return noise(d)
}

func gapInChain(d *draft) (oplog.Run, bool) {
	d.header.Seq += 1 + uint64(d.rng().upTo(3))
	return noise(d)
}

func falseSeen(d *draft) (oplog.Run, bool) {
	d.header.SeenHash[3] ^= 1
	return d.part(d.ownDoc(), 9)
}

func futureSeen(d *draft) (oplog.Run, bool) {
	d.header.SeenPos += 1000
	return d.part(d.ownDoc(), 9)
}

func timeToCome(d *draft) (oplog.Run, bool) {
	d.header.Time = oplog.TimeAt(d.l.w.clock() + d.rng().between(oplog.MaxAhead+1000, 1<<47))
	return d.part(d.ownDoc(), 9)
}

// noise is a body of noise under some kind.
func noise(d *draft) (oplog.Run, bool) {
	d.header.Kind = oplog.Kind(2 + d.rng().upTo(16))
	d.body = make([]byte, d.rng().upTo(200))
	_, _ = d.rng().Read(d.body)
	return d.run()
}

func unknownKind(d *draft) (oplog.Run, bool) {
	d.header.Kind = 200
	return d.run()
}

func newerRules(d *draft) (oplog.Run, bool) {
	return d.control(oplog.Rules, &club.RulesBody{Rules: club.RulesVersion + 1})
}

func (d *draft) control(kind oplog.Kind, body any) (oplog.Run, bool) {
	d.header.Kind, d.body = kind, codec.MustMarshal(body)
	return d.run()
}

func (d *draft) ownDoc() (doc oplog.DocID) {
	copy(doc[:], "a thief's own")
	return doc
}

// part writes noise, as large as sealed words are.
func (d *draft) part(doc oplog.DocID, part uint32) (oplog.Run, bool) {
	d.header.Kind, d.header.Doc, d.header.Part = oplog.Part, doc, part
	if d.header.Keys == nil {
		d.header.Keys = []oplog.KeyID{d.b.state.Epoch().ID}
	}
	if d.body == nil {
		d.body = make([]byte, seal.UniformSealed)
		_, _ = d.rng().Read(d.body)
	}
	return d.run()
}

// guess writes into the liar's own guess document, under an envelope of noise if there is none yet.
func (d *draft) guess(which func(*club.SampleInfo) bool) (oplog.Run, bool) {
	s, ok := d.sample(which)
	if !ok {
		return oplog.Run{}, false
	}
	d.envelope(&s)
	return d.part(oplog.GuessDoc(s.Body.ID, d.member.ID), club.GuessPart)
}

// envelope names the member's envelope, or hands over a new one that is noise.
func (d *draft) envelope(s *club.SampleInfo) {
	epoch := d.b.state.Epoch().ID
	for _, w := range d.b.state.Wraps(s.Body.ID) {
		if w.Member == d.member.ID {
			d.header.Keys = []oplog.KeyID{w.Envelope, epoch}
			return
		}
	}
	d.handOver(s)
}

func (d *draft) handOver(s *club.SampleInfo) {
	var id, from oplog.KeyID
	_, _ = d.rng().Read(id[:])
	_, _ = d.rng().Read(from[:])
	d.header.Keys = []oplog.KeyID{id, d.b.state.Epoch().ID}
	d.header.Wrap = &oplog.Wrap{Sample: s.Body.ID, Epoch: from, Box: make([]byte, 48)}
}

func secondEnvelope(d *draft) (oplog.Run, bool) {
	s, ok := d.sample(func(*club.SampleInfo) bool { return true })
	if !ok {
		return oplog.Run{}, false
	}
	for _, w := range d.b.state.Wraps(s.Body.ID) {
		if w.Member == d.member.ID {
			d.handOver(&s)
			d.header.Wrap.Epoch = w.NotebookEpoch
			return d.part(oplog.GuessDoc(s.Body.ID, d.member.ID), club.GuessPart)
		}
	}
	return oplog.Run{}, false
}

// lowOrderSample seals a sample to a point to which every secret is the same.
func lowOrderSample(d *draft) (oplog.Run, bool) {
	flights := d.b.state.Flights()
	if len(flights) == 0 {
		return oplog.Run{}, false
	}
	epoch := d.b.state.Epoch().ID
	body := club.SampleBody{Flight: pick(d.rng(), flights).ID, Code: uint16(100 + d.rng().upTo(900)),
		Declared: club.Sealed{Keys: []oplog.KeyID{epoch}, Box: []byte{1}}}
	_, _ = d.rng().Read(body.ID[:])
	body.Key[0] = byte(d.rng().upTo(2)) // 0 and 1 are both of low order
	d.handOver(&club.SampleInfo{Body: body})
	box := make([]byte, seal.UniformSealed)
	body.Answer = club.Sealed{Keys: d.header.Keys, Box: box}
	return d.control(oplog.Sample, &body)
}

func lowOrderDevice(d *draft) (oplog.Run, bool) {
	var box [32]byte
	sign := [32]byte{1} // the neutral point
	return d.control(oplog.Device, &club.DeviceBody{Device: club.Enrolment{Sign: sign, Box: box}, Proof: make([]byte, 64),
		EpochID: d.b.state.Epoch().ID, Wraps: []club.Wrapped{{Device: sign, Box: make([]byte, 48)}}})
}

func earlyUnseal(d *draft) (oplog.Run, bool) {
	s, ok := d.sample(func(s *club.SampleInfo) bool { return s.ClosedPos == 0 && s.Keeper != d.member.ID })
	if !ok {
		return oplog.Run{}, false
	}
	return d.unseal(s.Body.ID)
}

func wrongUnseal(d *draft) (oplog.Run, bool) {
	s, ok := d.sample(func(s *club.SampleInfo) bool { return s.UnsealedPos == 0 })
	if !ok {
		return oplog.Run{}, false
	}
	return d.unseal(s.Body.ID)
}

func (d *draft) unseal(id oplog.SampleID) (oplog.Run, bool) {
	key := club.SampleKey{Sample: id}
	_, _ = d.rng().Read(key.Private[:])
	return d.control(oplog.Unseal, &club.UnsealBody{Keys: []club.SampleKey{key}})
}

func anothersDocument(d *draft) (oplog.Run, bool) {
	for _, m := range d.b.state.Members() {
		if m.ID != d.member.ID {
			return d.part(oplog.ProfileDoc(m.ID), 1024)
		}
	}
	return oplog.Run{}, false
}

func shortGuess(d *draft) (oplog.Run, bool) {
	d.body = make([]byte, 256+40)
	return d.guess(func(s *club.SampleInfo) bool { return s.ClosedPos == 0 })
}

func roleForItself(d *draft) (oplog.Run, bool) {
	if d.member.Role == club.Organiser {
		return oplog.Run{}, false
	}
	return d.control(oplog.Role, &club.RoleBody{Member: d.member.ID, Role: club.Organiser})
}

// staleRemoval would lock everybody out: its epoch is handed to nobody.
func staleRemoval(d *draft) (oplog.Run, bool) {
	other := pick(d.rng(), d.b.state.Members())
	var id oplog.KeyID
	_, _ = d.rng().Read(id[:])
	before := &club.Sealed{Keys: []oplog.KeyID{id}, Box: make([]byte, 72)}
	return d.control(oplog.Remove, &club.RemoveBody{Member: &other.ID, Epoch: club.Grant{ID: id, Before: before}})
}

// badEnd is refused as a whole, though its beginning is good.
func badEnd(d *draft) (oplog.Run, bool) {
	d.header.Kind, d.header.Doc, d.header.Part = oplog.Part, d.ownDoc(), 9
	d.header.Keys, d.body = []oplog.KeyID{d.b.state.Epoch().ID}, make([]byte, 256+40)
	good := oplog.New(d.header, d.body)
	bad := d.header
	bad.Seq, bad.Prev, bad.Kind = bad.Seq+1, good.Hash(), oplog.Resume
	return d.sign(good, oplog.New(bad, []byte("noise"))), true
}
