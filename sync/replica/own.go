package replica

import (
	"slices"

	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// restoreOwn brings back what only this phone has, from what the disk holds: at the start, and after a failed write.
func (r *Replica) restoreOwn() {
	own := r.disk.own
	r.jobs, r.refused, r.hurry, r.own = nil, nil, nil, ownParts{}
	r.me, r.device, r.phone = nil, oplog.DeviceID{}, phoneRecord{}
	if value, ok := own[keyPhone]; ok {
		r.restorePhone(value)
	}
	before := r.books
	r.books, r.order = map[oplog.BookID]*book{}, nil
	for _, key := range sortedKeys(own) {
		parts := keyParts(key)
		if len(parts) == 3 && parts[1] == "book" {
			r.restoreBook(before, parts[2], own[key])
		}
		if len(parts) == 3 && parts[1] == "job" {
			r.restoreJob(parts[2], own[key])
		}
	}
	for _, key := range sortedKeys(own) {
		r.restoreOp(keyParts(key), own[key])
	}
	for _, b := range r.order {
		r.tidy(b)
	}
}

func (r *Replica) restorePhone(value []byte) {
	record, err := decodeRecord[phoneRecord](value)
	if err != nil {
		r.fault = refuse("storage-damaged", "the stored identity does not decode: %v", err)
		return
	}
	r.phone = record
	r.become(seal.Identity{SignSeed: record.Sign, BoxSeed: record.Box}, record.Device)
}

// become makes this installation a device, whose key is derived once.
func (r *Replica) become(identity seal.Identity, device oplog.DeviceID) {
	r.me, r.device, r.sign = &identity, device, identity.Signer()
}

// restoreBook keeps the folded part of a book that was there before.
func (r *Replica) restoreBook(before map[oplog.BookID]*book, name string, value []byte) {
	id, ok := parseID[oplog.BookID](name)
	record, err := decodeRecord[bookRecord](value)
	if !ok || err != nil {
		return
	}
	b := r.newBook(id, record, r.device)
	if old := before[id]; old != nil {
		b.log, b.removed, b.halted, b.code, b.text = old.log, old.removed, old.halted, old.code, old.text
		b.writing, b.written, b.head = old.writing, old.written, old.head
	}
	r.addBook(b)
}

func (r *Replica) restoreOp(parts []string, value []byte) {
	if len(parts) == 3 && parts[1] == "refused" {
		if record, err := decodeRecord[refusedRecord](value); err == nil {
			r.refused = append(r.refused, record)
			r.lastItem = max(r.lastItem, record.Item.ID)
		}
		return
	}
	if len(parts) < 4 {
		return
	}
	id, ok := parseID[oplog.BookID](parts[2])
	b := r.books[id]
	if !ok || b == nil {
		return
	}
	switch parts[1] {
	case "out":
		if it, err := decodeRecord[item](value); err == nil && it.formed() {
			if o := r.outboxOf(b, parts[3]); o != nil {
				o.insert(&it)
				r.lastItem = max(r.lastItem, it.ID)
			}
		}
	case "run":
		if o := r.outboxOf(b, parts[3]); o != nil {
			r.restoreRun(b, o, value)
		}
	case "unseal":
		if sample, ok := parseID[oplog.SampleID](parts[3]); ok {
			b.intentions = append(b.intentions, sample)
		}
	}
}

// formed says whether a stored item can be worked with.
func (it *item) formed() bool {
	switch {
	case it.Kind == oplog.Part:
		return len(it.Keys) == 1 || len(it.Keys) == 2 && it.Sample != nil
	case it.Kind == oplog.Sample:
		return len(it.Keys) == 2 && it.Sample != nil
	}
	return it.Kind.Known()
}

// outboxOf finds or makes the outbox of an author that the phone can sign as.
func (r *Replica) outboxOf(b *book, author string) *outbox {
	device, ok := parseID[oplog.DeviceID](author)
	if !ok {
		return nil
	}
	if device == b.out.author {
		return b.out
	}
	if _, ok := r.identity(device); !ok {
		return nil
	}
	if b.guest == nil {
		b.guest = newOutbox(device)
	}
	return b.guest
}

func (r *Replica) restoreRun(b *book, o *outbox, value []byte) {
	record, err := decodeRecord[runRecord](value)
	if err != nil {
		return
	}
	run, err := record.Run.Unpack()
	if err != nil || len(run.Ops) != len(record.Items) || run.Ops[0].Device != o.author || run.Ops[0].BookOf() != b.id {
		return
	}
	f := &frozen{run: run, kept: true}
	for i := range record.Items {
		it := record.Items[i]
		it.Body = run.Ops[i].Body
		if it.Kind != run.Ops[i].Kind || !it.formed() {
			return
		}
		f.items = append(f.items, &it)
		r.lastItem = max(r.lastItem, it.ID)
	}
	o.run = f
}

// tidy forgets what waits although it is ordered already: a write that would have said so was lost.
func (r *Replica) tidy(b *book) {
	for _, o := range []*outbox{b.out, b.guest} {
		if o == nil || o.run == nil {
			continue
		}
		head := b.log.state.Head(o.author)
		last := o.run.last()
		switch {
		case head.Seq < o.run.run.Ops[0].Seq:
		case head.Seq >= last.Seq && b.log.holds(o.run):
			o.run = nil
			r.disk.del(runKey(b.id, o.author))
		default:
			r.thaw(b, o)
		}
	}
	b.intentions = slices.DeleteFunc(b.intentions, func(id oplog.SampleID) bool {
		info, ok := b.log.state.Sample(id)
		return ok && info.UnsealedPos != 0
	})
	if b.removed { // what a failed write brought back will not be ordered either
		r.giveUp(b, "not-a-member", "this device was taken out of the book")
	}
}

// holds says whether a run is the one that stands in the order, as far as this phone can tell: among the last own ones, and
// those after the snapshot. Nothing older can be left in the outbox, since a run leaves it in the transaction that folds it.
func (l *ledger) holds(f *frozen) bool {
	hash := f.last().Hash()
	if l.state.Head(f.last().Device).Hash == hash || slices.Contains(l.mine, hash) {
		return true
	}
	for i := range l.tail {
		placed, err := decodeRecord[oplog.Placed](l.tail[i].value)
		if err != nil || len(placed.Run.Ops) == 0 {
			continue
		}
		op, err := oplog.Parse(placed.Run.Ops[len(placed.Run.Ops)-1].Raw, nil)
		if err == nil && op.Hash() == hash {
			return true
		}
	}
	return false
}
