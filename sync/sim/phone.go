package sim

import (
	"strings"

	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

// chainSegment is so small here that most chains stand in several records.
const chainSegment = 7

// Phone is one installation: a replica, its disk, its clock, its line to a server.
type Phone struct {
	w       *World
	name    string
	person  *person
	rng     rng // the replica's randomness: what it draws is what its keys are
	disk    *disk
	replica *replica.Replica
	life    int // raised by every start and crash: what an earlier life had under way is void
	line    *line
	dialled int
	online  bool
	gone    bool    // lost for good
	skew    int64   // wall clock minus true time, milliseconds
	drift   int64   // parts in a thousand
	frozen  int64   // a clock that stands still here, when not 0
	full    bool    // the disk takes nothing
	begun   bool    // in this life
	via     *Server // the only server it reaches, nil for any
	deaf    int     // so many acknowledgements are lost on their way to it
	waiting map[replica.Ticket]func()
	stopped map[oplog.BookID]string

	// What the promises are held against.
	debts
	orders   map[oplog.BookID]oplog.Order // as last compared
	misled   map[oplog.BookID]bool        // it was given a history that nobody signed for
	warned   map[oplog.BookID]bool        // it was given what contradicts itself
	confused bool                         // a frame about where it stands was damaged
	rolled   bool                         // its storage is not what it had last
}

// wall is what the phone's clock says.
func (p *Phone) wall() int64 {
	if p.frozen != 0 {
		return p.frozen
	}
	return p.w.clock() + p.skew + p.w.now*p.drift/1000
}

func (p *Phone) up() bool { return p.replica != nil }

func (p *Phone) address() string { return p.name }

// start begins a life from what the disk holds.
func (p *Phone) start() {
	p.life++
	p.begun = false
	p.replica = replica.New(replica.Config{Rand: &tap{&p.rng, &p.w.secrets}, Segment: chainSegment})
	p.waiting = map[replica.Ticket]func(){}
	p.stopped = map[oplog.BookID]string{}
	p.orders = map[oplog.BookID]oplog.Order{}
	p.step(replica.Load{Records: p.disk.hot()})
	p.begin()
	p.w.checkStored(p)
}

// begin makes identity and notebook when there are none, be it that the disk was full before.
func (p *Phone) begin() {
	if p.begun && p.replica.Sync().Identity {
		return
	}
	p.begun = true
	if _, err := p.replica.Start(p.wall(), Host); err != nil {
		p.w.fail("phone %s does not start: %v", p.name, err)
	}
	p.step(replica.Nothing{})
}

// crash ends a life in the middle of whatever it was doing.
func (p *Phone) crash() {
	p.life++
	p.replica = nil
	lost, kept := p.disk.crash(&p.w.rng)
	p.w.counts["write lost in a crash"] += lost
	p.w.counts["write kept in a crash, unheard"] += kept
	if p.line != nil {
		p.line.cut()
		p.line = nil
	}
}

// later calls f after a while, unless this life is over by then.
func (p *Phone) later(delay int64, f func()) {
	life := p.life
	p.w.after(delay, func() {
		if p.life == life && p.up() {
			f()
		}
	})
}

// step gives an event and carries out what follows. A broken promise shows here first.
func (p *Phone) step(ev replica.Event) {
	for _, effect := range p.replica.Step(p.wall(), ev) {
		p.carryOut(effect)
	}
	p.w.checkPhone(p)
}

func (p *Phone) carryOut(effect replica.Effect) {
	switch e := effect.(type) {
	case replica.Persist:
		p.persist(e)
	case replica.Read:
		records := p.disk.get(e.Keys)
		if strings.Contains(e.Keys[0], "/chain/") {
			p.w.count("chain read behind a start")
		}
		p.later(p.w.rng.between(0, 10), func() { p.step(replica.Got{Read: e.ID, Records: records}) })
	case replica.Send:
		if p.line != nil {
			p.line.up(e.Bytes)
		}
	case replica.SetTimer:
		p.timer(e)
	case replica.Dial:
		p.dial()
	case replica.HangUp:
		p.hangUp()
	case replica.Saved:
		p.settle(e.Ticket, true)
	case replica.Failed:
		p.w.count("command failed on a full disk")
		p.settle(e.Ticket, false)
	case replica.Stopped:
		p.stopped[e.Book] = e.Code
		p.w.say("%s stops folding %.4s: %s (%s)", p.name, e.Book, e.Code, e.Text)
		p.w.checkStopped(p, e)
	case replica.Changed:
	default:
		p.w.fail("unknown effect %T", effect)
	}
}

func (p *Phone) settle(ticket replica.Ticket, saved bool) {
	f := p.waiting[ticket]
	delete(p.waiting, ticket)
	if saved && f != nil {
		f()
	}
}

// persist makes a transaction durable after a while, unless the disk is full, or a crash comes first.
func (p *Phone) persist(tx replica.Persist) {
	p.disk.pending = append(p.disk.pending, tx)
	p.later(p.w.rng.between(0, p.w.rates.diskDelay), func() {
		tx, ok := p.disk.finish(tx.Tx)
		switch {
		case !ok:
		case p.full:
			p.w.count("write refused by a full disk")
			p.step(replica.PersistFailed{Tx: tx.Tx, Code: "storage-full"})
		default:
			if p.w.mutant != DiskForgets || !p.w.rng.oneIn(20) {
				p.disk.apply(tx)
			}
			p.step(replica.Persisted{Tx: tx.Tx})
		}
	})
}

// timers run anew when they are set again; an older setting rings in vain.
func (p *Phone) timer(t replica.SetTimer) {
	key := p.name + "/" + t.Name
	p.w.timers[key]++
	setting := p.w.timers[key]
	if t.After < 0 {
		return
	}
	p.later(t.After, func() {
		if p.w.timers[key] == setting {
			p.step(replica.Timer{Name: t.Name})
		}
	})
}

func (p *Phone) dial() {
	p.dialled++
	attempt := p.dialled
	p.later(p.w.rng.between(1, 100), func() {
		if p.dialled != attempt || p.line != nil {
			return
		}
		server := p.w.reachable(p)
		if server == nil {
			p.step(replica.Disconnected{Host: Host})
			return
		}
		p.connect(server)
	})
}

func (p *Phone) connect(server *Server) {
	p.line = p.w.lay(p, server)
	p.w.count("connected")
	p.step(replica.Connected{Host: Host})
	if p.line != nil {
		server.accept(p.line)
	}
}

// lay makes a line, as good or bad as the world's are.
func (w *World) lay(e end, server *Server) *line {
	return &line{w: w, end: e, server: server, hostile: w.hostile(), slow: w.rng.between(1, w.rates.slow)}
}

func (p *Phone) hangUp() {
	p.dialled++
	if p.line != nil {
		l := p.line
		p.line = nil
		l.cut()
	}
}

func (p *Phone) receive(l *line, frame []byte) {
	if p.up() && p.line == l {
		p.step(replica.FrameIn{Host: Host, Bytes: frame})
	}
}

func (p *Phone) hearCut(l *line) {
	if p.up() && p.line == l {
		p.line = nil
		p.step(replica.Disconnected{Host: Host})
	}
}

// command runs a command of the replica's and flushes it. What saved does is done once the command is durable.
func (p *Phone) command(what string, do func(now int64) (replica.Ticket, error), saved func()) error {
	ticket, err := do(p.wall())
	if err != nil {
		p.w.say("%s: %s: refused: %v", p.name, what, err)
		return err
	}
	p.w.say("%s: %s", p.name, what)
	p.waiting[ticket] = saved
	if p.w.mutant == SavedEarly && saved != nil {
		saved()
	}
	p.step(replica.Nothing{})
	return nil
}
