package sim

import (
	"context"
	"slices"

	"hushcup/sync/oplog"
	"hushcup/sync/relay"
	"hushcup/sync/relay/memstore"
)

// Host is the name by which phones dial; which of the servers answers is the network's choice.
const Host = "hushcup.test"

// pollTime is how often a server looks for what it was not told.
const pollTime = 5000

// Server is one process: a relay with its cache, over the store that all of them share.
type Server struct {
	w     *World
	name  int
	life  int
	store *memstore.Store
	relay *relay.Relay
	up    bool
	lines []*line
	mark  string
	rogue *rogue // what it does to the frames that it sends, nil for an honest one
}

func (w *World) addServer() *Server {
	s := &Server{w: w, name: len(w.servers), store: w.store}
	w.servers = append(w.servers, s)
	return s
}

func (s *Server) start() {
	s.up, s.mark = true, ""
	s.life++
	s.relay = relay.New(relay.Config{
		Store:  s.w.mutant.store(s.w, s.store),
		Hosts:  relay.NewHosts(Host),
		Limits: s.w.limits,
		Note:   s.note,
	})
	s.poll(s.life)
}

// note hears of faults, which an honest server over a sound store never has.
func (s *Server) note(n relay.Note) {
	if n.What == "fault" {
		s.w.fail("server %d has a fault: %v", s.name, n.Err)
	}
	if n.Code != "" {
		s.w.count("server: " + n.What + " " + n.Code)
	}
}

// stop kills the process: what it had in memory is gone, and its lines break.
func (s *Server) stop() {
	s.up = false
	s.life++
	for _, l := range slices.Clone(s.lines) {
		l.cut()
	}
	s.lines = nil
}

// accept opens a session on a line.
func (s *Server) accept(l *line) {
	var challenge [32]byte
	_, _ = s.w.rng.Read(challenge[:])
	session, out := s.relay.Open(s.w.clock(), challenge, relay.Peer{Address: l.end.address()})
	l.session = session
	s.lines = append(s.lines, l)
	s.carryOut(l, out)
}

func (s *Server) serves(l *line) bool { return s.up && slices.Contains(s.lines, l) }

func (s *Server) receive(l *line, frame []byte) {
	if s.serves(l) {
		s.carryOut(l, l.session.Frames(context.Background(), s.w.clock(), [][]byte{frame}))
	}
}

func (s *Server) wake(l *line, books []oplog.BookID) {
	if s.serves(l) {
		s.carryOut(l, l.session.Wake(context.Background(), s.w.clock(), books))
	}
}

func (s *Server) carryOut(l *line, out relay.Out) {
	s.w.observe()
	for _, m := range out.Send {
		frame := s.w.mutant.answers(l, m.Bytes)
		s.checkAck(frame)
		l.down(frame)
	}
	if len(out.Moved) > 0 {
		s.moved(out.Moved)
	}
	if out.Again > 0 {
		s.w.after(out.Again, func() { s.wake(l, nil) })
	}
	if out.Close {
		l.cut()
	}
}

func (s *Server) forget(l *line) {
	s.lines = slices.DeleteFunc(s.lines, func(x *line) bool { return x == l })
}

// moved wakes whoever watches these books: here soon, on other servers later or, when the notification is lost, at the next
// slow poll.
func (s *Server) moved(books []oplog.BookID) {
	for _, other := range s.w.servers {
		delay := s.w.rng.between(0, 5)
		if other != s {
			delay = s.w.rng.between(0, 200)
			if s.w.silent {
				continue
			}
			if !s.w.healed && s.w.rng.oneIn(4) {
				s.w.count("notification lost")
				continue
			}
		}
		life := other.life
		s.w.after(delay, func() {
			if other.life == life {
				other.hear(books)
			}
		})
	}
}

// hear reads what moved, and wakes whoever watches it.
func (s *Server) hear(books []oplog.BookID) {
	if !s.up {
		return
	}
	for _, id := range books {
		_ = s.relay.Refresh(context.Background(), id) // a store that is down is asked again by the next poll
	}
	for _, l := range slices.Clone(s.lines) {
		watching := l.session.Watching()
		hit := slices.DeleteFunc(slices.Clone(books), func(b oplog.BookID) bool { return !slices.Contains(watching, b) })
		if len(hit) > 0 {
			s.wake(l, hit)
		}
	}
}

// poll asks the store every few seconds what was written.
func (s *Server) poll(life int) {
	s.w.after(pollTime, func() {
		if s.life != life {
			return
		}
		changed, mark, err := s.store.Heads(context.Background(), s.mark)
		if err == nil && !s.w.silent {
			s.mark = mark
			s.hear(changed)
		}
		s.poll(life)
	})
}
