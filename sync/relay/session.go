package relay

import (
	"context"
	"errors"

	"hushcup/sync/oplog"
	"hushcup/sync/wire"
)

// Session is one connection. It is not safe for concurrent use.
type Session struct {
	relay     *Relay
	peer      Peer
	challenge [32]byte
	stage     stage
	device    oplog.DeviceID
	host      string
	subs      []*subscription // in the order in which they were asked for
	turn      int             // whose turn it is to be served first
	inFlight  int             // bytes delivered and not yet received
	faults    int
}

type stage uint8

const (
	greeted  stage = iota // the Hello is out, a Proof is awaited
	proven                // the store did not answer, so Welcome is still owed
	welcomed              // the handshake is done
	over                  // Bye was said
)

// storeRetry is how long a session waits before it asks a store again that did not answer.
const storeRetry = 1000

// Open begins a session. The challenge is 32 random bytes that were never used before.
func (r *Relay) Open(now int64, challenge [32]byte, peer Peer) (*Session, Out) {
	s := &Session{relay: r, peer: peer, challenge: challenge}
	var out Out
	out.say(&wire.Hello{Version: wire.Version, Oldest: wire.Version, Time: now, Challenge: challenge})
	return s, out
}

// Frames takes frames in the order in which they came. The more of them are handed over at once, the more runs share a
// commit.
func (s *Session) Frames(ctx context.Context, now int64, frames [][]byte) Out {
	var out Out
	var pushes []*push
	for _, bytes := range frames {
		if s.stage == over {
			break
		}
		f, err := wire.Decode(bytes)
		if err != nil {
			s.unreadable(&out, err)
			break
		}
		if p, ok := f.(*wire.Push); ok && s.stage == welcomed {
			pushes = s.push(&out, pushes, p)
			continue
		}
		pushes = s.commit(ctx, now, &out, pushes)
		s.frame(ctx, now, &out, f)
	}
	s.commit(ctx, now, &out, pushes)
	s.deliver(ctx, now, &out)
	return out
}

// Wake looks after books that moved, and after what a store that was down still owes.
func (s *Session) Wake(ctx context.Context, now int64, moved []oplog.BookID) Out {
	var out Out
	if s.stage == proven {
		s.welcome(ctx, &out)
	}
	for _, id := range moved {
		if sub := s.find(id); sub != nil && sub.state == behind {
			s.settle(ctx, now, &out, sub)
		}
	}
	for _, sub := range s.unsettled() {
		s.settle(ctx, now, &out, sub)
	}
	s.deliver(ctx, now, &out)
	return out
}

// End says why the server closes the connection.
func (s *Session) End(code, text string) Out {
	var out Out
	s.bye(&out, code, text)
	return out
}

// Watching lists the books that the session asked to be woken for.
func (s *Session) Watching() []oplog.BookID {
	books := make([]oplog.BookID, len(s.subs))
	for i, sub := range s.subs {
		books[i] = sub.book
	}
	return books
}

// Device is the first digits of the device's id, for a log; empty before the handshake.
func (s *Session) Device() string {
	if s.stage == greeted {
		return ""
	}
	return s.device.String()[:8]
}

func (s *Session) frame(ctx context.Context, now int64, out *Out, f wire.Frame) {
	if proof, ok := f.(*wire.Proof); ok {
		s.proof(ctx, out, proof)
		return
	}
	if _, ok := f.(*wire.Bye); ok {
		s.end(out)
		return
	}
	if s.stage != welcomed {
		s.bye(out, "no-proof", "the handshake comes first")
		return
	}
	switch f := f.(type) {
	case *wire.BooksAsk:
		s.welcome(ctx, out)
	case *wire.Subscribe:
		s.subscribe(ctx, now, out, f)
	case *wire.Unsubscribe:
		s.drop(f.Book)
	case *wire.Received:
		s.received(f)
	case *wire.Offer:
		s.offer(ctx, now, out, f)
	default:
		s.bye(out, "unexpected-frame", "only a server says this")
	}
}

func (s *Session) unreadable(out *Out, err error) {
	code := "malformed-frame"
	var fault *wire.Error
	if errors.As(err, &fault) {
		code = fault.Code
	}
	s.bye(out, code, err.Error())
}

func (s *Session) bye(out *Out, code, text string) {
	if s.stage == over {
		return
	}
	s.relay.note("bye", code, 1)
	out.say(&wire.Bye{Code: code, Text: text})
	s.end(out)
}

func (s *Session) end(out *Out) {
	s.stage = over
	for _, sub := range s.subs {
		s.unwatch(sub.book)
	}
	s.subs = nil
	out.Close = true
}

// blame counts what no honest phone does often.
func (s *Session) blame(out *Out) {
	if s.faults++; s.faults >= s.relay.limits.Faults {
		s.bye(out, "too-many-faults", "too much of what was sent had to be refused")
	}
}

func (s *Session) watch(id oplog.BookID) {
	if s.peer.Watcher != nil {
		s.peer.Watcher.Watch(id)
	}
}

func (s *Session) unwatch(id oplog.BookID) {
	if s.peer.Watcher != nil {
		s.peer.Watcher.Unwatch(id)
	}
}
