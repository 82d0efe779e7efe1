package relay

import (
	"context"

	"hushcup/sync/club"
	"hushcup/sync/wire"
)

// deliver sends what subscribers lack, as far as their window allows. Books take turns. A reader whose window is full is
// paused: nothing of what it lacks is held in memory, and when it has received something the rest is read from the store.
func (s *Session) deliver(ctx context.Context, now int64, out *Out) {
	for s.stage == welcomed && s.inFlight < s.relay.limits.Window {
		if !s.deliverTurn(ctx, now, out) {
			return
		}
	}
}

// deliverTurn sends one chunk to the next book that lacks something; false when none does.
func (s *Session) deliverTurn(ctx context.Context, now int64, out *Out) bool {
	for range len(s.subs) {
		if len(s.subs) == 0 {
			return false
		}
		s.turn = (s.turn + 1) % len(s.subs)
		sub := s.subs[s.turn]
		if sub.state == active && s.deliverNext(ctx, now, out, sub) {
			return true
		}
	}
	return false
}

func (s *Session) deliverNext(ctx context.Context, now int64, out *Out, sub *subscription) bool {
	b := s.relay.books.use(sub.book)
	defer s.relay.books.done(b)
	b.mu.Lock()
	defer b.mu.Unlock()
	if err := s.relay.fresh(ctx, b); err != nil {
		out.again(storeRetry)
		s.relay.storeFault(err)
		return false
	}
	if b.order().Pos < sub.pos { // the store came back without its tail while the phone was reading
		s.rewind(out, sub, b)
		return false
	}
	until, why := s.mayRead(now, b, sub)
	until = min(until, b.order().Pos)
	if sub.pos >= until {
		s.nothingMore(out, sub, until, why)
		return false
	}
	c, err := s.relay.next(ctx, b, sub.pos, until)
	if err != nil {
		out.again(storeRetry)
		s.relay.storeFault(err)
		return false
	}
	s.send(out, sub, c)
	return true
}

// nothingMore tells a new reader that there is nothing to read, or one who may not read on why.
func (s *Session) nothingMore(out *Out, sub *subscription, head uint64, why *club.Void) {
	if why != nil {
		s.closeBook(out, sub.book, why.Code, why.Text)
		return
	}
	if !sub.told {
		sub.told = true
		out.say(&wire.Entries{Book: sub.book, Head: head})
	}
}

func (s *Session) send(out *Out, sub *subscription, c chunk) {
	size := len(c.message.Bytes)
	out.Send = append(out.Send, c.message)
	s.relay.note("delivered", "", int(c.upTo-sub.pos))
	sub.pos, sub.told = c.upTo, true
	sub.sent = append(sub.sent, sent{c.upTo, size})
	s.inFlight += size
}

// rewind tells a phone that was reading what it would have been told when it subscribed.
func (s *Session) rewind(out *Out, sub *subscription, b *book) {
	sub.state = behind
	order := b.order()
	out.say(&wire.Behind{Book: sub.book, Pos: order.Pos, Chain: order.Chain})
}

// next gives the entries after a position up to another, of those that are folded: what is not folded yet is not judged yet
// either.
func (r *Relay) next(ctx context.Context, b *book, after, upTo uint64) (chunk, error) {
	if c, ok := b.feed.find(after, upTo); ok {
		return c, nil
	}
	runs, err := r.store.Read(ctx, b.id, after, Limit{Bytes: chunkBytes, Runs: chunkRuns})
	if err != nil {
		return chunk{}, err
	}
	for len(runs) > 0 && runs[len(runs)-1].First > upTo {
		runs = runs[:len(runs)-1]
	}
	if len(runs) == 0 { // gone since it was folded: the next refresh will find out
		b.forget()
		return chunk{}, ErrDown
	}
	c := newChunk(b.id, after, runs, upTo)
	b.keep(c)
	return c, nil
}

// received opens the window.
func (s *Session) received(f *wire.Received) {
	sub := s.find(f.Book)
	if sub == nil {
		return
	}
	n := 0
	for n < len(sub.sent) && sub.sent[n].upTo <= f.Pos {
		s.inFlight -= sub.sent[n].bytes
		n++
	}
	sub.sent = sub.sent[n:]
	if len(sub.sent) == 0 {
		sub.sent = nil
	}
}
