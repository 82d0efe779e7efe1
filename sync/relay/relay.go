// Package relay is the server's side of a session, as a state machine: frames in, frames out. It does no I/O of its own but
// through Store, reads no clock and draws no randomness, so that sync/sim runs it as it is.
//
// A Relay is what all sessions of one server process share: the store, the books' folded rules, the limits. A Session is one
// connection. Whoever drives it calls
//
//	s, out := relay.Open(now, challenge, peer)  // out.Send holds the Hello
//	out = s.Frames(ctx, now, frames)            // everything that has arrived, in order
//	out = s.Wake(ctx, now, books)               // books that moved, or nil after Out.Again
//
// never two of them at once for the same session, and carries each Out out in the order of its fields.
//
// # What a failure leaves behind
//
// Every acknowledgement is sent after the store's commit returned. When the commit fails, the folded rules of the book are
// thrown away and read again from the store, so they never hold what the store does not; the phone is told Slow `store-down`
// and sends its frozen run again, and if the lost answer was a success, the run is found by (device, seq) and acknowledged
// with the positions that it already has.
package relay

import (
	"context"
	"errors"
	"fmt"

	"hushcup/sync/oplog"
	"hushcup/sync/wire"
)

// Config is what all sessions of a server share. Store is required.
type Config struct {
	Store   Store
	Hosts   Hosts   // the names that phones may dial this server by
	Limits  Limits  // zero fields are DefaultLimits'
	Counter Counter // nil counts in this process
	Books   *Books  // nil keeps DefaultBooks
	Keep    bool    // never drop a body, superseded or not
	Note    func(Note)
}

// Note is something that happened, for metrics and the log. It names no book and no device.
type Note struct {
	What string // pushed, acked, refused, slowed, delivered, dropped, closed, bye, fault, down
	Code string
	N    int
	Err  error // of a fault, or why the store is down
}

// Relay is shared by all sessions of a server.
type Relay struct {
	store   Store
	hosts   Hosts
	limits  Limits
	counter Counter
	books   *Books
	keep    bool
	doubts  doubts
	report  func(Note)
}

// New makes a relay.
func New(c Config) *Relay {
	r := &Relay{hosts: c.Hosts, limits: c.Limits.orDefault(), counter: c.Counter, books: c.Books, keep: c.Keep,
		report: c.Note}
	r.store = doubting{c.Store, &r.doubts}
	if r.counter == nil {
		r.counter = NewTally()
	}
	if r.books == nil {
		r.books = NewBooks(DefaultBooks, DefaultOps)
	}
	return r
}

func (r *Relay) note(what, code string, n int) {
	if r.report != nil && n > 0 {
		r.report(Note{What: what, Code: code, N: n})
	}
}

// storeFault reports what a store said that is no answer.
func (r *Relay) storeFault(err error) {
	what := "fault"
	if errors.Is(err, ErrDown) {
		what = "down"
	}
	if r.report != nil {
		r.report(Note{What: what, N: 1, Err: err})
	}
}

// Peer is who is at the other end, as far as the connection tells.
type Peer struct {
	Address string // what book creation is counted by
	Trusted bool   // showed the host's token: creates books as it likes
	Watcher Watcher
}

// Watcher is told which books a session wants to be woken for. Watch is called before the session reads the book, so that
// nothing is missed between.
type Watcher interface {
	Watch(oplog.BookID)
	Unwatch(oplog.BookID)
}

// Out is what a call of a session asks for, in the order of its fields.
type Out struct {
	Send  []*Message
	Moved []oplog.BookID // wake whoever watches these, here and on other servers; a hint, the store is the truth
	Again int64          // call Wake(nil) after so many milliseconds; 0 for no need
	Close bool           // after everything is sent
}

func (o *Out) say(frames ...wire.Frame) {
	for _, f := range frames {
		o.Send = append(o.Send, &Message{Bytes: wire.Encode(f)})
	}
}

func (o *Out) again(after int64) {
	if o.Again == 0 || after < o.Again {
		o.Again = after
	}
}

// Refresh reads what other servers wrote to a book, before the sessions that watch it are woken.
func (r *Relay) Refresh(ctx context.Context, id oplog.BookID) error {
	b := r.books.use(id)
	defer r.books.done(b)
	b.mu.Lock()
	defer b.mu.Unlock()
	_, err := r.refresh(ctx, b)
	return err
}

// faultFor turns what a store or the rules said into an error that names the book by its first digits only.
func faultFor(id oplog.BookID, err error) error {
	if errors.Is(err, ErrDown) || errors.Is(err, ErrNoBook) {
		return err
	}
	return fmt.Errorf("book %.8s: %w", id, err)
}
