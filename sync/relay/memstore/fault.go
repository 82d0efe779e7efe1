package memstore

import (
	"maps"

	"hushcup/sync/oplog"
	"hushcup/sync/relay"
)

// LoseTail forgets everything of a book after a position, as a database does that comes back from a backup. The position is
// moved back to the end of a run, since a backup holds whole transactions. Enrolled says which devices the book had then.
func (s *Store) LoseTail(id oplog.BookID, pos uint64, enrolled []oplog.DeviceID) {
	s.mu.Lock()
	defer s.mu.Unlock()
	b, ok := s.books[id]
	if !ok || pos >= uint64(len(b.rows)) {
		return
	}
	for pos > 0 && b.rows[pos-1].sig == nil {
		pos--
	}
	if pos == 0 {
		delete(s.books, id)
		return
	}
	for _, r := range b.rows[pos:] {
		delete(b.places, place{r.device, r.seq})
	}
	b.rows = b.rows[:pos:pos]
	clear(b.enrolled)
	for _, device := range enrolled {
		b.enrolled[device] = true
	}
}

// Copy gives a store with the same books: what a backup taken now would hold.
func (s *Store) Copy() *Store {
	s.mu.Lock()
	defer s.mu.Unlock()
	c := New()
	c.mark = s.mark
	for id, b := range s.books {
		c.books[id] = b.clone()
		c.books[id].mark = b.mark
	}
	return c
}

// Become takes over the books of another store, which is not used any more: a backup is played back.
func (s *Store) Become(backup *Store) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.books, s.mark = maps.Clone(backup.books), max(s.mark, backup.mark)+1
	for _, b := range s.books {
		b.mark = s.mark
	}
}

// Forge changes a stored chain value, header or body, as a host could who tampers with the database.
func (s *Store) Forge(id oplog.BookID, pos uint64, change func(header []byte, body *[]byte, order *oplog.Order) (newHeader []byte, newBody *[]byte)) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if b, ok := s.books[id]; ok && pos > 0 && pos <= uint64(len(b.rows)) {
		r := &b.rows[pos-1]
		r.raw, r.body = change(r.raw, r.body, &r.order)
	}
}

// Each calls fn with everything stored of every op, in order of position within a book: for searching what must not be there.
func (s *Store) Each(fn func(id oplog.BookID, pos uint64, header, body, sig []byte)) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for id, b := range s.books {
		for i := range b.rows {
			r := &b.rows[i]
			var body []byte
			if r.body != nil {
				body = *r.body
			}
			fn(id, uint64(i)+1, r.raw, body, r.sig)
		}
	}
}

var _ relay.Store = (*Store)(nil)
