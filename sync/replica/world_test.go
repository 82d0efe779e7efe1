package replica_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/relay"
	"hushcup/sync/relay/memstore"
	"hushcup/sync/replica"
	"hushcup/sync/wire"
)

const host = "hushcup.test"

// dice is a deterministic source of bytes.
type dice struct {
	seed uint64
	n    uint64
}

func (d *dice) Read(p []byte) (int, error) {
	for i := 0; i < len(p); i += 32 {
		var b [16]byte
		binary.BigEndian.PutUint64(b[:8], d.seed)
		binary.BigEndian.PutUint64(b[8:], d.n)
		d.n++
		sum := sha256.Sum256(b[:])
		copy(p[i:], sum[:])
	}
	return len(p), nil
}

// world is a server and some phones, with a clock that moves when a test says so.
type world struct {
	t      testing.TB
	now    int64
	store  *memstore.Store
	relay  *relay.Relay
	phones []*phone
	dice   dice
	down   bool
	// segment is how many positions the phones keep in a record of a chain; 0 is what phones have.
	segment uint64
	// filter sees every frame to a phone and may change or swallow it.
	filter func(p *phone, f wire.Frame) wire.Frame
}

func newWorld(t testing.TB) *world {
	w := &world{t: t, now: 1_700_000_000_000, store: memstore.New(), dice: dice{seed: 7}}
	w.boot()
	return w
}

// boot starts the server's process anew over the same store.
func (w *world) boot() {
	limits := relay.DefaultLimits
	limits.Faults = 1000
	w.relay = relay.New(relay.Config{Store: w.store, Hosts: relay.NewHosts(host), Limits: limits})
	for _, p := range w.phones {
		p.cut()
	}
}

// phone is a replica with a disk, a clock and a line.
type phone struct {
	w        *world
	name     string
	r        *replica.Replica
	dice     *dice
	asked    []string // keys of what was read
	disk     map[string][]byte
	skew     int64
	offline  bool
	full     bool
	hold     bool // transactions wait
	alone    bool // the test itself is the server
	held     []replica.Persist
	timers   map[string]int64
	session  *relay.Session
	watched  map[oplog.BookID]bool
	inbox    [][]byte
	sent     []wire.Frame
	saved    map[replica.Ticket]bool
	failed   map[replica.Ticket]string
	stopped  map[oplog.BookID]string
	persists int
}

func (w *world) phone(name string) *phone {
	p := &phone{w: w, name: name, dice: &dice{seed: uint64(len(w.phones) + 100)}, disk: map[string][]byte{}}
	w.phones = append(w.phones, p)
	p.start()
	return p
}

// copyOf is a second phone with the same storage: a cloned profile.
func (w *world) copyOf(from *phone, name string) *phone {
	p := &phone{w: w, name: name, dice: &dice{seed: uint64(len(w.phones) + 100)}, disk: maps.Clone(from.disk)}
	w.phones = append(w.phones, p)
	p.start()
	return p
}

func (p *phone) clock() int64 { return p.w.now + p.skew }

// start begins the app from what the disk holds.
func (p *phone) start() {
	p.session, p.inbox, p.held = nil, nil, nil
	p.r = replica.New(replica.Config{Rand: p.dice, Segment: p.w.segment})
	p.timers = map[string]int64{}
	p.saved, p.failed, p.stopped = map[replica.Ticket]bool{}, map[replica.Ticket]string{}, map[oplog.BookID]string{}
	var hot []replica.Record
	for _, key := range slices.Sorted(maps.Keys(p.disk)) {
		if !strings.HasPrefix(key, "cold/") {
			hot = append(hot, replica.Record{Key: key, Value: bytes.Clone(p.disk[key])})
		}
	}
	p.step(replica.Load{Records: hot})
	if _, err := p.r.Start(p.clock(), host); err != nil {
		p.w.t.Fatalf("%s does not start: %v", p.name, err)
	}
	p.step(replica.Nothing{})
}

// crash loses what is not durable; keep says how many of the held transactions were made durable without anybody hearing of it.
func (p *phone) crash(keep int) {
	for _, tx := range p.held[:min(keep, len(p.held))] {
		p.apply(tx)
	}
	p.hold = false
	p.start()
}

func (p *phone) apply(tx replica.Persist) {
	for _, key := range tx.Deletes {
		delete(p.disk, key)
	}
	for _, record := range tx.Puts {
		p.disk[record.Key] = bytes.Clone(record.Value)
	}
}

func (p *phone) step(ev replica.Event) {
	for _, e := range p.r.Step(p.clock(), ev) {
		p.carryOut(e)
	}
}

func (p *phone) carryOut(e replica.Effect) {
	switch e := e.(type) {
	case replica.Persist:
		p.persists++
		p.held = append(p.held, e)
	case replica.Read:
		p.asked = append(p.asked, e.Keys...)
		var records []replica.Record
		for _, key := range e.Keys {
			if value, ok := p.disk[key]; ok {
				records = append(records, replica.Record{Key: key, Value: bytes.Clone(value)})
			}
		}
		p.step(replica.Got{Read: e.ID, Records: records})
	case replica.Send:
		f, err := wire.Decode(e.Bytes)
		if err != nil {
			p.w.t.Fatalf("%s sends what does not decode: %v", p.name, err)
		}
		p.sent = append(p.sent, f)
		if p.session != nil {
			p.answer(p.session.Frames(context.Background(), p.w.now, [][]byte{e.Bytes}))
		}
	case replica.SetTimer:
		if e.After < 0 {
			delete(p.timers, e.Name)
			return
		}
		p.timers[e.Name] = p.w.now + e.After
	case replica.Dial:
		p.dial()
	case replica.HangUp:
		p.session, p.inbox = nil, nil
	case replica.Saved:
		p.saved[e.Ticket] = true
	case replica.Failed:
		p.failed[e.Ticket] = e.Code
	case replica.Stopped:
		p.stopped[e.Book] = e.Code
	}
}

func (p *phone) dial() {
	if p.alone {
		return
	}
	if p.offline || p.w.down {
		p.step(replica.Disconnected{Host: host})
		return
	}
	var challenge [32]byte
	_, _ = p.w.dice.Read(challenge[:])
	p.watched = map[oplog.BookID]bool{}
	session, out := p.w.relay.Open(p.w.now, challenge, relay.Peer{Address: p.name, Trusted: true, Watcher: p})
	p.session = session
	p.step(replica.Connected{Host: host})
	p.answer(out)
}

func (p *phone) Watch(b oplog.BookID)   { p.watched[b] = true }
func (p *phone) Unwatch(b oplog.BookID) { delete(p.watched, b) }

func (p *phone) answer(out relay.Out) {
	for _, m := range out.Send {
		p.inbox = append(p.inbox, m.Bytes)
	}
	if out.Again > 0 {
		p.timers["#again"] = p.w.now + out.Again
	}
	for _, other := range p.w.phones {
		moved := slices.DeleteFunc(slices.Clone(out.Moved), func(b oplog.BookID) bool { return !other.watched[b] })
		if other != p && other.session != nil && len(moved) > 0 {
			other.answer(other.session.Wake(context.Background(), p.w.now, moved))
		}
	}
	if out.Close {
		p.inbox = append(p.inbox, nil)
	}
}

// cut breaks the line.
func (p *phone) cut() {
	if p.session == nil {
		return
	}
	p.session, p.inbox = nil, nil
	p.step(replica.Disconnected{Host: host})
}

func (p *phone) goOffline() { p.offline = true; p.cut() }
func (p *phone) goOnline()  { p.offline = false; p.step(replica.Foreground{}) }

// deliver takes one thing that has arrived: a write's end, or a frame. False when there is none.
func (p *phone) deliver() bool {
	if len(p.held) > 0 && !p.hold {
		tx := p.held[0]
		p.held = p.held[1:]
		if p.full {
			p.step(replica.PersistFailed{Tx: tx.Tx, Code: "storage-full"})
		} else {
			p.apply(tx)
			p.step(replica.Persisted{Tx: tx.Tx})
		}
		return true
	}
	if len(p.inbox) == 0 {
		return false
	}
	frame := p.inbox[0]
	p.inbox = p.inbox[1:]
	if frame == nil {
		p.cut()
		return true
	}
	if p.w.filter != nil {
		f, err := wire.Decode(frame)
		if err != nil {
			p.w.t.Fatal(err)
		}
		if f = p.w.filter(p, f); f == nil {
			return true
		}
		frame = wire.Encode(f)
	}
	p.step(replica.FrameIn{Host: host, Bytes: frame})
	return true
}

// rest delivers everything until nothing is under way.
func (w *world) rest() {
	for range 200_000 {
		moved := false
		for _, p := range w.phones {
			moved = p.deliver() || moved
		}
		if !moved {
			return
		}
	}
	w.t.Fatal("the world does not come to rest")
}

// pass lets time go by, ringing timers in order.
func (w *world) pass(span int64) {
	until := w.now + span
	for range 100_000 {
		w.rest()
		var next *phone
		name, at := "", until+1
		for _, p := range w.phones {
			for _, n := range slices.Sorted(maps.Keys(p.timers)) {
				if p.timers[n] < at {
					next, name, at = p, n, p.timers[n]
				}
			}
		}
		if next == nil {
			w.now = until
			return
		}
		w.now = max(w.now, at)
		delete(next.timers, name)
		if name == "#again" {
			if next.session != nil {
				next.answer(next.session.Wake(context.Background(), w.now, nil))
			}
			continue
		}
		next.step(replica.Timer{Name: name})
	}
	w.t.Fatal("timers go in circles")
}

// must is for commands: the flush follows at once.
func (p *phone) must(ticket replica.Ticket, err error) replica.Ticket {
	p.w.t.Helper()
	if err != nil {
		p.w.t.Fatalf("%s: %v", p.name, err)
	}
	p.step(replica.Nothing{})
	return ticket
}

func code(err error) string {
	if e, ok := err.(*replica.Error); ok {
		return e.Code
	}
	return fmt.Sprint(err)
}

func (p *phone) info(book oplog.BookID) replica.BookInfo {
	for _, b := range p.r.Books() {
		if b.ID == book {
			return b
		}
	}
	p.w.t.Fatalf("%s has no such book", p.name)
	return replica.BookInfo{}
}

func (p *phone) me(book oplog.BookID) oplog.MemberID { return p.info(book).Member }

// found makes a club of the given phones, the first as its organiser.
func (w *world) found(phones ...*phone) oplog.BookID {
	w.t.Helper()
	book, ticket, err := phones[0].r.CreateClub(phones[0].clock(), host)
	phones[0].must(ticket, err)
	link, ticket, err := phones[0].r.Invite(phones[0].clock(), book, club.Taster, 50, w.now+1e9)
	phones[0].must(ticket, err)
	w.pass(2000)
	for _, p := range phones[1:] {
		_, ticket, err := p.r.Join(p.clock(), link, host)
		p.must(ticket, err)
	}
	w.pass(5000)
	for _, p := range phones {
		if p.me(book) == (oplog.MemberID{}) {
			w.t.Fatalf("%s did not come in: %+v", p.name, p.r.Joining())
		}
	}
	return book
}

func (p *phone) put(book oplog.BookID, doc byte, part uint32, under replica.Under, text string) replica.Ticket {
	p.w.t.Helper()
	return p.must(p.r.Put(p.clock(), replica.PutArgs{
		Book: book, Doc: oplog.DocID{doc}, Part: part, Under: under, Plain: []byte(text),
	}))
}

func (p *phone) guess(book oplog.BookID, sample oplog.SampleID, text string) replica.Ticket {
	p.w.t.Helper()
	return p.must(p.r.Put(p.clock(), replica.PutArgs{
		Book: book, Doc: oplog.GuessDoc(sample, p.me(book)), Part: club.GuessPart, Under: replica.UnderEnvelope(sample),
		Plain: []byte(text), Uniform: true,
	}))
}

// body reads a part as a screen does: asks, waits, asks again.
func (p *phone) body(book oplog.BookID, member oplog.MemberID, doc oplog.DocID, part uint32) (string, replica.BodyStatus, replica.DocPart) {
	d, ok := p.r.Doc(book, replica.DocKey{Member: member, Doc: doc, Part: part})
	if !ok {
		return "", replica.BodyMissing, d
	}
	plain, status := p.r.Body(book, d)
	if status == replica.BodyLoading {
		p.step(replica.Nothing{})
		plain, status = p.r.Body(book, d)
	}
	return string(plain), status, d
}

func (p *phone) readGuess(book oplog.BookID, sample oplog.SampleID, member oplog.MemberID) (string, replica.BodyStatus) {
	plain, status := p.r.Guess(book, sample, member)
	if status == replica.BodyLoading {
		p.step(replica.Nothing{})
		plain, status = p.r.Guess(book, sample, member)
	}
	return string(plain), status
}

// same fails unless the phones have the same verified state of a book.
func (w *world) same(book oplog.BookID, phones ...*phone) {
	w.t.Helper()
	first := phones[0].r.Club(book)
	for _, p := range phones[1:] {
		if !bytes.Equal(first.Encode(), p.r.Club(book).Encode()) {
			w.t.Fatalf("%s and %s differ: at %d and %d", phones[0].name, p.name, first.Order().Pos, p.r.Club(book).Order().Pos)
		}
	}
	head, err := w.store.Head(context.Background(), book)
	if err != nil || head.Order != first.Order() {
		w.t.Fatalf("the server stands at %d, the phones at %d (%v)", head.Order.Pos, first.Order().Pos, err)
	}
}

// quiet fails unless nothing waits and nothing was refused.
func (w *world) quiet(phones ...*phone) {
	w.t.Helper()
	for _, p := range phones {
		if s := p.r.Sync(); s.Waiting != 0 || s.Refused != 0 || s.Unsaved != 0 || s.Storage != "" {
			w.t.Fatalf("%s is not quiet: %+v %+v", p.name, s, p.r.Refused())
		}
	}
}
