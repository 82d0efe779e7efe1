package memstore

import (
	"fmt"

	"hushcup/sync/oplog"
	"hushcup/sync/relay"
)

// tx works on the book in place; undo holds what takes each step back.
type tx struct {
	book *book
	undo []func()
}

func (t *tx) rollback() {
	for i := len(t.undo) - 1; i >= 0; i-- {
		t.undo[i]()
	}
}

func (t *tx) Head() relay.Head { return t.book.head() }

func (t *tx) Runs(after uint64, limit relay.Limit) ([]oplog.Placed, error) {
	return t.book.runs(after, limit), nil
}

func (t *tx) Chain(pos uint64) (oplog.Hash, bool, error) {
	chain, ok := t.book.chain(pos)
	return chain, ok, nil
}

func (t *tx) Place(device oplog.DeviceID, seq uint64) (relay.Place, bool, error) {
	pos, ok := t.book.places[place{device, seq}]
	if !ok {
		return relay.Place{}, false, nil
	}
	r := &t.book.rows[pos-1]
	return relay.Place{Pos: pos, At: r.order.At, Hash: r.hash}, true, nil
}

func (t *tx) Append(run *oplog.Run, entries []oplog.Entry) error {
	b, before := t.book, len(t.book.rows)
	if len(run.Ops) != len(entries) {
		return fmt.Errorf("append: %d ops at %d places", len(run.Ops), len(entries))
	}
	t.undo = append(t.undo, func() {
		for _, r := range b.rows[before:] {
			delete(b.places, place{r.device, r.seq})
		}
		b.rows = b.rows[:before]
	})
	for i := range entries {
		r := rowOf(&entries[i])
		if i == len(entries)-1 {
			r.sig = run.Sig[:]
		}
		if r.order.Pos != uint64(len(b.rows))+1 {
			return fmt.Errorf("append: position %d after %d", r.order.Pos, len(b.rows))
		}
		at := place{r.device, r.seq}
		if _, taken := b.places[at]; taken {
			return fmt.Errorf("append: the device's seq %d is taken", r.seq)
		}
		b.rows = append(b.rows, r)
		b.places[at] = r.order.Pos
	}
	return nil
}

func rowOf(e *oplog.Entry) row {
	r := row{device: e.Op.Device, seq: e.Op.Seq, hash: e.Op.Hash(), kind: e.Op.Kind, raw: e.Op.Raw, order: e.Order}
	if e.Op.Body != nil {
		r.body = &e.Op.Body
	}
	return r
}

func (t *tx) SetEnrolled(in, out []oplog.DeviceID) error {
	for _, device := range in {
		t.enrol(device, true)
	}
	for _, device := range out {
		t.enrol(device, false)
	}
	return nil
}

func (t *tx) enrol(device oplog.DeviceID, in bool) {
	b, was := t.book, t.book.enrolled[device]
	t.undo = append(t.undo, func() { b.set(device, was) })
	b.set(device, in)
}

func (b *book) set(device oplog.DeviceID, in bool) {
	if in {
		b.enrolled[device] = true
	} else {
		delete(b.enrolled, device)
	}
}

func (t *tx) SetRestored(restored bool) error {
	b, was := t.book, t.book.restored
	t.undo = append(t.undo, func() { b.restored = was })
	b.restored = restored
	return nil
}

func (t *tx) Drop(positions []uint64) error {
	for _, pos := range positions {
		if pos == 0 || pos > uint64(len(t.book.rows)) {
			return fmt.Errorf("drop: no position %d", pos)
		}
		b, body := t.book, t.book.rows[pos-1].body
		t.undo = append(t.undo, func() { b.rows[pos-1].body = body })
		b.rows[pos-1].body = nil
	}
	return nil
}
