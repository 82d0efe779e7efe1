package relay

import (
	"container/list"
	"sync"

	"hushcup/sync/oplog"
)

// How much a server keeps in memory unless told otherwise.
const (
	DefaultBooks = 10_000
	DefaultOps   = 1_000_000 // folded ops of all kept books together, a measure of their memory: about opBytes each
)

// Books are the books that a server has lately used, with their folded rules, so that a push is judged without reading the
// book again. What is forgotten is read again when it is needed; two copies of a book do no harm, since the truth is judged
// inside the store's transaction.
type Books struct {
	mu       sync.Mutex
	maxBooks int
	maxOps   int
	ops      int
	byID     map[oplog.BookID]*list.Element
	recent   *list.List // of *book, the last used in front
}

// NewBooks keeps at most so many books and so many folded ops.
func NewBooks(maxBooks, maxOps int) *Books {
	return &Books{maxBooks: maxBooks, maxOps: maxOps, byID: map[oplog.BookID]*list.Element{}, recent: list.New()}
}

// use finds a book or makes an empty one; done ends it.
func (s *Books) use(id oplog.BookID) *book {
	s.mu.Lock()
	defer s.mu.Unlock()
	if e, ok := s.byID[id]; ok {
		s.recent.MoveToFront(e)
		b := e.Value.(*book)
		b.users++
		return b
	}
	b := &book{id: id, users: 1}
	s.byID[id] = s.recent.PushFront(b)
	return b
}

// opBytes is about what a folded op takes.
const opBytes = 300

// done notes how large the book has become, and forgets the books that were used longest ago, and at once what is no book: an
// id that somebody made up.
func (s *Books) done(b *book) {
	ops := int(b.size.Load())
	s.mu.Lock()
	defer s.mu.Unlock()
	b.users--
	s.ops += ops - b.counted
	b.counted = ops
	if e, kept := s.byID[b.id]; kept && ops == 0 && b.users == 0 {
		s.recent.Remove(e)
		delete(s.byID, b.id)
	}
	for e := s.recent.Back(); e != nil && s.over(); {
		before := e.Prev()
		if old := e.Value.(*book); old.users == 0 {
			s.recent.Remove(e)
			delete(s.byID, old.id)
			s.ops -= old.counted
		}
		e = before
	}
}

func (s *Books) over() bool { return s.recent.Len() > s.maxBooks || s.ops > s.maxOps }

// Len is how many books are kept.
func (s *Books) Len() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.recent.Len()
}
