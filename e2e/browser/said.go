package browser

import "sync"

// said keeps the end of what Chromium itself writes, such as where it crashed.
type said struct {
	mu  sync.Mutex
	end []byte
}

const mostSaid = 16 << 10

func (s *said) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.end = append(s.end, p...)
	if over := len(s.end) - mostSaid; over > 0 {
		s.end = s.end[over:]
	}
	return len(p), nil
}

func (s *said) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return string(s.end)
}
