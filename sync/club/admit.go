package club

import "hushcup/sync/oplog"

// Admit judges a verified run (oplog.Packed.Unpack) as the next of the book's order at a server time, and folds it if every
// op of it is good. `at` is raised to the newest time in the order. On a *Refusal the state is as it was.
func (s *State) Admit(run *oplog.Run, at int64, chainAt ChainAt) ([]oplog.Entry, error) {
	entries, _ := s.order.Entries(run, max(at, s.order.At))
	s.last, s.journal = nil, &journal{core: s.core}
	for i := range entries {
		if r := s.admit(&entries[i], chainAt); r != fine {
			s.rollBack(s.journal)
			s.journal = nil
			return nil, r.refusal(i)
		}
	}
	s.last, s.journal = s.journal, nil
	return entries, nil
}

// admit folds one entry that must be good in every way.
func (s *State) admit(e *oplog.Entry, chainAt ChainAt) rule {
	if r := s.inspect(e, chainAt); r != fine {
		return r
	}
	if r := s.uniform(&e.Op); r != fine {
		return r
	}
	if s.order.Pos == 0 {
		r := s.take(e)
		s.order = e.Order
		return r
	}
	s.advance(e)
	return s.take(e)
}

// Undo takes back the last successful Admit, for a server whose commit failed. It does nothing a second time, or after
// anything else was folded.
func (s *State) Undo() {
	if s.last != nil {
		s.rollBack(s.last)
		s.last = nil
	}
}
