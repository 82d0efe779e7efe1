package relay

import (
	"context"
	"errors"
	"slices"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
	"hushcup/sync/wire"
)

// subscription is a book that a phone reads.
type subscription struct {
	book  oplog.BookID
	ask   wire.Subscribe
	state subState
	pos   uint64 // the phone has this, or it is on its way
	told  bool   // at least one Entries frame told the phone where the server's order stands
	sent  []sent // delivered and not yet received, in order
}

type subState uint8

const (
	asked  subState = iota // the store did not answer yet
	behind                 // the server's order ends before the phone's cursor
	active                 // entries are delivered
)

type sent struct {
	upTo  uint64
	bytes int
}

func (s *Session) find(id oplog.BookID) *subscription {
	for _, sub := range s.subs {
		if sub.book == id {
			return sub
		}
	}
	return nil
}

func (s *Session) unsettled() []*subscription {
	var list []*subscription
	for _, sub := range s.subs {
		if sub.state == asked {
			list = append(list, sub)
		}
	}
	return list
}

// drop ends a subscription without a word.
func (s *Session) drop(id oplog.BookID) {
	for i, sub := range s.subs {
		if sub.book != id {
			continue
		}
		for _, c := range sub.sent {
			s.inFlight -= c.bytes
		}
		s.subs = slices.Delete(s.subs, i, i+1)
		s.unwatch(id)
		return
	}
}

// closeBook ends a subscription and says why.
func (s *Session) closeBook(out *Out, id oplog.BookID, code, text string) {
	s.drop(id)
	s.relay.note("closed", code, 1)
	out.say(&wire.Closed{Book: id, Code: code, Text: text})
}

func (s *Session) subscribe(ctx context.Context, now int64, out *Out, ask *wire.Subscribe) {
	s.drop(ask.Book)
	if len(s.subs) >= s.relay.limits.Books {
		s.closeBook(out, ask.Book, "too-many-books", "one connection reads no more books than this")
		return
	}
	if ask.Invite != nil && !seal.Verify(*ask.Invite, wire.ProofMessage(s.challenge, s.host, &ask.Book), ask.InviteSig) {
		s.closeBook(out, ask.Book, "bad-proof", "the challenge is not signed by the invitation")
		s.blame(out)
		return
	}
	sub := &subscription{book: ask.Book, ask: *ask, pos: ask.Pos}
	s.watch(sub.book)
	s.subs = append(s.subs, sub)
	s.settle(ctx, now, out, sub)
}

// settle compares the phone's cursor with the server's order: the phone reads on, or offers what the server lacks, or the two
// have different histories.
func (s *Session) settle(ctx context.Context, now int64, out *Out, sub *subscription) {
	b := s.relay.books.use(sub.book)
	defer s.relay.books.done(b)
	b.mu.Lock()
	defer b.mu.Unlock()
	head, err := s.relay.refresh(ctx, b)
	if err != nil {
		s.unsettle(out, sub, err)
		return
	}
	if head.Order.Pos < sub.pos {
		sub.state = behind
		out.say(&wire.Behind{Book: sub.book, Pos: head.Order.Pos, Chain: head.Order.Chain})
		return
	}
	if !head.Exists {
		s.closeBook(out, sub.book, "no-such-book", "this server has no such book")
		return
	}
	s.admitReader(ctx, now, out, sub, b)
}

func (s *Session) admitReader(ctx context.Context, now int64, out *Out, sub *subscription, b *book) {
	if until, why := s.mayRead(now, b, sub); why != nil && until <= sub.pos {
		s.closeBook(out, sub.book, why.Code, why.Text)
		s.blame(out)
		return
	}
	var failed error
	chain, ok := b.chainAt(storeSource{ctx, s.relay.store, b.id}, &failed)(sub.ask.Pos)
	if failed != nil {
		s.unsettle(out, sub, failed)
		return
	}
	if !ok || chain != sub.ask.Chain {
		s.closeBook(out, sub.book, "chain-differs", "the server's history of this book is another than the phone's")
		return
	}
	sub.state, sub.told = active, false
}

// unsettle keeps a subscription for when the store answers again.
func (s *Session) unsettle(out *Out, sub *subscription, err error) {
	if errors.Is(err, errTooNew) {
		s.closeBook(out, sub.book, "server-too-old", "a newer version wrote to this book than this server knows")
		return
	}
	s.relay.storeFault(err)
	sub.state = asked
	out.again(storeRetry)
	out.say(&wire.Slow{Book: sub.book, After: storeRetry, Code: "store-down"})
}

// everything is no bound to what a reader may have.
const everything = ^uint64(0)

// mayRead says up to which position the reader may have the book, and why not further. Members' devices read, and whoever
// shows an open invitation. A device that was taken out has what was ordered until then, so that it can see for itself.
func (s *Session) mayRead(now int64, b *book, sub *subscription) (until uint64, why *club.Void) {
	if _, ok := b.rules.MemberOf(s.device); ok {
		return everything, nil
	}
	if sub.ask.Invite != nil {
		if why = openInvite(b.rules, *sub.ask.Invite, max(now, b.order().At)); why == nil {
			return everything, nil
		}
	} else {
		why = &club.Void{Code: "not-a-member", Text: "this device does not belong to the book"}
	}
	return takenOut(b.rules, s.device), why
}

func openInvite(rules *club.State, key oplog.DeviceID, at int64) *club.Void {
	err := rules.InviteOpen(key, at)
	if err == nil {
		return nil
	}
	var void *club.Void
	if errors.As(err, &void) {
		return void
	}
	return &club.Void{Code: "no-such-invite", Text: err.Error()}
}

// takenOut is the position at which a device left the book, zero if it never was in it.
func takenOut(rules *club.State, device oplog.DeviceID) uint64 {
	for _, m := range rules.Members() {
		for i := range m.Devices {
			if d := &m.Devices[i]; d.Sign == device {
				return max(d.RemovedPos, m.LeftPos)
			}
		}
	}
	return 0
}
