package sim

import (
	"bytes"
	"crypto/sha256"
	"slices"

	"hushcup/sync/oplog"
	"hushcup/sync/replica"
	"hushcup/sync/wire"
)

// What is asserted while things go on. What is asserted at the end stands in rest.go.

// checkPhone is called after everything that a phone does.
func (w *World) checkPhone(p *Phone) {
	if !p.up() {
		return
	}
	for _, id := range w.bookIDs {
		w.checkOrder(p, id)
	}
	if len(p.acked) > 0 && w.rng.oneIn(w.lookOften) {
		w.checkThing(p, pick(&w.rng, p.things()))
	}
}

// checkOrder holds what a phone has folded against what the servers ordered: promises 2 and 5.
func (w *World) checkOrder(p *Phone, id oplog.BookID) {
	state := p.replica.Club(id)
	if state == nil {
		return
	}
	order := state.Order()
	if order == p.orders[id] {
		return
	}
	p.orders[id] = order
	if order.Pos == 0 {
		return
	}
	w.mutant.grabs(state)
	at := place{id, order.Pos, order.Chain}
	want, known := w.known[at]
	switch {
	case known && want != digest{} && w.digestAt(at, state) != want:
		w.fail("promise 2: %s folds %.4s to another state at %d than the observer", p.name, id, order.Pos)
	case !known && p.misled[id]:
		w.count("phone misled")
	case !known:
		w.fail("promise 5: %s folded a history of %.4s up to %d that no server ordered", p.name, id, order.Pos)
	}
}

// checkStopped allows a phone to stop only where somebody gave it reason to.
func (w *World) checkStopped(p *Phone, e replica.Stopped) {
	w.count("phone stopped: " + e.Code)
	if !p.confused && !p.warned[e.Book] && !p.misled[e.Book] && !w.torn[e.Book] && !w.forked {
		w.fail("promise 5: %s stops %.4s without a reason: %s (%s)", p.name, e.Book, e.Code, e.Text)
	}
}

// checkStored looks at everything that a phone owes, when it starts.
func (w *World) checkStored(p *Phone) {
	for _, t := range p.things() {
		w.checkThing(p, t)
	}
	for _, id := range w.bookIDs {
		w.checkMade(p, id)
	}
}

// things are the parts that a phone owes, in an order of its own.
func (p *Phone) things() []thing {
	list := make([]thing, 0, len(p.acked))
	for t := range p.acked {
		list = append(list, t)
	}
	slices.SortFunc(list, func(a, b thing) int { return p.acked[a].number - p.acked[b].number })
	return list
}

// checkThing asks a phone for a part that it called saved: promise 1.
func (w *World) checkThing(p *Phone, t thing) {
	owed := p.acked[t]
	part, ok := p.replica.Doc(t.book, t.key)
	if !ok && t.key.Member == (oplog.MemberID{}) { // the flight whose document it is was refused
		own := t.key
		own.Member = owed.author
		part, ok = p.replica.Doc(t.book, own)
	}
	if !ok {
		w.fail("promise 1: %s was saved on %s and is gone", owed, p.name)
	}
	if part.Erased {
		return
	}
	words, status := p.replica.Body(t.book, part)
	switch status {
	case replica.BodyLoading:
		return
	case replica.BodyReady:
	default:
		if part.Device != p.device() { // another device of this person is newer, and this one may not have its keys yet
			return
		}
		w.fail("promise 1: %s was saved on %s and cannot be read (%d)", owed, p.name, status)
	}
	n, ok := numberOf(words)
	shown := w.writings[n]
	switch {
	case !ok || shown == nil || string(words) != shown.words:
		w.fail("promise 4: %s shows words under %s that nobody wrote: %.40q", p.name, t, words)
	case shown.thing.key.Doc != t.key.Doc || shown.thing.key.Part != t.key.Part:
		w.fail("promise 4: %s shows %s under %s", p.name, shown, t)
	case shown.by == p && !p.rolled && shown.number < owed.number:
		w.fail("promise 1: %s shows %s although %s was saved", p.name, shown, owed)
	case shown.by != p && shown.by.person != p.person && part.Member != (oplog.MemberID{}):
		w.fail("promise 4: %s shows %s, written by %s", p.name, shown, shown.by.name)
	}
}

// checkMade looks for the flights, samples and invitations that a phone called saved: promise 1 for control ops.
func (w *World) checkMade(p *Phone, book oplog.BookID) {
	state := p.replica.Ahead(book)
	for _, m := range p.made[book] {
		if state == nil {
			w.fail("promise 1: %s made something in %.4s, and the book is gone", p.name, book)
		}
		found := false
		switch m.kind {
		case oplog.Flight:
			_, found = state.Flight(oplog.FlightID(m.id))
		case oplog.Sample:
			_, found = state.Sample(oplog.SampleID(m.id))
		}
		if !found && !slices.ContainsFunc(p.replica.Refused(), func(r replica.RefusedOp) bool {
			return r.Book == book && r.Kind == m.kind
		}) && !waits(p, book) {
			w.fail("promise 1: %s called an op of kind %d in %.4s saved, and it is gone", p.name, m.kind, book)
		}
	}
}

// waits says that something of a book is not ordered yet; what waits may not show ahead, when it cannot succeed any more.
func waits(p *Phone, book oplog.BookID) bool {
	return slices.ContainsFunc(p.replica.Books(), func(i replica.BookInfo) bool { return i.ID == book && i.Waiting > 0 })
}

// ackFrame is how an acknowledgement begins: an array of two, and its type.
var ackFrame = wire.Encode(&wire.Ack{})[:2]

// checkAck asserts that a server acknowledges only what its store holds by now: promise 1, on the server's side.
func (s *Server) checkAck(frame []byte) {
	if !bytes.HasPrefix(frame, ackFrame) {
		return
	}
	f, err := wire.Decode(frame)
	ack, ok := f.(*wire.Ack)
	if err != nil || !ok {
		return
	}
	for _, o := range s.w.observers {
		if b := o.books[ack.Book]; o.store == s.store && b != nil {
			for at := ack.First; at <= uint64(len(b.entries)); at++ {
				if op := &b.entries[at-1].Op; op.Device == ack.Device && op.Seq == ack.Seq {
					return
				}
			}
		}
	}
	s.w.fail("promise 1: server %d acknowledged seq %d in %.4s, which its store does not hold", s.name, ack.Seq, ack.Book)
}

func fingerprint(b []byte) digest { return sha256.Sum256(b) }
