package club

import "hushcup/sync/oplog"

// owner is whose a derived document is: a member's profile, or their guess about a sample.
type owner struct {
	member *Member
	about  *sample // nil for a profile
}

// ownerOf looks a document up among the derived ones. The index is members times samples, and derived: it is built when a
// part is first judged, so that a start from a snapshot does not wait for it.
func (s *State) ownerOf(doc oplog.DocID) (owner, bool) {
	if s.owners == nil {
		s.ownAll()
	}
	found, ok := s.owners[doc]
	return found, ok
}

func (s *State) ownAll() {
	keep(s, &s.owners)
	s.owners = make(map[oplog.DocID]owner, len(s.members)*(len(s.samples)+1))
	for _, m := range s.members {
		s.owners[oplog.ProfileDoc(m.ID)] = owner{member: m}
		for _, about := range s.samples {
			s.owners[oplog.GuessDoc(about.Body.ID, m.ID)] = owner{m, about}
		}
	}
}

// ownProfile enters a new member's documents, if there is an index.
func (s *State) ownProfile(m *Member) {
	if s.owners == nil {
		return
	}
	put(s, s.owners, oplog.ProfileDoc(m.ID), owner{member: m})
	for _, about := range s.samples {
		put(s, s.owners, oplog.GuessDoc(about.Body.ID, m.ID), owner{m, about})
	}
}

// ownGuesses enters the guess documents of a new sample, if there is an index.
func (s *State) ownGuesses(about *sample) {
	if s.owners == nil {
		return
	}
	for _, m := range s.members {
		put(s, s.owners, oplog.GuessDoc(about.Body.ID, m.ID), owner{m, about})
	}
}

// Shared says whether a document is one that only organisers write: the book's, or a flight's.
func (s *State) Shared(doc oplog.DocID) bool {
	return doc == oplog.BookDoc || s.byFlight[oplog.FlightID(doc)] != nil
}
