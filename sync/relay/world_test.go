package relay_test

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/relay"
	"hushcup/sync/relay/memstore"
	"hushcup/sync/seal"
	"hushcup/sync/wire"
)

// world is one store, the servers on it, and phones with real keys that speak to them frame by frame.
type world struct {
	t       testing.TB
	rand    *stream
	now     int64
	store   *memstore.Store
	backup  *memstore.Store
	servers map[string]*server
	people  map[string]*person
	devices map[string]*device
	names   map[any]string
	book    *book // that commands are about
	books   map[string]*book
	lots    map[string]*lot
	flight  oplog.FlightID
	out     strings.Builder
}

// server is one process: a relay and the sessions that it holds.
type server struct {
	name     string
	relay    *relay.Relay
	sessions []*device // in the order of their connections
}

type person struct {
	id       oplog.MemberID
	notebook seal.Key
}

// device is a phone: its keys, its connection, and per book what it has read and written.
type device struct {
	name    string
	owner   *person
	secret  seal.Identity
	server  *server
	session *relay.Session
	hello   wire.Hello
	watched map[oplog.BookID]bool
	deaf    bool // receives, but does not say so
	again   bool
	copies  map[*book]*copy
}

// copy is what a phone holds of a book.
type copy struct {
	order oplog.Order // verified
	runs  []oplog.Placed
	head  oplog.Head // its own chain
	last  oplog.Run
	clock oplog.Time
	wraps map[oplog.SampleID]bool
}

// book is what all members know of a book.
type book struct {
	name    string
	id      oplog.BookID
	epochs  []seal.Key
	in      []*device
	invites map[string]seal.Invite
}

type lot struct {
	id   oplog.SampleID
	keys seal.Sample
}

// stream is deterministic randomness.
type stream struct{ count uint64 }

func (s *stream) Read(b []byte) (int, error) {
	for n := 0; n < len(b); {
		s.count++
		block := sha256.Sum256(binary.BigEndian.AppendUint64([]byte("observatory"), s.count))
		for _, c := range block {
			if n < len(b) {
				b[n] = c
				n++
			}
		}
	}
	return len(b), nil
}

const evening = 1_900_000_000_000

var ctx = context.Background()

func newWorld(t testing.TB) *world {
	w := &world{t: t, rand: &stream{}, now: evening, store: memstore.New(), servers: map[string]*server{}, people: map[string]*person{},
		devices: map[string]*device{}, names: map[any]string{}, books: map[string]*book{}, lots: map[string]*lot{}}
	w.flight = oplog.FlightID(w.draw(16))
	return w
}

func (w *world) draw(n int) []byte {
	b := make([]byte, n)
	w.rand.Read(b)
	return b
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// server finds a server, or starts it with given limits.
func (w *world) server(name string, limits relay.Limits) *server {
	if s := w.servers[name]; s != nil {
		return s
	}
	s := &server{name: name}
	s.relay = relay.New(relay.Config{Store: w.store, Hosts: relay.NewHosts("club.example"), Limits: limits, Note: func(n relay.Note) {
		if n.What == "fault" {
			fmt.Fprintf(&w.out, "  fault: %v\n", n.Err)
		}
	}})
	w.servers[name] = s
	return s
}

func (w *world) person(name string) *person {
	if p := w.people[name]; p != nil {
		return p
	}
	p := &person{id: oplog.MemberID(w.draw(16)), notebook: seal.Key(w.draw(32))}
	w.people[name], w.names[p.id] = p, name
	return p
}

// device finds or makes one by name: "mira" and "mira.tablet" belong to mira.
func (w *world) device(name string) *device {
	if d := w.devices[name]; d != nil {
		return d
	}
	d := &device{name: name, owner: w.person(strings.Split(name, ".")[0]), secret: must(seal.NewIdentity(w.rand)), copies: map[*book]*copy{}}
	w.devices[name], w.names[d.id()] = d, name
	return d
}

func (d *device) id() oplog.DeviceID { return d.secret.Public().Sign }

func (d *device) enrolment() club.Enrolment {
	return club.Enrolment{Sign: d.id(), Box: d.secret.Public().Box}
}

func (d *device) copy(b *book) *copy {
	if d.copies[b] == nil {
		d.copies[b] = &copy{wraps: map[oplog.SampleID]bool{}}
	}
	return d.copies[b]
}

// Watch and Unwatch make a device the watcher of its session.
func (d *device) Watch(id oplog.BookID)   { d.watched[id] = true }
func (d *device) Unwatch(id oplog.BookID) { delete(d.watched, id) }

// command is one parsed line.
type command struct {
	who, verb string
	words     []string
	options   map[string]string
}

func parse(line string) command {
	fields := strings.Fields(line)
	c := command{who: fields[0], options: map[string]string{}}
	if len(fields) > 1 {
		c.verb = fields[1]
	}
	for _, f := range fields[min(2, len(fields)):] {
		if key, value, ok := strings.Cut(f, "="); ok {
			c.options[key] = value
		} else {
			c.words = append(c.words, f)
		}
	}
	return c
}

func (c *command) word(i int, without string) string {
	if i < len(c.words) {
		return c.words[i]
	}
	return without
}

func (c *command) number(key string, without int) int {
	if text, ok := c.options[key]; ok {
		return must(strconv.Atoi(text))
	}
	return without
}

// run carries out one line and gives what was said on the wire because of it.
func (w *world) run(line string) string {
	w.out.Reset()
	c := parse(line)
	switch c.who {
	case "wait":
		w.now += span(c.verb)
		w.wakeAgain()
	case "store":
		w.storeDoes(&c)
	case "server":
		w.serverDoes(&c)
	case "book":
		w.book = w.books[c.verb]
	default:
		w.phoneDoes(w.device(c.who), &c)
	}
	if w.out.Len() == 0 {
		return "  silence\n"
	}
	return w.out.String()
}

func span(text string) int64 {
	unit := map[byte]int64{'s': 1000, 'm': 60_000, 'h': 3_600_000, 'd': 86_400_000}[text[len(text)-1]]
	return must(strconv.ParseInt(text[:len(text)-1], 10, 64)) * unit
}

func (w *world) storeDoes(c *command) {
	fate := func(write, read memstore.Fate) {
		w.store.Fail = func(call string) memstore.Fate {
			if call == "write" {
				return write
			}
			return read
		}
	}
	switch c.verb {
	case "works":
		fate(memstore.Works, memstore.Works)
	case "down":
		fate(memstore.Lost, memstore.Lost)
	case "keeps-but-does-not-answer":
		fate(memstore.Persisted, memstore.Works)
	case "backed-up":
		w.backup = w.store.Copy()
	case "restored-from-backup":
		w.store.Become(w.backup.Copy())
	case "shows":
		w.showStore()
	}
}

func (w *world) showStore() {
	head := must(w.store.Head(ctx, w.book.id))
	fmt.Fprintf(&w.out, "  head %d, restored %v\n", head.Order.Pos, head.Restored)
	for _, placed := range must(w.store.Read(ctx, w.book.id, 0, relay.Limit{})) {
		pos := placed.First
		for _, op := range placed.Run.Ops {
			if op.Body == nil {
				fmt.Fprintf(&w.out, "  %d has no body\n", pos)
			}
			pos++
		}
	}
}

// serverDoes: "server starts NAME ops-burst=..", "server hears NAME" (of the book, as by a notification).
func (w *world) serverDoes(c *command) {
	name := c.word(0, "home")
	switch c.verb {
	case "starts":
		delete(w.servers, name)
		w.server(name, relay.Limits{OpsBurst: c.number("burst", 0), OpsSecond: c.number("second", 0), BooksDay: c.number("books", 0),
			Window: c.number("window", 0), Faults: c.number("faults", 0), TokenOnly: c.options["token"] != ""})
	case "hears":
		s := w.server(name, relay.Limits{})
		if err := s.relay.Refresh(ctx, w.book.id); err != nil {
			fmt.Fprintf(&w.out, "  %s cannot read\n", name)
			return
		}
		w.moved(s, nil, []oplog.BookID{w.book.id})
	}
}

// wakeAgain wakes the sessions that asked for it.
func (w *world) wakeAgain() {
	for _, s := range w.servers {
		for _, d := range slices.Clone(s.sessions) {
			if d.again {
				d.again = false
				w.carryOut(d, d.session.Wake(ctx, w.now, nil))
			}
		}
	}
}

// moved wakes whoever reads the books at a server.
func (w *world) moved(s *server, writer *device, books []oplog.BookID) {
	for _, id := range books {
		for _, d := range slices.Clone(s.sessions) {
			if d != writer && d.watched[id] {
				w.carryOut(d, d.session.Wake(ctx, w.now, []oplog.BookID{id}))
			}
		}
	}
}

// carryOut does what a session asks for, as a socket would, and lets the phone read what it is sent.
func (w *world) carryOut(d *device, out relay.Out) {
	d.again = d.again || out.Again > 0
	s := d.server
	var answers [][]byte
	for _, m := range out.Send {
		if len(m.Bytes) > wire.MaxFrame {
			w.t.Fatalf("a frame of %d bytes", len(m.Bytes))
		}
		if answer := w.hear(d, must(wire.Decode(m.Bytes))); answer != nil {
			answers = append(answers, wire.Encode(answer))
		}
	}
	if out.Close {
		fmt.Fprintf(&w.out, "  %s is cut off\n", d.name)
		s.sessions = slices.DeleteFunc(s.sessions, func(other *device) bool { return other == d })
		d.session = nil
	}
	w.moved(s, d, out.Moved)
	if len(answers) > 0 && d.session != nil {
		w.carryOut(d, d.session.Frames(ctx, w.now, answers))
	}
}

func (w *world) bookName(id oplog.BookID) string {
	if b, ok := w.names[id]; ok {
		return b
	}
	return "?"
}

// hear prints a frame, and gives the phone's answer to it.
func (w *world) hear(d *device, f wire.Frame) (answer wire.Frame) {
	say := func(format string, args ...any) {
		fmt.Fprintf(&w.out, "  -> %s: %s\n", d.name, fmt.Sprintf(format, args...))
	}
	switch f := f.(type) {
	case *wire.Hello:
		d.hello = *f
	case *wire.Welcome:
		say("welcome%s", w.headList(f.Books))
	case *wire.Entries:
		return w.hearEntries(d, f, say)
	case *wire.Ack:
		say("ack of %s seq %d at %d", w.bookName(f.Book), f.Seq, f.First)
	case *wire.Refuse:
		say("refused %s seq %d (run from %d): %s", w.bookName(f.Book), f.Seq, f.First, f.Code)
	case *wire.Slow:
		say("slow %s: %s, %d s", w.bookName(f.Book), f.Code, f.After/1000)
	case *wire.Closed:
		say("closed %s: %s", w.bookName(f.Book), f.Code)
	case *wire.Behind:
		say("behind %s: %d", w.bookName(f.Book), f.Pos)
	case *wire.Bye:
		say("bye: %s", f.Code)
	default:
		say("%T", f)
	}
	return nil
}

func (w *world) headList(books []wire.BookHead) string {
	var list strings.Builder
	for _, b := range books {
		fmt.Fprintf(&list, " %s:%d", w.bookName(b.Book), b.Pos)
		if b.Restored {
			list.WriteString(" (restored)")
		}
	}
	return list.String()
}

// hearEntries verifies what comes, as a phone does, and confirms it.
func (w *world) hearEntries(d *device, f *wire.Entries, say func(string, ...any)) wire.Frame {
	b := w.books[w.bookName(f.Book)]
	mine := d.copy(b)
	from := mine.order.Pos
	for i := range f.Runs {
		run, err := f.Runs[i].Run.Unpack()
		if err != nil || f.Runs[i].First != mine.order.Pos+1 {
			say("entries that do not verify: first %d after %d, %v", f.Runs[i].First, mine.order.Pos, err)
			return nil
		}
		_, mine.order = mine.order.Entries(&run, f.Runs[i].At)
		mine.runs = append(mine.runs, f.Runs[i])
	}
	if mine.order.Pos == from {
		say("entries none, head %d", f.Head)
		return nil
	}
	say("entries %d-%d of %s, head %d", from+1, mine.order.Pos, b.name, f.Head)
	if d.deaf {
		return nil
	}
	return &wire.Received{Book: f.Book, Pos: mine.order.Pos}
}

func named(k seal.Key) oplog.KeyID { return oplog.KeyID(k.ID()) }

func encode(body any) []byte { return codec.MustMarshal(body) }
