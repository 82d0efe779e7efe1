package sim

import (
	"fmt"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

var foreground = replica.Foreground{}

// deed is one thing that people or fate do; weight says how often.
type deed struct {
	weight int
	name   string
	do     func(w *World, p *Phone)
}

var deeds = []deed{
	{2, "create a club", (*World).createClub},
	{4, "invite", (*World).invite},
	{8, "join", (*World).join},
	{6, "open a flight", (*World).openFlight},
	{14, "seal a sample", (*World).sealSample},
	{8, "write into the notebook", (*World).writeNotebook},
	{12, "write about a sample", (*World).writeCup},
	{6, "write for the club", (*World).writeShared},
	{40, "guess", (*World).guess},
	{9, "close", (*World).lock},
	{14, "unseal", (*World).unseal},
	{2, "move the closing time", (*World).closing},
	{4, "remove a member", (*World).removeMember},
	{4, "change a role", (*World).changeRole},
	{2, "leave", (*World).leave},
	{1, "revoke an invitation", (*World).revoke},
	{3, "pair a device", (*World).pair},
	{2, "remove a device", (*World).removeDevice},
	{3, "make a recovery code", (*World).recoveryCode},
	{2, "lose the phone and recover", (*World).recover},
	{2, "erase a document", (*World).erase},
	{3, "decide about what was refused", (*World).decide},
	{8, "go off or on line", (*World).toggleLine},
	{6, "crash or start", (*World).toggleLife},
	{4, "come to the foreground", (*World).foreground},
	{3, "a full disk, or room again", (*World).toggleRoom},
	{3, "a clock jumps", (*World).jump},
	{3, "a server dies or starts", (*World).toggleServer},
	{2, "a storage is rolled back", (*World).rollBack},
	{1, "a phone falls into wrong hands", (*World).steal},
	{4, "a server lies, or stops lying", (*World).toggleRogue},
	{2, "a server shows another history", (*World).fork},
	{3, "the store loses its tail", (*World).loseTail},
}

// act does one deed, and now and then lets a phone crash in the middle of what it set off.
func (w *World) act() {
	total := 0
	for _, d := range deeds {
		total += d.weight
	}
	at := w.rng.upTo(total)
	for _, d := range deeds {
		if at -= d.weight; at < 0 {
			w.doDeed(d)
			return
		}
	}
}

func (w *World) doDeed(d deed) {
	p := w.awake()
	if p == nil {
		p = pick(&w.rng, w.phones)
		if !p.gone {
			w.say("%s starts", p.name)
			p.start()
		}
		return
	}
	p.begin()
	d.do(w, p)
	if p.up() && w.rng.oneIn(w.rates.crash) {
		w.say("%s crashes at once", p.name)
		p.crash()
		w.mostly(10_000, p.revive)
	}
}

// member picks a club in which the phone's person is, with that club's state as the phone sees it.
func (w *World) member(p *Phone) (*clubhouse, *club.State, oplog.MemberID) {
	var in []*clubhouse
	for _, c := range w.clubs {
		if s := p.replica.Ahead(c.book); s != nil {
			if _, ok := s.MemberOf(p.device()); ok {
				in = append(in, c)
			}
		}
	}
	if len(in) == 0 {
		return nil, nil, oplog.MemberID{}
	}
	c := pick(&w.rng, in)
	s := p.replica.Ahead(c.book)
	m, _ := s.MemberOf(p.device())
	return c, s, m.ID
}

func (p *Phone) device() oplog.DeviceID { return oplog.DeviceID(p.replica.Device().Sign) }

func (w *World) createClub(p *Phone) {
	if len(w.clubs) >= 3 {
		return
	}
	var book oplog.BookID
	err := p.command("creates a club", func(now int64) (t replica.Ticket, err error) {
		book, t, err = p.replica.CreateClub(now, Host)
		return t, err
	}, nil)
	if err == nil {
		w.clubs = append(w.clubs, &clubhouse{book: book})
	}
}

func (w *World) invite(p *Phone) {
	c, _, _ := w.member(p)
	if c == nil {
		return
	}
	uses, life := uint16(1+w.rng.upTo(6)), pick(&w.rng, []int64{1000, 3_600_000, 3_600_000, 1_000_000_000})
	role := pick(&w.rng, []club.Role{club.Taster, club.Taster, club.Organiser})
	_ = p.command(fmt.Sprintf("invites %d to %.4s for %d ms", uses, c.book, life), func(now int64) (t replica.Ticket, err error) {
		link, t, err := p.replica.Invite(now, c.book, role, uses, w.clock()+life)
		if err == nil {
			c.links = append(c.links, link)
			w.secrets.link(link)
		}
		return t, err
	}, nil)
}

func (w *World) join(p *Phone) {
	if len(w.clubs) == 0 {
		return
	}
	c := pick(&w.rng, w.clubs)
	if len(c.links) == 0 {
		return
	}
	link := pick(&w.rng, c.links)
	_ = p.command(fmt.Sprintf("joins %.4s", c.book), func(now int64) (replica.Ticket, error) {
		_, t, err := p.replica.Join(now, link, Host)
		return t, err
	}, nil)
}

func (w *World) openFlight(p *Phone) {
	c, _, _ := w.member(p)
	if c == nil {
		return
	}
	a := replica.FlightArgs{}
	if w.rng.oneIn(3) {
		a.Closes = w.clock() + w.rng.between(1000, 1_500_000)
	}
	var id oplog.FlightID
	_ = p.command(fmt.Sprintf("opens a flight in %.4s, closing %d", c.book, a.Closes), func(now int64) (t replica.Ticket, err error) {
		if id, t, err = p.replica.Flight(now, c.book, a); err == nil {
			c.flights = append(c.flights, id)
		}
		return t, err
	}, func() { p.made[c.book] = append(p.made[c.book], made{oplog.Flight, id}) })
}

func (w *World) sealSample(p *Phone) {
	c, s, me := w.member(p)
	if c == nil || len(c.flights) == 0 {
		return
	}
	flight := pick(&w.rng, c.flights)
	a := replica.SampleArgs{Flight: flight, Code: uint16(100 + w.rng.upTo(900)), Centigrams: 1500,
		Declared: []byte("nothing added"), Answer: w.content()}
	for _, m := range s.Members() {
		if m.In() && m.ID != me && w.rng.oneIn(8) {
			a.Holders = append(a.Holders, m.ID)
		}
	}
	var id oplog.SampleID
	_ = p.command(fmt.Sprintf("seals %d in %.4s", a.Code, c.book), func(now int64) (t replica.Ticket, err error) {
		if id, t, err = p.replica.SealSample(now, c.book, a); err == nil {
			c.samples = append(c.samples, sealed{flight, id, p.person})
			w.answers[id] = string(a.Answer)
		}
		return t, err
	}, func() { p.made[c.book] = append(p.made[c.book], made{oplog.Sample, id}) })
}

func (w *World) writeNotebook(p *Phone) {
	book := p.replica.Notebook()
	m, ok := p.replica.Ahead(book).MemberOf(p.device())
	if !ok {
		return
	}
	w.put(p, replica.PutArgs{Book: book, Doc: w.doc(p), Part: uint32(256 + w.rng.upTo(2)), Plain: w.content()}, m.ID)
}

func (w *World) writeCup(p *Phone) {
	c, _, me := w.member(p)
	if c == nil || len(c.samples) == 0 {
		return
	}
	sample := pick(&w.rng, c.samples)
	w.put(p, replica.PutArgs{Book: c.book, Doc: w.doc(p), Part: 512, Under: replica.UnderEnvelope(sample.sample), Plain: w.content()}, me)
}

// writeShared writes what organisers write for all, or what one says of oneself.
func (w *World) writeShared(p *Phone) {
	c, _, me := w.member(p)
	if c == nil {
		return
	}
	doc := pick(&w.rng, []oplog.DocID{oplog.BookDoc, oplog.ProfileDoc(me), oplog.ProfileDoc(me)})
	if len(c.flights) > 0 && w.rng.oneIn(2) {
		doc = oplog.FlightDoc(pick(&w.rng, c.flights))
	}
	w.put(p, replica.PutArgs{Book: c.book, Doc: doc, Part: 1024, Plain: w.content()}, me)
}

func (w *World) guess(p *Phone) {
	c, _, me := w.member(p)
	if c == nil || len(c.samples) == 0 {
		return
	}
	sample := pick(&w.rng, c.samples)
	part := pick(&w.rng, []uint32{club.GuessPart, club.GuessPart, club.GuessPart, club.FirstPart})
	w.put(p, replica.PutArgs{Book: c.book, Doc: oplog.GuessDoc(sample.sample, me), Part: part,
		Under: replica.UnderEnvelope(sample.sample), Plain: w.content(), Uniform: true}, me)
}

// doc is one of a few documents of the phone's person, so that revisions meet.
func (w *World) doc(p *Phone) (id oplog.DocID) {
	copy(id[:], p.person.name)
	id[15] = byte(1 + w.rng.upTo(4))
	return id
}

// put writes, and holds the phone to it once it is saved.
func (w *World) put(p *Phone, a replica.PutArgs, me oplog.MemberID) {
	written := w.written(p, a, me)
	_ = p.command(fmt.Sprintf("writes %s", written), func(now int64) (replica.Ticket, error) {
		return p.replica.Put(now, a)
	}, written.saved)
}

func (w *World) lock(p *Phone) {
	c, _, _ := w.member(p)
	if c == nil || len(c.flights) == 0 {
		return
	}
	flight := pick(&w.rng, c.flights)
	_ = p.command(fmt.Sprintf("closes a flight in %.4s", c.book), func(now int64) (replica.Ticket, error) {
		return p.replica.Lock(now, c.book, flight, nil)
	}, nil)
}

func (w *World) unseal(p *Phone) {
	c, _, _ := w.member(p)
	if c == nil || len(c.samples) == 0 {
		return
	}
	sample := pick(&w.rng, c.samples)
	if sample.keeper != p.person && !w.rng.oneIn(5) {
		return
	}
	w.unsealed[sample.sample] = true
	_ = p.command(fmt.Sprintf("unseals %.4s in %.4s", sample.sample, c.book), func(now int64) (replica.Ticket, error) {
		return p.replica.Unseal(now, c.book, []oplog.SampleID{sample.sample})
	}, nil)
}

func (w *World) closing(p *Phone) {
	c, _, _ := w.member(p)
	if c == nil || len(c.flights) == 0 {
		return
	}
	flight, closes := pick(&w.rng, c.flights), w.clock()+w.rng.between(0, 600_000)
	_ = p.command("moves a closing time", func(now int64) (replica.Ticket, error) {
		return p.replica.Closing(now, c.book, flight, closes)
	}, nil)
}

func (w *World) removeMember(p *Phone) {
	c, s, _ := w.member(p)
	if c == nil {
		return
	}
	m := pick(&w.rng, s.Members())
	_ = p.command(fmt.Sprintf("removes %.4s from %.4s", m.ID, c.book), func(now int64) (replica.Ticket, error) {
		return p.replica.RemoveMember(now, c.book, m.ID)
	}, nil)
}

func (w *World) changeRole(p *Phone) {
	c, s, _ := w.member(p)
	if c == nil {
		return
	}
	m, role := pick(&w.rng, s.Members()), pick(&w.rng, []club.Role{club.Taster, club.Organiser, club.Organiser})
	_ = p.command(fmt.Sprintf("gives %.4s role %d", m.ID, role), func(now int64) (replica.Ticket, error) {
		return p.replica.Role(now, c.book, m.ID, role)
	}, nil)
}

func (w *World) leave(p *Phone) {
	c, _, _ := w.member(p)
	if c == nil {
		return
	}
	_ = p.command(fmt.Sprintf("leaves %.4s", c.book), func(now int64) (replica.Ticket, error) {
		return p.replica.Leave(now, c.book)
	}, nil)
}

func (w *World) revoke(p *Phone) {
	c, s, _ := w.member(p)
	if c == nil || len(s.Invites()) == 0 {
		return
	}
	key := pick(&w.rng, s.Invites()).Body.Key
	_ = p.command("revokes an invitation", func(now int64) (replica.Ticket, error) {
		return p.replica.Revoke(now, c.book, key)
	}, nil)
}

func (w *World) pair(p *Phone) {
	if p.person.link == "" {
		_ = p.command("shows a link for another device", func(now int64) (replica.Ticket, error) {
			link, t, err := p.replica.Pair(now)
			p.person.link = link
			w.secrets.link(link)
			return t, err
		}, nil)
		return
	}
	if len(p.person.phones) > 2 {
		return
	}
	link := p.person.link
	p.person.link = ""
	second := w.addPhone(p.person)
	second.start()
	_ = second.command("comes in as a further device of "+p.person.name, func(now int64) (replica.Ticket, error) {
		_, t, err := second.replica.Join(now, link, Host)
		return t, err
	}, nil)
}

func (w *World) removeDevice(p *Phone) {
	if len(p.person.phones) < 2 {
		return
	}
	other := pick(&w.rng, p.person.phones)
	if other == p || !other.up() {
		return
	}
	_ = p.command("removes "+other.name, func(now int64) (replica.Ticket, error) {
		return p.replica.RemoveDevice(now, other.device())
	}, nil)
}

func (w *World) recoveryCode(p *Phone) {
	_ = p.command("writes down a recovery code", func(now int64) (replica.Ticket, error) {
		code, t, err := p.replica.RecoveryCode(now)
		if err == nil {
			p.person.code = code
			w.secrets.code(code)
		}
		return t, err
	}, nil)
}

func (w *World) recover(p *Phone) {
	if p.person.code == "" || len(p.person.phones) > 2 {
		return
	}
	if w.rng.oneIn(2) {
		w.say("%s falls into the sink", p.name)
		p.crash()
		p.gone, p.online = true, false
	}
	fresh := w.addPhone(p.person)
	fresh.start()
	code := p.person.code
	_ = fresh.command("recovers "+p.person.name, func(now int64) (replica.Ticket, error) {
		return fresh.replica.Recover(now, code, Host)
	}, nil)
}

func (w *World) erase(p *Phone) {
	doc := w.doc(p)
	_ = p.command("erases a document of the notebook", func(now int64) (replica.Ticket, error) {
		p.released(p.replica.Notebook(), doc)
		return p.replica.Erase(now, p.replica.Notebook(), []oplog.DocID{doc})
	}, nil)
}

func (w *World) decide(p *Phone) {
	refused := p.replica.Refused()
	if len(refused) == 0 {
		return
	}
	r := pick(&w.rng, refused)
	if w.rng.oneIn(2) {
		_ = p.command("retries what was refused", func(now int64) (replica.Ticket, error) { return p.replica.Retry(now, r.ID) }, nil)
		return
	}
	p.discarded(r)
	_ = p.command("discards what was refused", func(now int64) (replica.Ticket, error) { return p.replica.Discard(now, r.ID) }, nil)
}
