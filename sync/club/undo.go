package club

// journal is how to take back a run: the core as it was, and one step for every record and index entry that was changed.
// So judging a run costs what the run changes, whatever the size of the book.
type journal struct {
	core  core
	steps []func()
}

// keep notes a record before it is changed.
func keep[T any](s *State, record *T) {
	if s.journal == nil {
		return
	}
	before := *record
	s.journal.steps = append(s.journal.steps, func() { *record = before })
}

// put enters a record into an index.
func put[K comparable, V any](s *State, index map[K]V, key K, value V) {
	if s.journal != nil {
		before, was := index[key]
		s.journal.steps = append(s.journal.steps, func() {
			if was {
				index[key] = before
			} else {
				delete(index, key)
			}
		})
	}
	index[key] = value
}

// rollBack takes a journal's steps back, newest first.
func (s *State) rollBack(j *journal) {
	for i := len(j.steps) - 1; i >= 0; i-- {
		j.steps[i]()
	}
	s.core = j.core
}
