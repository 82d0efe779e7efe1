package club

import (
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// Bounds of samples.
const (
	MaxSamples = 2000 // of a club, ever
	MaxHolders = 8    // of one
)

// Closed says how a sample closed.
type Closed uint8

// The ways in which a sample closes.
const (
	Open          Closed = 0
	ClosedByLock  Closed = 1
	ClosedByTime  Closed = 2
	ClosedByEarly Closed = 3 // its keeper unsealed it before any close: "opened early"
)

// SampleInfo is a sample and what became of it.
type SampleInfo struct {
	_           struct{} `cbor:",toarray"`
	Body        SampleBody
	Pos         uint64
	Keeper      oplog.MemberID
	Device      oplog.DeviceID // that sealed it
	Wrap        oplog.Wrap     // of the keeper's envelope, under which the answer lies
	ClosedPos   uint64         // 0 while it is open; a guess at an earlier position came before the close
	ClosedHow   Closed
	UnsealedPos uint64    // 0 while it is sealed
	UnsealedAt  int64     // the server's time there, milliseconds
	Private     *[32]byte // nil while it is sealed
}

type sample struct {
	SampleInfo
	wraps   []*WrapInfo
	guesses []*GuessInfo
}

// Holds says whether a member is the keeper or a named holder.
func (i *SampleInfo) Holds(member oplog.MemberID) bool {
	return member == i.Keeper || i.holder(member)
}

func (i *SampleInfo) holder(member oplog.MemberID) bool {
	for h := range i.Body.Holders {
		if i.Body.Holders[h].Member == member {
			return true
		}
	}
	return false
}

// Samples are a flight's samples, in the order in which they were sealed.
func (s *State) Samples(flight oplog.FlightID) []SampleInfo {
	f := s.byFlight[flight]
	if f == nil {
		return nil
	}
	list := make([]SampleInfo, len(f.samples))
	for i, sample := range f.samples {
		list[i] = sample.SampleInfo
	}
	return list
}

// Sample finds a sample.
func (s *State) Sample(id oplog.SampleID) (SampleInfo, bool) {
	if sample := s.bySample[id]; sample != nil {
		return sample.SampleInfo, true
	}
	return SampleInfo{}, false
}

// DeclaredAD is what the open declaration of a sample is bound to.
func DeclaredAD(book oplog.BookID, sample oplog.SampleID) []byte {
	return seal.Join("hushcup/1 declared", book[:], sample[:])
}

// AnswerAD is what the sealed answer of a sample is bound to.
func AnswerAD(book oplog.BookID, sample oplog.SampleID, keeper oplog.MemberID) []byte {
	return seal.Join("hushcup/1 answer", book[:], sample[:], keeper[:])
}

// sealSample adds a sample to a flight. The author's member is its keeper.
func (s *State) sealSample(t *turn) rule {
	var body SampleBody
	if !decode(t.op.Body, &body) || !body.formed() {
		return malformed
	}
	f := s.byFlight[body.Flight]
	if r := s.maySeal(f, &body); r != fine {
		return r
	}
	if r := s.sealedWell(t, &body); r != fine {
		return r
	}
	if r := s.mayHold(t.member, body.Holders); r != fine {
		return r
	}
	added := &sample{SampleInfo: SampleInfo{
		Body: body, Pos: t.pos, Keeper: t.member.ID, Device: t.op.Device, Wrap: *t.op.Wrap,
	}}
	s.samples = append(s.samples, added)
	put(s, s.bySample, body.ID, added)
	keep(s, f)
	f.samples = append(f.samples, added)
	s.addWrap(t, added)
	s.ownGuesses(added)
	return fine
}

// formed checks what needs no state.
func (b *SampleBody) formed() bool {
	return b.Code >= 100 && b.Code <= 999 && len(b.Holders) <= MaxHolders &&
		len(b.Declared.Keys) == 1 && len(b.Declared.Box) > 0 && len(b.Declared.Box) <= maxDeclaredLen &&
		len(b.Answer.Keys) == 2 && seal.IsUniform(b.Answer.Box)
}

// maySeal checks a new sample against its flight.
func (s *State) maySeal(f *flight, body *SampleBody) rule {
	switch {
	case f == nil:
		return noSuchFlight
	case f.ClosedPos != 0:
		return flightClosed
	case s.bySample[body.ID] != nil:
		return sampleKnown
	case len(f.samples) >= MaxFlightSamples || len(s.samples) >= MaxSamples:
		return tooMany
	case seal.CheckBox(body.Key) != nil:
		return badKey
	}
	for _, other := range f.samples {
		if other.Body.Code == body.Code {
			return codeTaken
		}
	}
	for _, other := range s.samples {
		if other.Body.Key == body.Key {
			return keyTaken
		}
	}
	return fine
}

// sealedWell checks the keys of declaration and answer. The header repeats the answer's, and hands over its envelope.
func (s *State) sealedWell(t *turn, body *SampleBody) rule {
	keys, wrap := t.op.Keys, t.op.Wrap
	switch {
	case len(keys) != 2 || keys[0] != body.Answer.Keys[0] || keys[1] != body.Answer.Keys[1]:
		return badKeys
	case wrap == nil || wrap.Sample != body.ID:
		return noEnvelope
	case !s.hasEpoch(keys[1]) || !s.hasEpoch(body.Declared.Keys[0]):
		return unknownKey
	case s.envelopes[envelopeKey{t.member.ID, keys[0]}] != nil:
		return secondWrap
	}
	return fine
}

// mayHold checks that holders are other members who are in, each named once, with the key for devices of theirs.
func (s *State) mayHold(keeper *Member, holders []Hold) rule {
	named := map[oplog.MemberID]bool{}
	for i := range holders {
		m := s.byMember[holders[i].Member]
		if m == nil || !m.In() || m == keeper || named[m.ID] {
			return wrongHolders
		}
		named[m.ID] = true
		if !s.handed(m, holders[i].Wraps) {
			return wrongDevices
		}
	}
	return fine
}

// handed checks that a sample's key is wrapped for one or more of a member's devices. Not for exactly those that are in: a
// device that comes or goes while the keeper's phone is off must not void a sample.
func (s *State) handed(m *Member, wraps []Wrapped) bool {
	ids := make([]oplog.DeviceID, len(wraps))
	for i := range wraps {
		place := s.seats[wraps[i].Device]
		if place == nil || place.member != m || len(wraps[i].Box) != wrappedKeyLen {
			return false
		}
		ids[i] = wraps[i].Device
	}
	return len(ids) > 0 && distinct(ids)
}
