package club

import "hushcup/sync/oplog"

// WrapInfo is the envelope of a member for a sample, as it was handed to the sample's key.
type WrapInfo struct {
	_             struct{} `cbor:",toarray"`
	Member        oplog.MemberID
	Envelope      oplog.KeyID
	NotebookEpoch oplog.KeyID
	Pos           uint64
	Wrap          oplog.Wrap
}

type envelopeKey struct {
	member oplog.MemberID
	id     oplog.KeyID
}

// Wraps are the envelopes of a sample, in order: unwrap with the sample's private key and
// seal.Info(seal.PurposeEnvelope, book, sample, Member, Envelope).
func (s *State) Wraps(sample oplog.SampleID) []WrapInfo {
	if known := s.bySample[sample]; known != nil {
		return values(known.wraps)
	}
	return nil
}

// WrapOf finds a member's envelope by its key's id, whatever sample it belongs to.
func (s *State) WrapOf(member oplog.MemberID, envelope oplog.KeyID) (WrapInfo, bool) {
	if w := s.envelopes[envelopeKey{member, envelope}]; w != nil {
		return *w, true
	}
	return WrapInfo{}, false
}

// envelopeOf finds the sample under whose envelope an op of the author lies: handed over earlier, or (fresh) by this op.
func (s *State) envelopeOf(t *turn) (of *sample, fresh bool, r rule) {
	known := s.envelopes[envelopeKey{t.member.ID, t.op.Keys[0]}]
	wrap := t.op.Wrap
	switch {
	case wrap == nil && known == nil:
		return nil, false, noEnvelope
	case wrap == nil:
		return s.bySample[known.Wrap.Sample], false, fine
	}
	if of = s.bySample[wrap.Sample]; of == nil {
		return nil, false, noSuchSample
	}
	if known == nil {
		return of, true, of.firstWrap(t.member.ID, wrap.Epoch)
	}
	if known.Wrap.Sample != wrap.Sample || known.NotebookEpoch != wrap.Epoch {
		return nil, false, secondWrap
	}
	return of, false, fine // two devices may hand over the same envelope; the first stands
}

// firstWrap refuses a second envelope of a member for the same sample and notebook epoch: one could be shown to some readers
// and another one to others.
func (s *sample) firstWrap(member oplog.MemberID, epoch oplog.KeyID) rule {
	for _, w := range s.wraps {
		if w.Member == member && w.NotebookEpoch == epoch {
			return secondWrap
		}
	}
	return fine
}

// addWrap notes the envelope that an op hands over.
func (s *State) addWrap(t *turn, to *sample) {
	w := &WrapInfo{
		Member: t.member.ID, Envelope: t.op.Keys[0], NotebookEpoch: t.op.Wrap.Epoch, Pos: t.pos, Wrap: *t.op.Wrap,
	}
	keep(s, to)
	to.wraps = append(to.wraps, w)
	put(s, s.envelopes, envelopeKey{w.Member, w.Envelope}, w)
}
