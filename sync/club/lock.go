package club

// lock closes named samples of a flight; those that are closed already are passed over. One that comes when the flight's time
// is reached is the entry at which time closes it: that is what an organiser's phone writes it for.
func (s *State) lock(t *turn) rule {
	var body LockBody
	if !decode(t.op.Body, &body) || len(body.Samples) == 0 || len(body.Samples) > MaxFlightSamples ||
		!distinct(body.Samples) {
		return malformed
	}
	if s.byFlight[body.Flight] == nil {
		return noSuchFlight
	}
	open, keeper, r := s.toClose(t, &body)
	switch {
	case r != fine:
		return r
	case !t.organiser() && !keeper && !closedHere(open, t.pos):
		return notKeeper
	case len(open) == 0:
		return sampleClosed
	}
	for _, sample := range open {
		if sample.ClosedPos == 0 {
			s.closeSample(sample, t.pos, ClosedByLock)
		}
	}
	return fine
}

// toClose finds those of the named samples that were open before this entry, and whether the author keeps all that are named.
func (s *State) toClose(t *turn, body *LockBody) (open []*sample, keeper bool, r rule) {
	keeper = true
	for _, id := range body.Samples {
		named := s.bySample[id]
		if named == nil || named.Body.Flight != body.Flight {
			return nil, false, noSuchSample
		}
		keeper = keeper && named.Keeper == t.member.ID
		if named.ClosedPos == 0 || named.ClosedPos == t.pos {
			open = append(open, named)
		}
	}
	return open, keeper, fine
}

// closedHere says whether all of some samples were closed by this entry's own time.
func closedHere(open []*sample, pos uint64) bool {
	for _, sample := range open {
		if sample.ClosedPos != pos {
			return false
		}
	}
	return len(open) > 0
}

// closeSample closes a sample: guesses at pos and later do not score.
func (s *State) closeSample(closing *sample, pos uint64, how Closed) {
	keep(s, closing)
	closing.ClosedPos, closing.ClosedHow = pos, how
}
