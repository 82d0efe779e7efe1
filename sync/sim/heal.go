package sim

import (
	"fmt"
	"slices"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

// heal ends all faults: lines are good, disks have room, clocks go right, everybody comes back, and has the time it takes.
func (w *World) heal() {
	w.say("everything heals")
	w.healed = true
	begun := w.frames
	w.rates = rates{slow: 20, diskDelay: 5}
	if w.mutant == NeverHeals {
		w.rates.breaks = 2
	}
	for _, l := range w.liars {
		l.stop()
	}
	for _, s := range w.servers {
		s.mend()
	}
	for _, p := range w.phones {
		p.mend()
	}
	w.advance(40_000)
	w.mendStopped()
	for range 6 {
		w.advance(40_000)
		w.resumeAll()
	}
	w.advance(80_000)
	w.checkBounded(w.frames - begun)
	w.mutant.stirs(w)
	before := w.frames
	w.advance(120_000)
	w.checkQuiet(w.frames - before)
	for range 3 { // a closing time may just have come
		if w.idle() {
			return
		}
		w.advance(20_000)
	}
}

func (s *Server) mend() {
	if s.store != s.w.store {
		s.stop()
		s.store = s.w.store
	}
	s.rogue = nil
	for _, l := range s.lines {
		l.hostile = false
	}
	if !s.up {
		s.start()
	}
}

func (p *Phone) mend() {
	if p.gone {
		return
	}
	p.full, p.online, p.skew, p.drift, p.frozen = false, true, 0, 0, 0
	if !p.up() {
		p.start()
		return
	}
	p.begin()
	if p.line != nil {
		p.line.hostile = false
	}
	p.step(foreground)
}

// idle says that no phone has anything left to say.
func (w *World) idle() bool {
	for _, p := range w.phones {
		if p.up() && slices.ContainsFunc(p.replica.Books(), func(i replica.BookInfo) bool {
			return i.Waiting > 0 && i.Status == replica.StatusCurrent
		}) {
			return false
		}
	}
	return true
}

// mendStopped starts the app anew where a book stopped: only then is it tried again.
func (w *World) mendStopped() {
	for _, p := range w.phones {
		if p.up() && len(p.stopped) > 0 {
			p.crash()
			p.start()
		}
	}
}

// resumeAll has organisers say that restored books may go on.
func (w *World) resumeAll() {
	for _, p := range w.phones {
		if !p.up() {
			continue
		}
		for _, info := range p.replica.Books() {
			if info.Status == replica.StatusRestored {
				_ = p.command(fmt.Sprintf("resumes %.4s", info.ID), func(now int64) (replica.Ticket, error) {
					return p.replica.Resume(now, info.ID)
				}, nil)
			}
		}
	}
}

// organiserAwake finds a phone that leads a book and follows the server's history of it.
func (w *World) organiserAwake(book oplog.BookID) *Phone {
	for _, p := range w.phones {
		if !p.up() {
			continue
		}
		state := p.replica.Club(book)
		if state == nil {
			continue
		}
		m, ok := state.MemberOf(p.device())
		if ok && m.Role == club.Organiser && p.status(book) != replica.StatusStopped {
			return p
		}
	}
	return nil
}

func (p *Phone) status(book oplog.BookID) replica.Status {
	for _, info := range p.replica.Books() {
		if info.ID == book {
			return info.Status
		}
	}
	return ""
}
