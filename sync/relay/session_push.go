package relay

import (
	"context"
	"errors"
	"slices"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/wire"
)

// push verifies a run before any book is locked. What fails here is answered at once and asks nothing of the store.
func (s *Session) push(out *Out, pushes []*push, f *wire.Push) []*push {
	run, err := f.Run.Unpack()
	if err != nil {
		s.refuseUnread(out, f, err)
		return pushes
	}
	p := &push{run: run, book: run.Ops[0].BookOf(), peer: s.peer}
	if run.Ops[0].Device != s.device {
		out.say(p.refuse(&club.Refusal{Code: "wrong-device", Text: "a device pushes its own runs only"}))
		s.refused(out, "wrong-device")
		return pushes
	}
	return append(pushes, p)
}

// refuseUnread answers a run that does not parse or verify, as far as it says what it is.
func (s *Session) refuseUnread(out *Out, f *wire.Push, err error) {
	refuse := &wire.Refuse{Device: s.device, Code: "malformed", Text: err.Error()}
	var fault *oplog.Error
	if errors.As(err, &fault) {
		refuse.Code, refuse.Text = fault.Code, fault.Text
		if len(f.Run.Ops) > 0 {
			if op, err := oplog.Parse(f.Run.Ops[0].Raw, nil); err == nil {
				refuse.Book, refuse.First, refuse.Seq = op.BookOf(), op.Seq, op.Seq+uint64(fault.Op)
			}
		}
	}
	out.say(refuse)
	s.refused(out, refuse.Code)
}

func (s *Session) refused(out *Out, code string) {
	s.relay.note("refused", code, 1)
	s.blame(out)
}

// commit hands verified runs to their books, one transaction a book, and answers them in the order in which they came.
func (s *Session) commit(ctx context.Context, now int64, out *Out, pushes []*push) []*push {
	for start := 0; start < len(pushes); {
		id := pushes[start].book
		end := start
		for end < len(pushes) && pushes[end].book == id {
			end++
		}
		s.relay.commit(ctx, now, id, pushes[start:end])
		start = end
	}
	for _, p := range pushes {
		s.answer(out, p)
	}
	return nil
}

func (s *Session) answer(out *Out, p *push) {
	if s.stage == over {
		return
	}
	out.say(p.answer)
	if (p.stored || p.marked) && !slices.Contains(out.Moved, p.book) {
		out.Moved = append(out.Moved, p.book)
	}
	switch a := p.answer.(type) {
	case *wire.Ack:
		s.relay.note("acked", "", len(p.run.Ops))
	case *wire.Refuse:
		s.refused(out, a.Code)
	case *wire.Slow:
		s.relay.note("slowed", a.Code, 1)
	}
}
