package club

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
