package socket

import (
	"context"
	"sync"
	"time"
)

// news are the books that other servers wrote to and that are still to be read here.
type news struct {
	mu      sync.Mutex
	waiting map[bookID]bool
	signal  chan struct{} // holds one
}

// newsReaders read several books at once, since each waits for the database.
const newsReaders = 4

func (n *news) add(id bookID) {
	n.mu.Lock()
	n.waiting[id] = true
	n.mu.Unlock()
	n.poke()
}

func (n *news) poke() {
	select {
	case n.signal <- struct{}{}:
	default:
	}
}

// next takes one; the others are left to whoever is poked.
func (n *news) next() (id bookID, ok bool) {
	n.mu.Lock()
	defer n.mu.Unlock()
	for id = range n.waiting {
		delete(n.waiting, id)
		if len(n.waiting) > 0 {
			n.poke()
		}
		return id, true
	}
	return id, false
}

// Heard is told of a book that another server wrote to. It does not block.
func (s *Server) Heard(id [32]byte) {
	if s.hub.watched(id) {
		s.news.add(id)
	}
}

// Poll asks Run to look at the heads of books now.
func (s *Server) Poll() {
	select {
	case s.pollNow <- struct{}{}:
	default:
	}
}

// Run reads what other servers wrote until ctx ends: what Heard names, and, as a notification may be lost and only the table is
// the truth, at a slow beat whatever has changed.
func (s *Server) Run(ctx context.Context) {
	var readers sync.WaitGroup
	for range newsReaders {
		readers.Add(1)
		go func() { defer readers.Done(); s.readNews(ctx) }()
	}
	defer readers.Wait()
	beat := time.NewTicker(pollTime)
	defer beat.Stop()
	for mark := ""; ; {
		mark = s.poll(ctx, mark)
		select {
		case <-ctx.Done():
			return
		case <-beat.C:
		case <-s.pollNow:
		}
	}
}

func (s *Server) readNews(ctx context.Context) {
	for {
		select {
		case <-ctx.Done():
			s.news.poke() // the next one ends too
			return
		case <-s.news.signal:
		}
		for id, ok := s.news.next(); ok && ctx.Err() == nil; id, ok = s.news.next() {
			s.refresh(ctx, id) // what fails now, the poll finds
		}
	}
}

// poll returns the mark from which to look the next time: the old one when something could not be read. At the first look every
// book that somebody reads is read again.
func (s *Server) poll(ctx context.Context, since string) string {
	changed, mark, err := s.Store.Heads(ctx, since)
	if err != nil {
		return since
	}
	if since == "" {
		changed = s.hub.all()
	}
	for _, id := range changed {
		if s.hub.watched(id) && s.refresh(ctx, id) != nil {
			return since
		}
	}
	return mark
}

func (s *Server) refresh(ctx context.Context, id bookID) error {
	if err := s.Relay.Refresh(ctx, id); err != nil {
		return err
	}
	s.hub.wake([]bookID{id}, nil)
	return nil
}
