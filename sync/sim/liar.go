package sim

import (
	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
	"hushcup/sync/wire"
)

// liar is a phone that fell into wrong hands: its keys are in the hand of somebody with a program of their own, who follows
// the protocol as far as it serves them. The honest replica is gone.
type liar struct {
	w        *World
	name     string
	identity seal.Identity
	device   oplog.DeviceID
	line     *line
	over     bool
	books    map[oplog.BookID]bool
}

// phoneRecord is how package replica stores an identity (record.go there).
type phoneRecord struct {
	_        struct{} `cbor:",toarray"`
	Sign     [32]byte
	Box      [32]byte
	Notebook oplog.BookID
	Host     string
	Device   oplog.DeviceID
}

// steal takes a phone over.
func (w *World) steal(p *Phone) {
	if w.healed || len(w.liars) > 0 || len(w.phones) < 3 {
		return
	}
	if c, _, _ := w.member(p); c == nil {
		return
	}
	identity, ok := p.disk.identity()
	if !ok {
		return
	}
	w.say("%s falls into wrong hands", p.name)
	w.count("phone in wrong hands")
	p.crash()
	p.gone, p.online = true, false
	l := &liar{w: w, name: p.name + "'s thief", identity: identity}
	l.device = oplog.DeviceID(l.identity.Public().Sign)
	w.liars = append(w.liars, l)
	w.thieves[l.device] = true
	l.later()
}

func (w *World) byLiar(device oplog.DeviceID) bool { return w.thieves[device] }

func (l *liar) stop() {
	l.over = true
	if l.line != nil {
		l.line.cut()
	}
}

func (l *liar) address() string { return l.name }

func (l *liar) hearCut(at *line) {
	if l.line == at {
		l.line = nil
	}
}

// later acts again and again until everything heals.
func (l *liar) later() {
	l.w.after(l.w.rng.between(50, 3000), func() {
		if l.over {
			return
		}
		l.act()
		l.later()
	})
}

func (l *liar) act() {
	if l.line == nil {
		server := l.server()
		if server == nil {
			return
		}
		l.line = &line{w: l.w, end: l, server: server, slow: 20}
		server.accept(l.line)
		return
	}
	if len(l.books) > 0 {
		l.tell()
	}
}

// server picks an honest one: what is tested here is what it refuses.
func (l *liar) server() *Server {
	for _, s := range l.w.servers {
		if s.up && s.store == l.w.store {
			return s
		}
	}
	return nil
}

func (l *liar) receive(at *line, frame []byte) {
	f, err := wire.Decode(frame)
	if err != nil || l.line != at {
		return
	}
	switch f := f.(type) {
	case *wire.Hello:
		sig := l.identity.Sign(wire.ProofMessage(f.Challenge, Host, nil))
		l.say(&wire.Proof{Version: wire.Version, Device: l.device, Host: Host, Sig: sig[:]})
	case *wire.Welcome:
		l.books = map[oplog.BookID]bool{}
		for _, head := range f.Books {
			l.books[head.Book] = true
		}
	case *wire.Refuse:
		l.w.count("lie refused: " + f.Code)
	case *wire.Ack:
		l.w.count("lie taken, and void of harm")
	}
}

func (l *liar) say(f wire.Frame) { l.line.up(wire.Encode(f)) }

// draft is an op in the making, with what the liar knows of the club. It knows the order as the observer does: whoever reads
// along knows it.
type draft struct {
	l      *liar
	b      *watched
	member *club.Member
	header oplog.Header
	body   []byte
}

// tell pushes one run that is made to deceive.
func (l *liar) tell() {
	var clubs []*watched
	for _, b := range l.w.observers[0].order {
		if l.books[b.id] && b.state.Kind() == club.Club {
			clubs = append(clubs, b)
		}
	}
	if len(clubs) == 0 {
		return
	}
	b := pick(&l.w.rng, clubs)
	m, in := b.state.MemberOf(l.device)
	if !in {
		return
	}
	d := &draft{l: l, b: b, member: m}
	d.follow()
	deceit := pick(&l.w.rng, deceits)
	run, ok := deceit.make(d)
	if !ok {
		return
	}
	l.w.say("%s pushes %s", l.name, deceit.name)
	l.w.count("device lied: " + deceit.name)
	l.say(&wire.Push{Run: run.Pack()})
}

// follow sets the header as an honest next op of the device has it.
func (d *draft) follow() {
	head := d.b.state.Head(d.l.device)
	d.header = oplog.Header{Book: d.b.id, Device: d.l.device, Seq: head.Seq + 1, Prev: head.Hash, SeenPos: d.b.order.Pos,
		SeenHash: d.b.order.Chain, Time: oplog.TimeAt(d.l.w.clock())}
}

func (d *draft) sign(ops ...oplog.Op) oplog.Run { return oplog.Sign(ops, d.l.identity.Sign) }

func (d *draft) run() (oplog.Run, bool) { return d.sign(oplog.New(d.header, d.body)), true }

func (d *draft) rng() *rng { return &d.l.w.rng }

// sample draws one of the club's.
func (d *draft) sample(want func(*club.SampleInfo) bool) (club.SampleInfo, bool) {
	var all []club.SampleInfo
	for _, s := range d.b.reckon.samples {
		if info, ok := d.b.state.Sample(s.id); ok && want(&info) {
			all = append(all, info)
		}
	}
	if len(all) == 0 {
		return club.SampleInfo{}, false
	}
	return pick(d.rng(), all), true
}

// identity reads the keys of an installation from its disk; ok is false when there are none yet.
func (d *disk) identity() (id seal.Identity, ok bool) {
	var record phoneRecord
	if codec.Unmarshal(d.records["own/phone"], &record) != nil {
		return id, false
	}
	return seal.Identity{SignSeed: record.Sign, BoxSeed: record.Box}, true
}
