package relay

import (
	"errors"
	"fmt"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/wire"
)

// judge gives a run its answer and stores it if it is good. The book's row is locked and everything stored is folded. An
// error undoes the whole transaction; what is wrong with the run alone is an answer.
func (r *Relay) judge(now int64, b *book, tx Tx, p *push) error {
	first := &p.run.Ops[0]
	if first.Seq <= b.rules.Head(first.Device).Seq {
		return r.resent(tx, p)
	}
	if refusal := b.mayOrder(now, p); refusal != nil {
		p.answer = p.refuse(refusal)
		return nil
	}
	if b.notSeen(p) {
		p.answer = &wire.Slow{Book: b.id, After: 2000, Code: "server-behind"}
		return nil
	}
	if slow := r.limit(now, b, p); slow != nil {
		p.answer = slow
		return nil
	}
	return r.admit(now, b, tx, p)
}

// resent answers a run whose place is taken: by itself (the acknowledgement was lost), or by something else.
func (r *Relay) resent(tx Tx, p *push) error {
	first, last := &p.run.Ops[0], &p.run.Ops[len(p.run.Ops)-1]
	from, ok, err := tx.Place(first.Device, first.Seq)
	if err != nil {
		return err
	}
	to, ok2, err := tx.Place(last.Device, last.Seq)
	if err != nil {
		return err
	}
	same := ok && ok2 && from.Hash == first.Hash() && to.Hash == last.Hash()
	together := to.Pos-from.Pos == uint64(len(p.run.Ops)-1) && from.At == to.At
	if same && together {
		p.answer = p.ack(from.Pos, from.At)
		return nil
	}
	p.answer = p.refuse(&club.Refusal{Code: "seq-taken", Text: "another op of this device already stands at this place"})
	return nil
}

// mayOrder checks what is the server's to say before the rules are asked.
func (b *book) mayOrder(now int64, p *push) *club.Refusal {
	if b.restored && p.run.Ops[0].Kind != oplog.Resume {
		return &club.Refusal{Code: "restored", Text: "the server came back without its newest entries; an organiser has to say resume"}
	}
	at := max(now, b.order().At)
	for i := range p.run.Ops {
		op := &p.run.Ops[i]
		if op.Time.Millis() > at+oplog.MaxAhead {
			return &club.Refusal{Code: "time-ahead", Text: "the op is stamped past the server's time", Op: i}
		}
		if op.Body == nil {
			return &club.Refusal{Code: "body-missing", Text: "a new op comes with its body", Op: i}
		}
	}
	return nil
}

// notSeen says that the author has seen a position that this server does not have. Nothing could be checked there, so nothing
// is taken: the phone's subscription will show who is behind.
func (b *book) notSeen(p *push) bool {
	for i := range p.run.Ops {
		if p.run.Ops[i].SeenPos > b.order().Pos {
			return true
		}
	}
	return false
}

// limit takes the run from its author's allowance.
func (r *Relay) limit(now int64, b *book, p *push) *wire.Slow {
	author := string(p.run.Ops[0].Device[:])
	if m, ok := b.rules.MemberOf(p.run.Ops[0].Device); ok {
		author = string(m.ID[:])
	}
	code := "slow-down"
	costs := r.limits.pushCosts(author+string(b.id[:]), len(p.run.Ops), p.run.Size())
	if p.run.Ops[0].Kind == oplog.Create && !p.peer.Trusted {
		if r.limits.TokenOnly {
			return &wire.Slow{Book: b.id, After: 60 * 60 * 1000, Code: "word-needed"}
		}
		code, costs = "book-limit", append(r.limits.createCosts(p.peer.Address), costs...)
	}
	if wait := take(r.counter, now, costs); wait > 0 {
		return &wire.Slow{Book: b.id, After: uint32(min(wait, day)), Code: code}
	}
	p.costs = costs
	return nil
}

// admit asks the rules, and stores.
func (r *Relay) admit(now int64, b *book, tx Tx, p *push) error {
	entries, err := r.fold(b, tx, &p.run, now)
	var refusal *club.Refusal
	if errors.As(err, &refusal) {
		giveBack(r.counter, p.costs)
		p.costs, p.answer = nil, p.refuse(refusal)
		return nil
	}
	if err != nil {
		return err
	}
	if p.dropped, err = r.append(b, tx, &p.run, entries); err != nil {
		return err
	}
	if b.restored { // and so the first op is a valid resume
		b.restored = false
		if err := tx.SetRestored(false); err != nil {
			return err
		}
	}
	p.stored, p.answer = true, p.ack(entries[0].Order.Pos, entries[0].Order.At)
	return nil
}

// fold admits a run to the rules; a refusal leaves them as they were.
func (r *Relay) fold(b *book, from source, run *oplog.Run, at int64) ([]oplog.Entry, error) {
	var failed error
	entries, err := b.rules.Admit(run, at, b.chainAt(from, &failed))
	if failed != nil {
		return nil, failed
	}
	if err != nil {
		return nil, err
	}
	if last := entries[len(entries)-1].Order; b.order() != last {
		return nil, fmt.Errorf("the rules stand at position %d after a run that ends at %d", b.order().Pos, last.Pos)
	}
	for _, e := range entries {
		b.advanced(e)
	}
	return entries, nil
}

// append stores what was admitted, and forgets the bodies that it makes superfluous.
func (r *Relay) append(b *book, tx Tx, run *oplog.Run, entries []oplog.Entry) (dropped int, err error) {
	if err := tx.Append(run, entries); err != nil {
		return 0, err
	}
	if err := setEnrolled(b, tx, run); err != nil {
		return 0, err
	}
	if b.docs == nil {
		return 0, nil
	}
	var positions []uint64
	for _, e := range entries {
		positions = append(positions, b.docs.Fold(e, b.rules)...)
	}
	if len(positions) == 0 {
		return 0, nil
	}
	return len(positions), tx.Drop(positions)
}

// setEnrolled keeps the store's list of devices as the rules have it.
func setEnrolled(b *book, tx Tx, run *oplog.Run) error {
	if !changesDevices(run) {
		return nil
	}
	in := b.rules.Enrolled()
	now := make(map[oplog.DeviceID]bool, len(in))
	for _, device := range in {
		now[device] = true
	}
	var out []oplog.DeviceID
	for _, m := range b.rules.Members() {
		for i := range m.Devices {
			if id := m.Devices[i].Sign; !now[id] {
				out = append(out, id)
			}
		}
	}
	return tx.SetEnrolled(in, out)
}

func changesDevices(run *oplog.Run) bool {
	for i := range run.Ops {
		switch run.Ops[i].Kind {
		case oplog.Create, oplog.Join, oplog.Device, oplog.Remove, oplog.Leave:
			return true
		}
	}
	return false
}
