package club

import (
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// unseal publishes private keys of samples; those that are open already are passed over.
func (s *State) unseal(t *turn) rule {
	var body UnsealBody
	if !decode(t.op.Body, &body) || len(body.Keys) == 0 || len(body.Keys) > MaxFlightSamples {
		return malformed
	}
	named := make([]oplog.SampleID, len(body.Keys))
	sealed := 0
	for i := range body.Keys {
		named[i] = body.Keys[i].Sample
		r := s.mayUnseal(t, &body.Keys[i])
		switch {
		case r == fine:
			sealed++
		case r != alreadyOpen:
			return r
		}
	}
	switch {
	case !distinct(named):
		return malformed
	case sealed == 0:
		return alreadyOpen
	}
	for i := range body.Keys {
		s.openSample(t, &body.Keys[i])
	}
	return fine
}

// mayUnseal judges one key. Before the close (or when this entry's own time is the close) only the keeper's counts, and acts
// as the close. After it the author must have
// seen the close: a key signed earlier could have been meant for another order, and sent by whoever delayed it.
func (s *State) mayUnseal(t *turn, key *SampleKey) rule {
	sample := s.bySample[key.Sample]
	if sample == nil {
		return noSuchSample
	}
	early := sample.Keeper == t.member.ID && (sample.ClosedPos == 0 || sample.ClosedPos == t.pos)
	switch {
	case !sample.Holds(t.member.ID):
		return notAHolder
	case sample.UnsealedPos != 0:
		return alreadyOpen
	case sample.ClosedPos == 0 && !early:
		return notClosed
	case !early && t.op.SeenPos < sample.ClosedPos:
		return seenBeforeClose
	case seal.CheckSample(key.Private, sample.Body.Key) != nil:
		return wrongSampleKey
	}
	return fine
}

func (s *State) openSample(t *turn, key *SampleKey) {
	sample := s.bySample[key.Sample]
	if sample.UnsealedPos != 0 {
		return
	}
	if sample.ClosedPos == 0 {
		s.closeSample(sample, t.pos, ClosedByEarly)
	}
	keep(s, sample)
	private := key.Private
	sample.UnsealedPos, sample.UnsealedAt, sample.Private = t.pos, t.at, &private
}
