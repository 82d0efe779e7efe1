package replica

import (
	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
)

// stateAhead is the book's state as if the own pending control ops were ordered now. Commands are judged by it with the same
// rules that the server will use, so that what cannot succeed is refused while the person is looking.
func (r *Replica) stateAhead(b *book) *club.State {
	if b.ahead != nil {
		return b.ahead
	}
	if b.out.ruling == 0 && !b.out.run.rules() {
		return b.log.state
	}
	b.ahead = r.cloneAhead(b)
	return b.ahead
}

func (f *frozen) rules() bool {
	if f == nil {
		return false
	}
	for _, it := range f.items {
		if it.Kind.Control() {
			return true
		}
	}
	return false
}

func (r *Replica) cloneAhead(b *book) *club.State {
	state := b.log.state.Clone()
	b.out.pending(func(it *item, isFrozen bool) {
		if it.Kind == oplog.Create {
			_, _ = state.Admit(&oplog.Run{Ops: b.out.run.run.Ops[:1]}, r.serverTime(b), nil)
		} else if it.Kind.Control() {
			_ = r.admitAhead(b, state, b.out, it)
		}
	})
	return state
}

// admitAhead folds an op that is not frozen yet, at the place that it would have.
func (r *Replica) admitAhead(b *book, state *club.State, o *outbox, it *item) error {
	head, order, at := state.Head(o.author), state.Order(), r.serverTime(b)
	h := oplog.Header{
		Book: b.id, Device: o.author, Seq: head.Seq + 1, Prev: head.Hash, SeenPos: order.Pos, SeenHash: order.Chain,
		Time: oplog.TimeAt(at), Kind: it.Kind, Doc: it.Doc, Part: it.Part, Keys: it.Keys, Wrap: placeholder(it),
	}
	op := oplog.New(h, it.Body)
	_, err := state.Admit(&oplog.Run{Ops: []oplog.Op{op}}, at, nil)
	return err
}

// placeholder stands for the wrap that a sealed sample will have: the rules see only that there is one.
func placeholder(it *item) *oplog.Wrap {
	if it.Kind != oplog.Sample {
		return nil
	}
	var body club.SampleBody
	if codec.Unmarshal(it.Body, &body) != nil {
		return nil
	}
	return &oplog.Wrap{Sample: body.ID, Epoch: it.Epoch, Enc: body.Key, Box: make([]byte, 48)}
}

// propose puts a control op on its way, if the rules would take it now.
func (r *Replica) propose(b *book, it item) error {
	if b.ahead == nil {
		b.ahead = r.cloneAhead(b)
	}
	if err := r.admitAhead(b, b.ahead, b.out, &it); err != nil {
		return fromRules(err)
	}
	r.enqueue(b, b.out, &it)
	return nil
}

func fromRules(err error) error {
	if refusal, ok := err.(*club.Refusal); ok {
		return &Error{Code: refusal.Code, Text: refusal.Text, Hint: refusal.Hint}
	}
	return err
}

// serverTime is what the book's server says the time is, as far as this phone knows.
func (r *Replica) serverTime(b *book) int64 {
	return max(r.now+r.offset(b.record.Host), b.log.order.At)
}
