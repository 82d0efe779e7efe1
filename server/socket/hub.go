package socket

import "sync"

// hub knows which connections read which book.
type hub struct {
	mu       sync.Mutex
	watchers map[bookID]map[*conn]struct{}
}

func (h *hub) watch(id bookID, c *conn) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.watchers[id] == nil {
		h.watchers[id] = map[*conn]struct{}{}
	}
	h.watchers[id][c] = struct{}{}
}

func (h *hub) unwatch(id bookID, c *conn) {
	h.mu.Lock()
	defer h.mu.Unlock()
	delete(h.watchers[id], c)
	if len(h.watchers[id]) == 0 {
		delete(h.watchers, id)
	}
}

func (h *hub) watched(id bookID) bool {
	h.mu.Lock()
	defer h.mu.Unlock()
	return len(h.watchers[id]) > 0
}

// wake wakes everybody who reads the books but the one who wrote.
func (h *hub) wake(books []bookID, writer *conn) {
	for _, id := range books {
		h.mu.Lock()
		for c := range h.watchers[id] {
			if c != writer {
				c.wake(id)
			}
		}
		h.mu.Unlock()
	}
}

// all lists the books that somebody reads.
func (h *hub) all() []bookID {
	h.mu.Lock()
	defer h.mu.Unlock()
	books := make([]bookID, 0, len(h.watchers))
	for id := range h.watchers {
		books = append(books, id)
	}
	return books
}
