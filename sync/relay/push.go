package relay

import (
	"context"
	"errors"
	"fmt"
	"sync"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/wire"
)

// push is one run on its way into a book. Its signature is verified.
type push struct {
	run     oplog.Run
	book    oplog.BookID
	peer    Peer
	done    bool
	answer  wire.Frame // Ack, Refuse or Slow
	stored  bool       // the answer is an Ack of something new
	marked  bool       // its transaction marked the book as restored, which its readers have to hear of
	costs   []cost
	dropped int
}

// line is where runs of one book wait. Whoever holds the book takes everybody's along: one transaction for all that came
// while the one before was committed.
type line struct {
	mu      sync.Mutex
	waiting []*push
}

func (l *line) add(pushes []*push) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.waiting = append(l.waiting, pushes...)
}

// take gives the next batch, never nothing while somebody waits.
func (l *line) take(limits *Limits) []*push {
	l.mu.Lock()
	defer l.mu.Unlock()
	n, bytes := 0, 0
	for n < len(l.waiting) && n < limits.BatchRuns {
		size := l.waiting[n].run.Size()
		if n > 0 && bytes+size > limits.BatchBytes {
			break
		}
		n, bytes = n+1, bytes+size
	}
	batch := l.waiting[:n:n]
	if l.waiting = l.waiting[n:]; len(l.waiting) == 0 {
		l.waiting = nil // else the array keeps the runs alive
	}
	return batch
}

// commit sees that every push gets its answer: in this transaction or in that of another session.
func (r *Relay) commit(ctx context.Context, now int64, id oplog.BookID, pushes []*push) {
	b := r.books.use(id)
	defer r.books.done(b)
	b.line.add(pushes)
	b.mu.Lock()
	defer b.mu.Unlock()
	for !pushes[len(pushes)-1].done {
		r.write(ctx, now, b, b.line.take(&r.limits))
	}
}

// errNothing rolls back a transaction in which nothing was stored.
var errNothing = errors.New("nothing to store")

// write judges and stores a batch in one transaction.
func (r *Relay) write(ctx context.Context, now int64, b *book, batch []*push) {
	tries := 0
	err := r.store.Write(ctx, b.id, creates(batch), func(tx Tx) error {
		if tries++; tries > 1 { // what the last try folded was not stored
			b.forget()
			r.takeBack(batch)
		}
		return r.judgeAll(ctx, now, b, tx, batch)
	})
	switch {
	case err == nil:
		r.stored(b, batch)
	case errors.Is(err, errNothing):
	default:
		b.forget()
		r.takeBack(batch)
		r.failed(b, batch, err)
	}
	for _, p := range batch {
		p.done = true
	}
}

func creates(batch []*push) bool {
	for _, p := range batch {
		if p.run.Ops[0].Kind == oplog.Create {
			return true
		}
	}
	return false
}

func (r *Relay) takeBack(batch []*push) {
	for _, p := range batch {
		giveBack(r.counter, p.costs)
		p.costs, p.stored, p.answer, p.dropped = nil, false, nil, 0
	}
}

func (r *Relay) judgeAll(ctx context.Context, now int64, b *book, tx Tx, batch []*push) error {
	if err := r.catchUp(b, tx.Head(), tx); err != nil {
		return err
	}
	found, err := b.markLost(tx)
	if err != nil {
		return err
	}
	for _, p := range batch {
		if err := r.judge(now, b, tx, p); err != nil {
			return err
		}
		found = found || p.stored
	}
	if !found {
		return errNothing
	}
	return nil
}

// markLost keeps a book from ordering anything new when its store came back without the newest entries: phones still have them.
// A book of which nothing is left begins anew with its create, or is offered as a whole: nobody could say resume in it.
func (b *book) markLost(tx Tx) (marked bool, err error) {
	if !b.lost || tx.Head().Order.Pos == 0 {
		return false, nil
	}
	b.restored = true
	return true, tx.SetRestored(true)
}

// stored runs after the commit.
func (r *Relay) stored(b *book, batch []*push) {
	batch[0].marked = b.lost
	b.lost, b.known = false, b.order().Pos
	ops, dropped := 0, 0
	for _, p := range batch {
		dropped += p.dropped
		if p.stored {
			b.ordered = r.doubts.Load() + 1
			ops += len(p.run.Ops)
		}
	}
	if dropped > 0 {
		b.feed.clear()
	}
	r.note("pushed", "", ops)
	r.note("dropped", "", dropped)
	r.feedStored(b, batch)
}

// feedStored lets subscribers who had everything before be served without a read.
func (r *Relay) feedStored(b *book, batch []*push) {
	var runs []oplog.Placed
	bytes := 0
	for _, p := range batch {
		ack, ok := p.answer.(*wire.Ack)
		if !ok || !p.stored {
			continue
		}
		if p.dropped > 0 {
			return
		}
		bytes += p.run.Size()
		runs = append(runs, oplog.Placed{First: ack.First, At: ack.At, Run: p.run.Pack()})
	}
	if len(runs) == 0 || len(runs) > chunkRuns || len(runs) > 1 && bytes > chunkBytes {
		return
	}
	b.keep(newChunk(b.id, runs[0].First-1, runs, b.order().Pos))
}

// failed answers everybody of a batch whose transaction failed.
func (r *Relay) failed(b *book, batch []*push, err error) {
	slow := &wire.Slow{Book: b.id, After: 2000, Code: "store-down"}
	switch {
	case errors.Is(err, ErrNoBook):
		for _, p := range batch {
			p.answer = noBook(p)
		}
		return
	case errors.Is(err, errTooNew):
		slow.After, slow.Code = 60_000, "server-too-old"
	default:
		r.storeFault(err)
		if !errors.Is(err, ErrDown) {
			slow.After, slow.Code = 30_000, "server-fault"
		}
	}
	for _, p := range batch {
		p.answer = slow
	}
}

// noBook answers a run for a book that the server does not have. An author who has seen some of it shows that the server has
// lost it: then the phone subscribes, is told Behind, and offers what it has.
func noBook(p *push) wire.Frame {
	if p.run.Ops[0].SeenPos > 0 {
		return &wire.Slow{Book: p.book, After: 2000, Code: "server-behind"}
	}
	return p.refuse(&club.Refusal{Code: "no-such-book", Text: "this server has no such book"})
}

func (p *push) refuse(why *club.Refusal) *wire.Refuse {
	first := &p.run.Ops[0]
	return &wire.Refuse{Book: p.book, Device: first.Device, First: first.Seq, Seq: first.Seq + uint64(why.Op), Code: why.Code,
		Text: why.Text}
}

func (p *push) ack(first uint64, at int64) *wire.Ack {
	last := &p.run.Ops[len(p.run.Ops)-1]
	return &wire.Ack{Book: p.book, Device: last.Device, Seq: last.Seq, First: first, At: at}
}

func (p *push) String() string {
	return fmt.Sprintf("run of %d ops from seq %d", len(p.run.Ops), p.run.Ops[0].Seq)
}
