package sim

import (
	"bytes"
	"fmt"

	"hushcup/sync/oplog"
	"hushcup/sync/relay"
	"hushcup/sync/wire"
)

// end is who is at the other end of a line: a phone, or a liar.
type end interface {
	receive(l *line, frame []byte)
	hearCut(l *line)
	address() string
}

// line is one connection between a phone and a server: frames arrive late and in order, until it breaks; whatever was under
// way then is lost, and one end may hear of it much later than the other. A hostile line also damages and repeats frames.
type line struct {
	w       *World
	end     end
	server  *Server
	session *relay.Session
	broken  bool
	hostile bool
	slow    int64         // most milliseconds that a frame takes
	pushed  *oplog.Packed // the last push, kept for some mutants
	lastUp  int64
	lastDn  int64
}

// up carries a frame to the server, down one to the phone.
func (l *line) up(frame []byte) {
	l.w.mutant.pushes(l, frame)
	l.w.watchFrame(l.w.mutant.leaks(l.w, frame))
	l.carry(frame, &l.lastUp, func(f []byte) {
		l.w.told(l.end.address(), fmt.Sprintf("server %d", l.server.name), f)
		l.server.receive(l, f)
	})
}

func (l *line) down(frame []byte) {
	if p, ok := l.end.(*Phone); ok && p.deaf > 0 && bytes.HasPrefix(frame, ackFrame) {
		p.deaf--
		l.cut()
		return
	}
	for _, f := range l.server.rogue.alter(l, frame) {
		l.carry(f, &l.lastDn, func(f []byte) {
			l.w.told(fmt.Sprintf("server %d", l.server.name), l.end.address(), f)
			l.end.receive(l, f)
		})
	}
}

func (l *line) carry(frame []byte, last *int64, deliver func([]byte)) {
	if l.broken {
		return
	}
	l.w.frames++
	if l.w.rng.oneIn(l.w.rates.breaks) {
		l.w.count("line broken")
		l.cut()
		return
	}
	times := 1
	if l.hostile {
		frame, times = l.harm(frame)
	}
	at := max(*last, l.w.now+l.w.rng.between(0, l.slow))
	*last = at
	for range times {
		l.w.at(at, func() {
			if !l.broken {
				deliver(frame)
			}
		})
	}
}

// harm damages, cuts short, swallows or repeats one frame in a few.
func (l *line) harm(frame []byte) ([]byte, int) {
	r := &l.w.rng
	switch r.upTo(12) {
	case 0:
		l.w.count("frame damaged")
		frame = bytes.Clone(frame)
		frame[r.upTo(len(frame))] ^= 1 << r.upTo(8)
		l.misleads(frame)
	case 1:
		l.w.count("frame cut short")
		frame = frame[:r.upTo(len(frame))]
	case 2:
		l.w.count("frame repeated")
		return frame, 2
	case 3:
		l.w.count("frame swallowed")
		return frame, 0
	}
	return frame, 1
}

// misleads notes that a phone may be given what nobody signed for. What a server says of the order alone (its times, which of
// two devices came first) a phone has to believe until something contradicts it; and a question that was damaged on its way
// gets an answer that makes no sense.
func (l *line) misleads(damaged []byte) {
	p, ok := l.end.(*Phone)
	if !ok {
		return
	}
	f, err := wire.Decode(damaged)
	if err != nil {
		return
	}
	switch f := f.(type) {
	case *wire.Entries:
		p.misled[f.Book] = true
	case *wire.Subscribe, *wire.Behind, *wire.Offer, *wire.Closed:
		p.confused = true
	}
}

// cut breaks the line now; each end hears of it after a while of its own.
func (l *line) cut() {
	if l.broken {
		return
	}
	l.broken = true
	l.w.after(l.w.rng.between(0, 2000), func() { l.end.hearCut(l) })
	l.w.after(l.w.rng.between(0, 20000), func() { l.server.forget(l) })
}
