package sim

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
	"hushcup/sync/seal"
	"hushcup/sync/seal/sealtest"
	"hushcup/sync/wire"
)

var verbs = map[string]func(s *stage, who string, words []string){
	"appears": func(s *stage, who string, _ []string) {
		s.addPerson(who)
		p := s.people[len(s.people)-1].phones[0]
		p.online, p.skew, p.drift, p.frozen = true, 0, 0, 0
		s.phones[who] = p
	},
	"founds": func(s *stage, who string, _ []string) {
		s.command(who, func(p *Phone, now int64) (t replica.Ticket, err error) {
			c := &clubhouse{}
			c.book, t, err = p.replica.CreateClub(now, Host)
			s.clubs = append(s.clubs, c)
			return t, err
		})
	},
	"invites": func(s *stage, who string, words []string) {
		role := club.Taster
		if slices.Contains(words, "organiser") {
			role = club.Organiser
		}
		s.command(who, func(p *Phone, now int64) (t replica.Ticket, err error) {
			link, t, err := p.replica.Invite(now, s.clubs[0].book, role, 8, s.clock()+3_600_000)
			s.clubs[0].links = []string{link}
			return t, err
		})
	},
	"joins": func(s *stage, who string, _ []string) {
		s.command(who, func(p *Phone, now int64) (replica.Ticket, error) {
			_, t, err := p.replica.Join(now, s.clubs[0].links[0], Host)
			return t, err
		})
	},
	"opens": func(s *stage, who string, words []string) {
		a := replica.FlightArgs{}
		if len(words) > 0 {
			a.Closes = s.clock() + span(s, words[0])
		}
		s.command(who, func(p *Phone, now int64) (t replica.Ticket, err error) {
			id, t, err := p.replica.Flight(now, s.clubs[0].book, a)
			s.clubs[0].flights = append(s.clubs[0].flights, id)
			return t, err
		})
	},
	"seals": func(s *stage, who string, words []string) {
		c := s.clubs[0]
		a := replica.SampleArgs{Flight: c.flights[len(c.flights)-1], Code: uint16(number(s, words[0])), Centigrams: 1500,
			Declared: []byte("nothing added"), Answer: s.content()}
		for _, holder := range words[1:] {
			a.Holders = append(a.Holders, s.member(holder))
		}
		s.command(who, func(p *Phone, now int64) (t replica.Ticket, err error) {
			id, t, err := p.replica.SealSample(now, c.book, a)
			c.samples = append(c.samples, sealed{a.Flight, id, p.person})
			s.answers[id] = string(a.Answer)
			return t, err
		})
	},
	"guesses": func(s *stage, who string, words []string) {
		p, sample := s.phones[who], s.sample(words[0])
		a := replica.PutArgs{Book: s.clubs[0].book, Doc: oplog.GuessDoc(sample, s.member(who)), Part: club.GuessPart,
			Under: replica.UnderEnvelope(sample), Plain: s.content(), Uniform: true}
		written := s.written(p, a, s.member(who))
		s.saving(who, func(p *Phone, now int64) (replica.Ticket, error) { return p.replica.Put(now, a) }, written.saved)
	},
	"notes": func(s *stage, who string, _ []string) {
		p := s.phones[who]
		m, _ := p.replica.Ahead(p.replica.Notebook()).MemberOf(p.device())
		a := replica.PutArgs{Book: p.replica.Notebook(), Doc: s.doc(p), Part: 256, Plain: s.content()}
		written := s.written(p, a, m.ID)
		s.saving(who, func(p *Phone, now int64) (replica.Ticket, error) { return p.replica.Put(now, a) }, written.saved)
	},
	"closes": func(s *stage, who string, _ []string) {
		c := s.clubs[0]
		s.command(who, func(p *Phone, now int64) (replica.Ticket, error) {
			return p.replica.Lock(now, c.book, c.flights[len(c.flights)-1], nil)
		})
	},
	"unseals": func(s *stage, who string, words []string) {
		sample := s.sample(words[0])
		s.unsealed[sample] = true
		s.command(who, func(p *Phone, now int64) (replica.Ticket, error) {
			return p.replica.Unseal(now, s.clubs[0].book, []oplog.SampleID{sample})
		})
	},
	"removes": func(s *stage, who string, words []string) {
		s.command(who, func(p *Phone, now int64) (replica.Ticket, error) {
			return p.replica.RemoveMember(now, s.clubs[0].book, s.member(words[0]))
		})
	},
	"leaves": func(s *stage, who string, _ []string) {
		s.command(who, func(p *Phone, now int64) (replica.Ticket, error) { return p.replica.Leave(now, s.clubs[0].book) })
	},
	"pairs": func(s *stage, who string, words []string) {
		s.command(who, func(p *Phone, now int64) (replica.Ticket, error) {
			link, t, err := p.replica.Pair(now)
			p.person.link = link
			return t, err
		})
		s.advance(1000)
		s.further(who, words[0], func(q *Phone, now int64) (replica.Ticket, error) {
			_, t, err := q.replica.Join(now, q.person.link, Host)
			return t, err
		})
	},
	"prints": func(s *stage, who string, _ []string) {
		s.command(who, func(p *Phone, now int64) (t replica.Ticket, err error) {
			p.person.code, t, err = p.replica.RecoveryCode(now)
			return t, err
		})
	},
	"recovers": func(s *stage, who string, words []string) {
		s.further(who, words[0], func(q *Phone, now int64) (replica.Ticket, error) {
			return q.replica.Recover(now, q.person.code, Host)
		})
	},
	"resumes": func(s *stage, who string, _ []string) {
		s.command(who, func(p *Phone, now int64) (replica.Ticket, error) { return p.replica.Resume(now, s.clubs[0].book) })
	},
	"drowns": func(s *stage, who string, _ []string) {
		p := s.phones[who]
		p.crash()
		p.gone, p.online = true, false
	},
	"goes": func(s *stage, who string, words []string) {
		p := s.phones[who]
		p.online = words[0] == "on"
		if p.line != nil {
			p.line.cut()
		}
		if p.online {
			p.step(foreground)
		}
	},
	"reaches": func(s *stage, who string, words []string) {
		p := s.phones[who]
		p.via = s.servers[number(s, words[0])]
		p.step(foreground)
	},
	"misses":  func(s *stage, who string, words []string) { s.phones[who].deaf = number(s, words[0]) },
	"crashes": func(s *stage, who string, _ []string) { s.phones[who].crash() },
	"starts":  func(s *stage, who string, _ []string) { s.phones[who].start() },
	"fills":   func(s *stage, who string, _ []string) { s.phones[who].full = true },
	"frees":   func(s *stage, who string, _ []string) { s.phones[who].full = false },
	"clock": func(s *stage, who string, words []string) {
		p := s.phones[who]
		if words[0] == "ends" {
			p.frozen = 1<<48 - 1
			return
		}
		p.frozen, p.skew = 0, span(s, words[0])
	},
	"shows": (*stage).tell,
	"is":    func(s *stage, who string, _ []string) { s.stealQuietly(who) },
	"lies":  func(s *stage, who string, words []string) { s.lie(strings.Join(words, " ")) },
	"collides": func(s *stage, who string, words []string) {
		s.collide(s.sample(words[0]), len(words) > 1)
	},
}

// command has a phone do something, and says what came of it.
func (s *stage) command(who string, do func(p *Phone, now int64) (replica.Ticket, error)) {
	s.saving(who, do, nil)
}

func (s *stage) saving(who string, do func(p *Phone, now int64) (replica.Ticket, error), saved func()) {
	p := s.phones[who]
	if p == nil || !p.up() {
		s.t.Fatalf("%q has no phone that runs", who)
	}
	done := false
	err := p.command("follows the script", func(now int64) (replica.Ticket, error) { return do(p, now) }, func() {
		done = true
		if saved != nil {
			saved()
		}
	})
	var why *replica.Error
	if errors.As(err, &why) {
		s.say("%s: refused: %s", who, why.Code)
		return
	}
	if err != nil {
		s.t.Fatal(err)
	}
	s.advance(50)
	if !done {
		s.say("%s: not saved", who)
	}
}

// further gives a person another phone.
func (s *stage) further(who, name string, do func(q *Phone, now int64) (replica.Ticket, error)) {
	q := s.addPhone(s.phones[who].person)
	q.online, q.skew, q.drift, q.frozen = true, 0, 0, 0
	s.phones[name] = q
	q.start()
	s.command(name, do)
}

func (s *stage) sample(code string) oplog.SampleID {
	for _, b := range s.observers[0].order {
		for _, r := range b.reckon.samples {
			if info, _ := b.state.Sample(r.id); fmt.Sprint(info.Body.Code) == code {
				return r.id
			}
		}
	}
	for _, p := range s.phones { // not ordered yet
		if !p.up() {
			continue
		}
		for _, c := range s.clubs[0].samples {
			if state := p.replica.Ahead(s.clubs[0].book); state != nil {
				if info, ok := state.Sample(c.sample); ok && fmt.Sprint(info.Body.Code) == code {
					return c.sample
				}
			}
		}
	}
	s.t.Fatalf("there is no sample %s", code)
	return oplog.SampleID{}
}

// member is who somebody is in the club.
func (s *stage) member(who string) oplog.MemberID {
	p := s.phones[who]
	if b := s.observers[0].books[s.clubs[0].book]; b != nil {
		for _, m := range b.state.Members() {
			for _, d := range m.Devices {
				for _, q := range p.person.phones {
					if d.Sign == deviceOf(q) {
						return m.ID
					}
				}
			}
		}
	}
	if p.up() {
		if m, ok := p.replica.Ahead(s.clubs[0].book).MemberOf(p.device()); ok {
			return m.ID
		}
	}
	s.t.Fatalf("%q is not in the club", who)
	return oplog.MemberID{}
}

func deviceOf(p *Phone) oplog.DeviceID {
	identity, _ := p.disk.identity()
	return oplog.DeviceID(identity.Public().Sign)
}

// who is the name of a member.
func (s *stage) who(id oplog.MemberID) string {
	for name := range s.phones {
		b := s.observers[0].books[s.clubs[0].book]
		for _, m := range b.state.Members() {
			for _, d := range m.Devices {
				if m.ID == id && d.Sign == deviceOf(s.phones[name]) {
					return s.phones[name].person.name
				}
			}
		}
	}
	return "somebody"
}

var statuses = map[replica.BodyStatus]string{replica.BodyReady: "readable", replica.BodyLoading: "loading",
	replica.BodySealed: "sealed", replica.BodyUnreadable: "unreadable", replica.BodyDropped: "dropped",
	replica.BodyMissing: "missing"}

// tell says what a phone shows of the club.
func (s *stage) tell(who string, _ []string) {
	p, book := s.phones[who], s.clubs[0].book
	for _, info := range p.replica.Books() {
		if info.ID == book {
			s.say("%s: %s at %d, %d waiting", who, info.Status, info.Verified, info.Waiting)
		}
	}
	for _, r := range p.replica.Refused() {
		s.say("%s: an op of kind %d could not be shared: %s", who, r.Kind, r.Code)
	}
	state := p.replica.Club(book)
	if state == nil {
		s.say("%s: no club", who)
		return
	}
	for _, f := range state.Flights() {
		for _, info := range state.Samples(f.ID) {
			s.tellSample(p, state, &info)
		}
	}
}

func (s *stage) tellSample(p *Phone, state *club.State, info *club.SampleInfo) {
	closed := map[club.Closed]string{club.Open: "open", club.ClosedByLock: "closed", club.ClosedByTime: "closed by time",
		club.ClosedByEarly: "opened early"}[info.ClosedHow]
	_, answer := p.replica.Answer(state.Book(), info.Body.ID)
	s.say("  sample %d of %s: %s, answer %s", info.Body.Code, s.who(info.Keeper), closed, statuses[answer])
	for _, g := range state.Guesses(info.Body.ID) {
		line := "    " + s.who(g.Member) + ":"
		if g.Scoring != nil {
			line += " scores, " + s.reading(p, state.Book(), info.Body.ID, g.Member)
		}
		if g.Late != nil {
			line += " has a late one"
		}
		if g.Void != "" {
			line += " never scores: " + g.Void
		}
		s.say("%s", line)
	}
}

func (s *stage) reading(p *Phone, book oplog.BookID, sample oplog.SampleID, member oplog.MemberID) string {
	words, status := p.replica.Guess(book, sample, member)
	if status == replica.BodyLoading {
		p.step(replica.Nothing{})
		s.advance(50)
		words, status = p.replica.Guess(book, sample, member)
	}
	if n, ok := numberOf(words); ok {
		return fmt.Sprintf("reads #%d", n)
	}
	return statuses[status]
}

var kinds = [...]string{"part", "create", "invite", "revoke", "join", "device", "remove", "role", "epoch", "flight", "sample", "lock",
	"unseal", "erase", "rules", "resume", "leave", "closing"}

// tellStore lists what the club's log holds.
func (s *stage) tellStore() {
	b := s.observers[0].books[s.clubs[0].book]
	var line []string
	for _, e := range b.entries {
		line = append(line, kinds[e.Op.Kind])
	}
	s.say("the store holds: %s", strings.Join(line, " "))
}

// stealQuietly takes a phone over, which then lies only when the script says so.
func (s *stage) stealQuietly(who string) {
	p := s.phones[who]
	device := p.device()
	identity, _ := p.disk.identity()
	keys := p.keysOnDisk()
	p.crash()
	p.gone, p.online = true, false
	l := &liar{w: s.World, name: who + "'s thief", identity: identity, device: device}
	s.liars, s.thieves[device] = append(s.liars, l), true
	s.keysOfYore = append(s.keysOfYore, keys...)
	l.act()
	s.advance(100)
}

// lie has the thief push one run of a kind.
func (s *stage) lie(name string) {
	d := s.draft()
	at := slices.IndexFunc(deceits, func(d deceit) bool { return d.name == name })
	if at < 0 {
		s.t.Fatalf("no deceit is called %q", name)
	}
	run, ok := deceits[at].make(d)
	if !ok {
		s.t.Fatalf("there is no occasion for %q", name)
	}
	s.push(d.l, &run)
}

func (s *stage) draft() *draft {
	l, b := s.liars[0], s.observers[0].books[s.clubs[0].book]
	m, _ := b.state.MemberOf(l.device)
	if m == nil {
		m, _ = b.state.Member(s.clubMember(l.device))
	}
	d := &draft{l: l, b: b, member: m}
	d.follow()
	return d
}

func (s *stage) clubMember(device oplog.DeviceID) oplog.MemberID {
	return s.observers[0].books[s.clubs[0].book].reckon.memberOf[device]
}

func (s *stage) push(l *liar, run *oplog.Run) {
	taken, before := "lie taken, and void of harm", s.counts["lie taken, and void of harm"]
	l.say(&wire.Push{Run: run.Pack()})
	s.advance(100)
	if s.counts[taken] > before {
		s.say("the server takes it")
	}
}

// collide writes a guess whose body opens under two envelopes. The one that is named is handed over, or (swapped) the other
// one under its name.
func (s *stage) collide(sample oplog.SampleID, swapped bool) {
	d := s.draft()
	info, _ := d.b.state.Sample(sample)
	rand := sealtest.NewRand("two keys")
	one, two := newKey(rand), newKey(rand)
	epoch := s.epochKey(d.b)
	d.header.Kind, d.header.Doc, d.header.Part = oplog.Part, oplog.GuessDoc(sample, d.member.ID), club.GuessPart
	d.header.Keys = []oplog.KeyID{oplog.KeyID(one.ID()), oplog.KeyID(epoch.ID())}
	ad := oplog.AssociatedData(d.b.id, d.l.device, oplog.Part, d.header.Doc, d.header.Part, d.header.Keys)
	body, err := sealtest.Collide(rand, seal.BodyKey(one, epoch), seal.BodyKey(two, epoch), ad, s.content(), seal.Uniform)
	if err != nil {
		s.t.Fatal(err)
	}
	handed := one
	if swapped {
		handed = two
	}
	context := seal.Info(seal.PurposeEnvelope, d.b.id, sample[:], d.member.ID, one.ID())
	w, err := seal.Wrap(rand, info.Body.Key, context, handed)
	if err != nil {
		s.t.Fatal(err)
	}
	d.header.Wrap = &oplog.Wrap{Sample: sample, Enc: w.Enc, Box: w.Box[:]}
	d.body = body
	run, _ := d.run()
	s.push(d.l, &run)
}

func newKey(rand *sealtest.Rand) seal.Key {
	key, _ := seal.NewKey(rand) // it never fails
	return key
}

func (s *stage) epochKey(b *watched) seal.Key {
	for _, key := range s.notebookKeys() {
		if oplog.KeyID(key.ID()) == b.state.Epoch().ID {
			return key
		}
	}
	s.t.Fatal("nobody has the epoch's key")
	return seal.Key{}
}
