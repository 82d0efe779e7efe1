package sim

import (
	"context"
	"slices"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/relay"
	"hushcup/sync/replica"
)

// What is asserted once everything has healed and come to rest.

// checkRest asserts all six promises of a world at rest.
func (w *World) checkRest() {
	for _, b := range w.observers[0].order {
		w.checkScoring(b)
		w.checkKept(b)
	}
	w.readOrdered()
	for _, p := range w.phones {
		if p.up() {
			w.checkConverged(p)
			w.checkOrdered(p)
			w.checkStored(p)
			w.checkOpened(p)
		}
	}
	w.checkSecrets()
}

// checkKept asserts that the store has forgotten no body that still says something: promise 1, on the server's side.
func (w *World) checkKept(b *watched) {
	gone := map[uint64]bool{}
	runs, _ := w.store.Read(context.Background(), b.id, 0, relay.Limit{})
	for i := range runs {
		for j := range runs[i].Run.Ops {
			gone[runs[i].First+uint64(j)] = runs[i].Run.Ops[j].Body == nil
		}
	}
	b.docs.Each(func(winner club.Winner) bool {
		if gone[winner.Pos] && !winner.Erased && !w.torn[b.id] {
			w.fail("promise 1: the store forgot the body at %d of %.4s, which nothing superseded", winner.Pos, b.id)
		}
		return true
	})
	for _, s := range b.reckon.samples {
		for _, g := range b.state.Guesses(s.id) {
			if g.Scoring != nil && gone[g.Scoring.Pos] && !w.torn[b.id] {
				w.fail("promise 1: the store forgot the scoring guess at %d of %.4s", g.Scoring.Pos, b.id)
			}
		}
	}
}

// checkConverged asserts that a phone has what the store has, and nothing left to say: promise 6.
func (w *World) checkConverged(p *Phone) {
	if len(w.torn) > 0 && p.recovering() {
		w.count("recovery still under way at rest")
		return
	}
	for _, info := range p.replica.Books() {
		b := w.observers[0].books[info.ID]
		if w.forked || info.Former {
			continue
		}
		switch info.Status {
		case replica.StatusStopped:
			w.checkShown(p, &info, b)
		case replica.StatusRemoved:
			w.checkRemoved(p, &info, b)
		case replica.StatusJoining, replica.StatusRestored:
			w.checkListed(p, &info)
		case replica.StatusCurrent:
			w.checkCurrent(p, &info, b)
		default:
			w.fail("promise 6: %s stands at %d of %.4s and is %s (%s)", p.name, info.Verified, info.ID, info.Status, info.Code)
		}
	}
}

// recovering says that a phone speaks as a recovery device for now; that is listed, and waits for books that are restored.
func (p *Phone) recovering() bool {
	return slices.ContainsFunc(p.replica.Joining(), func(j replica.JoinInfo) bool {
		return j.Kind == "recovery" && j.State != replica.JoinFailed && j.State != replica.JoinDone
	})
}

// checkShown asserts that who is stopped at rest holds another history than the store.
func (w *World) checkShown(p *Phone, info *replica.BookInfo, b *watched) {
	order := p.replica.Club(info.ID).Order()
	if b != nil {
		if chain, ok := b.chainAt(order.Pos); ok && chain == order.Chain {
			w.fail("promise 6: %s is stopped in %.4s (%s) though it holds what the store holds", p.name, info.ID, info.Code)
		}
	}
	w.count("history differs, and it shows")
}

func (w *World) checkRemoved(p *Phone, info *replica.BookInfo, b *watched) {
	if b == nil {
		w.fail("promise 6: %s was removed from %.4s, which the store does not know", p.name, info.ID)
	}
	if _, in := b.state.MemberOf(p.device()); in {
		w.fail("promise 6: %s thinks that it was removed from %.4s", p.name, info.ID)
	}
	if info.Waiting > 0 {
		w.fail("promise 6: %d ops of %s in %.4s are stuck: it was removed", info.Waiting, p.name, info.ID)
	}
	w.count("phone of a removed member at rest")
}

// checkListed asserts that what cannot go on by itself is listed.
func (w *World) checkListed(p *Phone, info *replica.BookInfo) {
	if info.Status == replica.StatusRestored {
		if o := w.organiserAwake(info.ID); o != nil {
			w.fail("promise 6: %.4s stays restored on %s though %s can say resume (%s)", info.ID, p.name, o.name, o.status(info.ID))
		}
		return
	}
	b := w.observers[0].books[info.ID]
	if b == nil {
		return // its founder never came on line, or took the store's copy along
	}
	if _, in := b.state.MemberOf(p.device()); in {
		w.fail("promise 6: %s is in %.4s and does not know", p.name, info.ID)
	}
}

func (w *World) checkCurrent(p *Phone, info *replica.BookInfo, b *watched) {
	if b == nil || info.Verified != b.order.Pos {
		w.fail("promise 6: %s calls %.4s current at %d, the store does not", p.name, info.ID, info.Verified)
	}
	if info.Waiting > 0 {
		w.fail("promise 6: %d ops of %s in %.4s are stuck (%s)", info.Waiting, p.name, info.ID, info.Code)
	}
	if fingerprint(p.replica.Club(info.ID).Encode()) != fingerprint(b.state.Encode()) {
		w.fail("promise 2: %s folds %.4s to another state at rest", p.name, info.ID)
	}
	w.checkWinners(p, b)
}

// checkWinners compares the newest revisions of all parts.
func (w *World) checkWinners(p *Phone, b *watched) {
	refused := map[replica.DocKey]bool{}
	got := map[replica.DocKey]replica.DocPart{}
	p.replica.Docs(b.id, func(d replica.DocPart) bool {
		if d.Share == replica.Refused {
			refused[d.DocKey] = true
		} else {
			got[d.DocKey] = d
		}
		return true
	})
	b.docs.Each(func(want club.Winner) bool {
		key := replica.DocKey{Member: want.Member, Doc: want.Doc, Part: want.Part}
		if want.Shared {
			key.Member = oplog.MemberID{}
		}
		d, ok := got[key]
		delete(got, key)
		switch {
		case refused[key] || b.state.Kind() == club.Notebook && want.Part >= 0xFFFF0000:
		case !ok:
			w.fail("promise 2: %s has no %s", p.name, thing{b.id, key})
		case d.Pos != want.Pos || d.Time != want.Time || d.Device != want.Device || d.Erased != want.Erased:
			w.fail("promise 2: on %s the newest %s is of %d, the observer says %d", p.name, thing{b.id, key}, d.Pos, want.Pos)
		}
		return true
	})
	if len(got) > 0 {
		w.fail("promise 2: %s shows %d parts of %.4s that the observer does not know", p.name, len(got), b.id)
	}
}

// checkOrdered asserts that what a phone called saved was ordered, or is listed with the reason: promises 1 and 6.
func (w *World) checkOrdered(p *Phone) {
	refused := p.replica.Refused()
	w.counts["op listed as refused at rest"] += len(refused)
	for _, t := range p.things() {
		owed := p.acked[t]
		if w.settled(p, t, owed.number) {
			continue
		}
		if slices.ContainsFunc(refused, func(r replica.RefusedOp) bool {
			return r.Book == t.book && r.Doc == t.key.Doc && r.Part == t.key.Part
		}) {
			continue
		}
		if !w.mayWait(p, t.book) {
			w.fail("promise 1: %s was saved on %s and is neither ordered nor listed", owed, p.name)
		}
	}
}

// settled says whether a revision, or a later one of the same phone, was ordered. Whose document it is does not count: the phone
// may have thought otherwise when it wrote the later one, as when its clock keeps a flight that waits out of what it expects.
func (w *World) settled(p *Phone, t thing, number int) bool {
	if w.late[lateKey{p.device(), t.key.Doc, t.key.Part}] {
		return true
	}
	for _, n := range w.ordered[t.key.Doc] {
		m := w.writings[n]
		if m.thing.book == t.book && m.thing.key.Part == t.key.Part && m.by == p && n >= number {
			return true
		}
	}
	return false
}

// lateKey names parts of which a device's revision came too late to be kept.
type lateKey struct {
	device oplog.DeviceID
	doc    oplog.DocID
	part   uint32
}

// mayWait says whether ops of a book may still wait at rest.
func (w *World) mayWait(p *Phone, book oplog.BookID) bool {
	for _, info := range p.replica.Books() {
		if info.ID == book {
			if w.torn[book] && info.Status == replica.StatusRemoved { // the store lost that this phone ever came in
				return true
			}
			return w.forked || p.recovering() || info.Status == replica.StatusStopped || info.Status == replica.StatusRestored || info.Former
		}
	}
	return false
}

// checkBounded asserts that coming together took so many frames at most, by phones, their books and what was ordered: promise 6.
func (w *World) checkBounded(frames int) {
	entries := 0
	for _, b := range w.observers[0].order {
		entries += len(b.entries)
	}
	if most := len(w.phones)*(60+20*len(w.bookIDs)) + 4*entries; frames > most {
		w.fail("promise 6: %d frames until everybody had everything, not %d", frames, most)
	}
}

// checkQuiet asserts that a world at rest stays at rest: promise 6.
func (w *World) checkQuiet(frames int) {
	if most := 20 * len(w.phones); frames > most {
		w.fail("promise 6: %d frames in two minutes of rest, not %d", frames, most)
	}
}
