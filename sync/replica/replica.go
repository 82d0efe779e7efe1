package replica

import (
	"io"
	"strings"

	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// Config is what a replica is made of.
type Config struct {
	Rand    io.Reader // cryptographically strong outside of tests
	Segment uint64    // positions in a stored record of a chain, always the same on one disk; 0 is what phones have
}

// Replica is all books of one phone. It is not safe for concurrent use.
type Replica struct {
	rand    io.Reader
	segment uint64
	now     int64 // of the event or command at hand
	effects []Effect
	changes []Changed

	disk      disk
	loaded    bool
	started   bool
	startHost string
	fault     error // why the stored identity cannot be used

	me       *seal.Identity
	sign     func(message []byte) [64]byte // as me
	device   oplog.DeviceID
	phone    phoneRecord
	books    map[oplog.BookID]*book
	order    []*book // by id
	sessions []*session
	jobs     []*job
	refused  []refusedRecord
	hurry    []*book // have something that leaves at once

	lastItem   uint64
	lastTicket Ticket
	own        ownParts
	reads      reads
	cache      cache
}

// Ticket names a command until Saved or Failed.
type Ticket uint64

// New makes a replica that waits for Load.
func New(c Config) *Replica {
	if c.Segment == 0 {
		c.Segment = chainSegment
	}
	return &Replica{
		rand: c.Rand, segment: c.Segment, books: map[oplog.BookID]*book{}, disk: disk{own: map[string][]byte{}}, cache: newCache(), reads: newReads(),
	}
}

// Step takes one event and gives what is to be done, in the order in which it must be done.
func (r *Replica) Step(now int64, ev Event) []Effect {
	r.now = now
	r.take(ev)
	for len(r.hurry) > 0 {
		b := r.hurry[0]
		r.hurry = r.hurry[1:]
		r.freezeNow(b)
		r.freezeSoon(b)
	}
	r.flush()
	r.flushReads()
	r.flushChanges()
	effects := r.effects
	r.effects = nil
	return effects
}

func (r *Replica) take(ev Event) {
	switch ev := ev.(type) {
	case Load:
		r.load(ev.Records)
	case Connected:
		r.onConnected(ev.Host)
	case Disconnected:
		r.onDisconnected(ev.Host)
	case FrameIn:
		r.onFrame(ev.Host, ev.Bytes)
	case Persisted:
		r.persisted(ev.Tx)
	case PersistFailed:
		r.persistFailed(ev.Tx, ev.Code)
	case Got:
		r.got(ev.Read, ev.Records)
	case Timer:
		r.onTimer(ev.Name)
	case Foreground:
		r.onForeground()
	}
}

func (r *Replica) onTimer(name string) {
	kind, rest, ok := strings.Cut(name, "/")
	if !ok {
		if name == timerStorage {
			r.retryStorage()
		}
		return
	}
	switch kind + "/" {
	case timerDial:
		if s := r.session(rest); s.phase == phaseWaiting {
			r.dial(s)
		}
	case timerAnswer:
		r.onAnswerTimer(rest)
	case timerBeat:
		r.beat(rest)
	case timerBooks:
		r.askBooks(rest)
	default:
		if id, ok := parseID[oplog.BookID](rest); ok && r.books[id] != nil {
			r.onBookTimer(kind+"/", r.books[id])
		}
	}
}

func (r *Replica) onBookTimer(kind string, b *book) {
	switch kind {
	case timerFreeze:
		b.freezing = false
		r.freezeNow(b)
	case timerPush:
		b.slowed = false
		r.freezeNow(b)
		r.send(b)
	case timerRetry:
		if !b.asked && r.session(b.record.Host).phase == phaseOpen {
			r.subscribe(b)
		}
	case timerDoubt:
		r.askAgain(b)
	case timerChores:
		r.choresOf(b)
	case timerRest:
		r.rest(b)
	}
}

func (r *Replica) do(e Effect) { r.effects = append(r.effects, e) }

// changed collects what views are touched; each book is named once a Step.
func (r *Replica) changed(book oplog.BookID, what What, docs ...DocKey) {
	for i := range r.changes {
		c := &r.changes[i]
		if c.Book != book {
			continue
		}
		hadAll := c.What&ChangedDocs != 0 && len(c.Docs) == 0
		c.What |= what
		if what&ChangedDocs != 0 {
			c.Docs = append(c.Docs, docs...)
			if hadAll || len(docs) == 0 || len(c.Docs) > 400 {
				c.Docs = nil
			}
		}
		return
	}
	r.changes = append(r.changes, Changed{Book: book, What: what, Docs: append([]DocKey{}, docs...)})
}

func (r *Replica) flushChanges() {
	for _, c := range r.changes {
		if c.What != 0 {
			r.do(c)
		}
	}
	r.changes = nil
}

// ticket is answered when everything that was put so far is durable.
func (r *Replica) ticket() Ticket {
	r.lastTicket++
	r.disk.waiting.tickets = append(r.disk.waiting.tickets, r.lastTicket)
	return r.lastTicket
}
