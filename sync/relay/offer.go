package relay

import (
	"context"
	"errors"
	"slices"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/wire"
)

// offer takes back what the store has lost, at the positions and times that it had. Nothing is believed: every run is signed
// by its author, judged by the rules, and has to chain to what the phone's cursor names. The book is marked as restored, and
// orders nothing new until an organiser says resume.
func (s *Session) offer(ctx context.Context, now int64, out *Out, f *wire.Offer) {
	sub := s.find(f.Book)
	if sub == nil || sub.state != behind {
		return // another phone was faster
	}
	runs, refusal := unpackOffer(f)
	if refusal == nil {
		refusal = s.restore(ctx, now, out, sub, runs)
	}
	if refusal != nil {
		s.closeBook(out, f.Book, "offer-refused", refusal.Error())
		s.blame(out)
		return
	}
	if sub := s.find(f.Book); sub != nil && sub.state == behind {
		s.settle(ctx, now, out, sub)
	}
}

// offered is a run that was verified, with the place that it had.
type offered struct {
	first uint64
	at    int64
	run   oplog.Run
}

func unpackOffer(f *wire.Offer) ([]offered, *club.Refusal) {
	runs := make([]offered, len(f.Runs))
	for i := range f.Runs {
		run, err := f.Runs[i].Run.Unpack()
		if err != nil {
			return nil, refusalOf(err)
		}
		if run.Ops[0].BookOf() != f.Book {
			return nil, &club.Refusal{Code: "wrong-book", Text: "the run is of another book"}
		}
		for j := range run.Ops {
			if op := &run.Ops[j]; op.Body == nil && op.Kind.Control() {
				return nil, &club.Refusal{Code: "body-missing", Text: "a control body is never dropped", Op: j}
			}
		}
		runs[i] = offered{f.Runs[i].First, f.Runs[i].At, run}
	}
	return runs, nil
}

func refusalOf(err error) *club.Refusal {
	var fault *oplog.Error
	if errors.As(err, &fault) {
		return &club.Refusal{Code: fault.Code, Text: fault.Text, Op: fault.Op}
	}
	return &club.Refusal{Code: "malformed", Text: err.Error()}
}

// restore stores the runs that follow the head, in one transaction.
func (s *Session) restore(ctx context.Context, now int64, out *Out, sub *subscription, runs []offered) *club.Refusal {
	r := s.relay
	b := r.books.use(sub.book)
	defer r.books.done(b)
	b.mu.Lock()
	defer b.mu.Unlock()
	taken := 0
	err := r.store.Write(ctx, b.id, true, func(tx Tx) error {
		if taken > 0 { // what the last try folded was not stored
			b.forget()
		}
		taken = 0
		if err := r.catchUp(b, tx.Head(), tx); err != nil {
			return err
		}
		if r.live(b) {
			return &club.Refusal{Code: "not-behind", Text: "this server has ordered on from there, and has lost nothing since"}
		}
		for i := range runs {
			stored, err := s.restoreRun(now, b, tx, &runs[i])
			if err != nil {
				return err
			}
			if stored {
				taken += len(runs[i].run.Ops)
			}
		}
		if taken == 0 {
			return errNothing
		}
		b.restored = true
		return tx.SetRestored(true)
	})
	var refusal *club.Refusal
	switch {
	case err == nil:
		b.lost, b.known = false, b.order().Pos
		r.note("restored", "", taken)
		if !slices.Contains(out.Moved, b.id) {
			out.Moved = append(out.Moved, b.id)
		}
		return nil
	case errors.Is(err, errNothing):
		return nil
	}
	b.forget()
	if errors.As(err, &refusal) {
		return refusal
	}
	s.unsettle(out, sub, err)
	return nil
}

// restoreRun stores one run if it is the next.
func (s *Session) restoreRun(now int64, b *book, tx Tx, o *offered) (stored bool, err error) {
	order := b.order()
	if o.first <= order.Pos {
		return false, nil
	}
	switch {
	case o.first != order.Pos+1:
		return false, &club.Refusal{Code: "offer-gap", Text: "the run does not follow the server's last position"}
	case o.at < order.At || o.at > now+oplog.MaxAhead:
		return false, &club.Refusal{Code: "offer-time", Text: "the run's time does not lie between the last one's and now"}
	}
	if order.Pos == 0 && !s.peer.Trusted {
		if wait := take(s.relay.counter, now, s.relay.limits.createCosts(s.peer.Address)); wait > 0 {
			return false, &club.Refusal{Code: "book-limit", Text: "no more new books from this address for now"}
		}
	}
	entries, err := s.relay.fold(b, tx, &o.run, o.at)
	if err != nil {
		return false, err
	}
	_, err = s.relay.append(b, tx, &o.run, entries)
	return err == nil, err
}
