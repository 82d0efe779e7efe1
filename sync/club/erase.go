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

// raiseRules raises the rules version. One that this package does not know has stopped the folding already.
func (s *State) raiseRules(t *turn) rule {
	var body RulesBody
	switch {
	case !decode(t.op.Body, &body):
		return malformed
	case !t.organiser():
		return notOrganiser
	case body.Rules <= s.rules:
		return rulesNotNewer
	}
	s.rules = body.Rules
	return fine
}

// resume lets a restored book order new ops again. It changes nothing here: the relay knows which book is restored.
func (s *State) resume(t *turn) rule {
	switch {
	case !decode(t.op.Body, &ResumeBody{}):
		return malformed
	case !t.organiser():
		return notOrganiser
	}
	return fine
}
