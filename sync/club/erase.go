package club

import "hushcup/sync/oplog"

// MaxErased bounds the documents that one op names.
const MaxErased = 256

// erase lets members have their own documents forgotten, but nothing that a score stands on. What is forgotten, Docs knows;
// here it is only judged.
func (s *State) erase(t *turn) rule {
	var body EraseBody
	if !decode(t.op.Body, &body) || len(body.Docs) == 0 || len(body.Docs) > MaxErased {
		return malformed
	}
	for _, doc := range body.Docs {
		if r := s.mayErase(t.member, doc); r != fine {
			return r
		}
	}
	return fine
}

func (s *State) mayErase(m *Member, doc oplog.DocID) rule {
	if s.Shared(doc) {
		return notYours
	}
	own, derived := s.ownerOf(doc)
	switch {
	case !derived:
		return fine
	case own.member != m:
		return notYours
	case own.about == nil:
		return fine
	case own.about.UnsealedPos == 0:
		return stillSealed
	}
	if g := own.about.guessOf(m.ID); g != nil && g.Scoring != nil {
		return scoringGuess
	}
	return fine
}
