package replica

import (
	"hushcup/sync/oplog"
	"hushcup/sync/wire"
)

// offerBytes is how much one Offer brings at most; the server answers each one with where it stands then.
const offerBytes = 160 << 10

// offer is a stretch that a server has lost and this phone still has.
type offer struct{ from, upTo uint64 }

// onBehind offers what the server has lost, if its history is the same as this phone's as far as it goes.
func (r *Replica) onBehind(b *book, f *wire.Behind) {
	if b.halted || f.Pos >= b.log.order.Pos {
		return
	}
	if own, _ := b.log.chain.at(f.Pos); own != f.Chain {
		r.halt(b, contradiction("chain-differs", "the server's history of this book is another than this phone's"))
		return
	}
	if f.Pos > 0 && b.log.chain.first(f.Pos+1) != f.Pos+1 {
		r.halt(b, contradiction("run-cut", "the server's order ends within a run"))
		return
	}
	b.answered, b.head, b.restored = false, f.Pos, true
	b.offer = &offer{from: f.Pos + 1}
	r.readOffer(b)
	r.expectAnswer(b.record.Host)
	r.changed(b.id, ChangedSync)
}

// readOffer asks storage for the runs and bodies of about one frame.
func (r *Replica) readOffer(b *book) {
	var keys []string
	o := b.offer
	o.upTo = min(o.from+2*oplog.MaxRunOps-1, b.log.order.Pos)
	for pos := o.from; pos <= o.upTo; pos++ {
		if b.log.chain.first(pos) == pos && !b.log.hot(pos) {
			keys = append(keys, coldRunKey(b.id, pos))
		}
		keys = append(keys, coldBodyKey(b.id, pos))
	}
	r.reads.offers[r.read(keys)] = b
}

func (l *ledger) hot(first uint64) bool { return len(l.tail) > 0 && l.tail[0].first <= first }

func (l *ledger) tailAt(first uint64) []byte {
	for _, run := range l.tail {
		if run.first == first {
			return run.value
		}
	}
	return nil
}

// offerRead sends what was read. Bodies that are no longer here were superseded or erased.
func (r *Replica) offerRead(b *book, found map[string][]byte) {
	o := b.offer
	if o == nil || !b.asked || b.halted || r.books[b.id] != b {
		return
	}
	lookup := func(key string) []byte {
		if value := r.disk.peek(key); value != nil {
			return value
		}
		return found[key]
	}
	frame := &wire.Offer{Book: b.id}
	size := 0
	for pos := o.from; pos <= o.upTo; pos++ {
		if b.log.chain.first(pos) != pos {
			continue
		}
		value := b.log.tailAt(pos)
		if value == nil {
			value = lookup(coldRunKey(b.id, pos))
		}
		placed, err := decodeRecord[oplog.Placed](value)
		if err != nil || placed.First != pos {
			break
		}
		last := pos + uint64(len(placed.Run.Ops)) - 1
		weight, whole := fill(&placed, b.id, lookup, last <= o.upTo)
		if !whole || size > 0 && size+weight > offerBytes {
			break
		}
		frame.Runs, size = append(frame.Runs, placed), size+weight
	}
	if len(frame.Runs) > 0 {
		r.say(b.record.Host, frame)
	}
}

// fill puts sealed bodies back into a run.
func fill(placed *oplog.Placed, book oplog.BookID, lookup func(string) []byte, whole bool) (size int, ok bool) {
	if !whole {
		return 0, false
	}
	for i := range placed.Run.Ops {
		p := &placed.Run.Ops[i]
		if p.Body != nil && len(*p.Body) == 0 {
			p.Body = nil
			if body, err := decodeRecord[coldBody](lookup(coldBodyKey(book, placed.First+uint64(i)))); err == nil {
				p.Body = &body.Body
			}
		}
		size += len(p.Raw) + 16
		if p.Body != nil {
			size += len(*p.Body)
		}
	}
	return size, true
}
