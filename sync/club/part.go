package club

import (
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// part judges sealed content by what stands outside the seal: who wrote it, where, and under which keys.
func (s *State) part(t *turn) rule {
	under, fresh, r := s.under(t)
	if r != fine {
		return r
	}
	own, derived := s.ownerOf(t.op.Doc)
	switch {
	case derived && own.member != t.member:
		return notYours
	case s.Shared(t.op.Doc) && !t.organiser():
		return notOrganiser
	case s.Shared(t.op.Doc) && under != nil:
		return badKeys
	case derived && own.about != nil:
		if r := mayGuess(t, own.about, under); r != fine {
			return r
		}
	}
	if fresh {
		s.addWrap(t, under)
	}
	if derived && own.about != nil && (t.op.Part == GuessPart || t.op.Part == FirstPart) {
		s.noteGuess(t, own.about)
	}
	return fine
}

// under finds under which keys a part lies: the epoch alone (nil), or a sample's envelope and the epoch.
func (s *State) under(t *turn) (envelope *sample, fresh bool, r rule) {
	keys := t.op.Keys
	switch {
	case !s.hasEpoch(keys[len(keys)-1]):
		return nil, false, unknownKey
	case len(keys) == 1 && t.op.Wrap == nil:
		return nil, false, fine
	case len(keys) != 2 || s.kind == Notebook:
		return nil, false, badKeys
	}
	return s.envelopeOf(t)
}

// mayGuess checks that a guess document lies under the envelope of its own sample, and that first impressions come once.
func mayGuess(t *turn, about, under *sample) rule {
	switch {
	case under == nil:
		return badKeys
	case under != about:
		return wrongEnvelope
	}
	if t.op.Part == FirstPart {
		if g := about.guessOf(t.member.ID); g != nil && g.First != nil {
			return writtenOnce
		}
	}
	return fine
}

// uniform refuses, at the door only, a guess whose size could tell something about it. Phones do not ask: whether an entry is
// void must not depend on a body that may have been dropped; nor does the door when a phone gives back what a store has lost.
func (s *State) uniform(op *oplog.Op) rule {
	if op.Kind != oplog.Part || op.Part != GuessPart || len(op.Keys) != 2 {
		return fine
	}
	if own, ok := s.ownerOf(op.Doc); ok && own.about != nil && op.Body != nil && !seal.IsUniform(op.Body) {
		return notUniform
	}
	return fine
}
