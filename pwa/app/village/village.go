// Package village runs several phones' applications and one server's relay in one goroutine, on a clock that is moved by
// hand: the same App as in the browser, around it disks in memory and lines without wires. Nothing happens but by a call, and
// the same calls with the same randomness give the same bytes. The tests of the application live in it, and the
// demonstration club is made in it.
//
//	v := village.New(village.Config{Store: memstore.New(), Rand: rand, Now: now})
//	vega := v.Phone("vega")
//	made, err := village.Do[app.ClubCreated](vega, app.CmdClubCreate, app.ClubCreate{Name: "Observatory"})
//	club, err := village.See[app.ClubView](vega, app.ViewClub, app.ClubParams{Club: made.Club})
package village

import (
	"context"
	"io"

	"hushcup/sync/oplog"
	"hushcup/sync/relay"
)

// Config is what a village is made of.
type Config struct {
	Store  relay.Store
	Rand   io.Reader
	Now    int64  // where the clock begins, milliseconds since 1970
	Origin string // where the phones' app comes from; "https://hushcup.test" when empty
	Host   string // Origin without its scheme
}

// Village is a relay and the phones around it.
type Village struct {
	config Config
	now    int64
	relay  *relay.Relay
	phones []*Phone
	server []deferred // what the relay asked to be called for later
}

// deferred is a session's wake-up.
type deferred struct {
	at   int64
	line *line
}

// New makes a village without phones.
func New(c Config) *Village {
	if c.Origin == "" {
		c.Origin, c.Host = "https://hushcup.test", "hushcup.test"
	}
	return &Village{config: c, now: c.Now, relay: relay.New(relay.Config{
		Store: c.Store, Hosts: relay.NewHosts(c.Host), Limits: relay.Limits{BooksDay: 10_000},
	})}
}

// Now is the time in the village.
func (v *Village) Now() int64 { return v.now }

// line is a phone's connection.
type line struct {
	phone   *Phone
	session *relay.Session
	watched map[oplog.BookID]bool
}

func (l *line) Watch(b oplog.BookID)   { l.watched[b] = true }
func (l *line) Unwatch(b oplog.BookID) { delete(l.watched, b) }

func (v *Village) open(p *Phone) {
	l := &line{phone: p, watched: map[oplog.BookID]bool{}}
	var challenge [32]byte
	_, _ = io.ReadFull(v.config.Rand, challenge[:])
	session, out := v.relay.Open(v.now, challenge, relay.Peer{Address: p.name, Watcher: l})
	l.session, p.line = session, l
	v.carryOut(l, out)
}

// carryOut does what the relay asks for: frames go into the phone's queue, and whoever watches a book that moved is woken.
func (v *Village) carryOut(l *line, out relay.Out) {
	if l.phone.line != l {
		return
	}
	for _, m := range out.Send {
		l.phone.receive(m.Bytes)
	}
	if out.Again > 0 {
		v.server = append(v.server, deferred{v.now + out.Again, l})
	}
	if out.Close {
		l.phone.cut()
	}
	if len(out.Moved) > 0 {
		v.wake(out.Moved)
	}
}

func (v *Village) wake(moved []oplog.BookID) {
	for _, p := range v.phones {
		if p.line == nil {
			continue
		}
		var hit []oplog.BookID
		for _, book := range moved {
			if p.line.watched[book] {
				hit = append(hit, book)
			}
		}
		if len(hit) > 0 {
			v.carryOut(p.line, p.line.session.Wake(context.Background(), v.now, hit))
		}
	}
}

// Settle lets everything happen that happens at this moment.
func (v *Village) Settle() {
	for busy := true; busy; {
		busy = false
		for _, p := range v.phones {
			busy = p.work() || busy
		}
		busy = v.callBack() || busy
	}
}

// callBack calls the sessions whose time has come.
func (v *Village) callBack() (called bool) {
	later := v.server
	v.server = nil
	for _, d := range later {
		switch {
		case d.line.phone.line != d.line:
		case d.at > v.now:
			v.server = append(v.server, d)
		default:
			called = true
			v.carryOut(d.line, d.line.session.Wake(context.Background(), v.now, nil))
		}
	}
	return called
}

// Advance moves the clock on, with everything that its passing sets off.
func (v *Village) Advance(by int64) {
	v.Settle()
	end := v.now + by
	for {
		next := v.next(end)
		if next == 0 {
			break
		}
		v.now = max(next, v.now)
		for _, p := range v.phones {
			p.ring()
		}
		v.Settle()
	}
	v.now = end
	v.Settle()
}

// next is the earliest thing that is due up to a time, 0 for none.
func (v *Village) next(end int64) (at int64) {
	earlier := func(t int64) {
		if t <= end && (at == 0 || t < at) {
			at = t
		}
	}
	for _, p := range v.phones {
		for _, due := range p.timers {
			earlier(due)
		}
	}
	for _, d := range v.server {
		earlier(d.at)
	}
	return at
}
