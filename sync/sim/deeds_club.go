package sim

import (
	"fmt"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

// What people do in clubs.

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
