package sim

import (
	"bytes"
	"context"
	"slices"
	"strings"

	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/relay"
	"hushcup/sync/replica"
	"hushcup/sync/seal"
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

// settled says whether a revision, or a later one of the same phone, was ordered.
func (w *World) settled(p *Phone, t thing, number int) bool {
	if w.late[lateKey{p.device(), t.key.Doc, t.key.Part}] {
		return true
	}
	for _, n := range w.ordered[t.key.Doc] {
		m := w.writings[n]
		if m.thing == t && m.by == p && n >= number {
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

// checkOpened reads what was unsealed: everybody sees the answers and guesses that were sealed: promise 4.
func (w *World) checkOpened(p *Phone) {
	for _, info := range p.replica.Books() {
		b := w.observers[0].books[info.ID]
		if b == nil || info.Status != replica.StatusCurrent || info.Former || w.forked {
			continue
		}
		for _, s := range b.reckon.samples {
			sample, _ := b.state.Sample(s.id)
			if sample.Private == nil || w.byLiar(sample.Device) {
				continue
			}
			words, status := p.replica.Answer(b.id, s.id)
			if w.mutant == AnswerChanges {
				words = bytes.ToUpper(words)
			}
			if status != replica.BodyReady || string(words) != w.answers[s.id] {
				w.fail("promise 4: the answer of %.4s on %s is %.40q (%d)", s.id, p.name, words, status)
			}
			w.count("answer read")
			for _, g := range b.state.Guesses(s.id) {
				if g.Scoring != nil && !w.byLiar(g.Scoring.Device) {
					w.checkGuess(p, b, s.id, &g)
				}
			}
		}
	}
}

func (w *World) checkGuess(p *Phone, b *watched, sample oplog.SampleID, g *club.GuessInfo) {
	words, status := p.replica.Guess(b.id, sample, g.Member)
	if status == replica.BodyLoading {
		p.step(replica.Nothing{})
		w.advance(20)
		words, status = p.replica.Guess(b.id, sample, g.Member)
	}
	if status != replica.BodyReady || string(words) != w.opened[place{b.id, g.Scoring.Pos, b.chain[g.Scoring.Pos-1]}] {
		w.fail("promise 4: the guess of %.4s on %.4s reads %.40q (%d) on %s", g.Member, sample, words, status, p.name)
	}
	w.count("guess read")
}

// readOrdered opens, with the keys of all phones together, every sealed body that was ever ordered as it was then.
func (w *World) readOrdered() {
	w.ordered, w.opened, w.late = map[oplog.DocID][]int{}, map[place]string{}, map[lateKey]bool{}
	keys := map[oplog.KeyID]seal.Key{}
	ring := w.notebookKeys()
	for _, key := range ring {
		keys[oplog.KeyID(key.ID())] = key
	}
	for _, o := range w.observers {
		for _, b := range o.order {
			for _, s := range b.reckon.samples {
				for _, key := range ring {
					envelope := seal.Envelope(key, b.id, s.id)
					keys[oplog.KeyID(envelope.ID())] = envelope
				}
			}
			for i := range b.entries {
				w.readEntry(&b.entries[i], keys)
			}
		}
	}
}

func (w *World) readEntry(e *oplog.Entry, keys map[oplog.KeyID]seal.Key) {
	op := &e.Op
	if op.Kind != oplog.Part || w.byLiar(op.Device) {
		return
	}
	if op.Body == nil { // it was superseded by the time when it was ordered, and forgotten in the same transaction
		w.late[lateKey{op.Device, op.Doc, op.Part}] = true
		return
	}
	under := make([]seal.Key, len(op.Keys))
	named := make([]seal.KeyID, len(op.Keys))
	for i, id := range op.Keys {
		under[i], named[i] = keys[id], seal.KeyID(id)
	}
	ad := oplog.AssociatedData(op.BookOf(), op.Device, op.Kind, op.Doc, op.Part, op.Keys)
	words, err := seal.OpenUnder(under, named, ad, op.Body)
	if err != nil {
		w.fail("promise 4: what was ordered at %d of %.4s does not open: %v", e.Order.Pos, op.Book, err)
	}
	if n, ok := numberOf(words); ok {
		w.ordered[op.Doc] = append(w.ordered[op.Doc], n)
		w.opened[place{op.BookOf(), e.Order.Pos, e.Order.Chain}] = string(words)
	}
}

// notebookKeys are the epoch keys that all phones of the world have, or had, on their disks.
func (w *World) notebookKeys() []seal.Key {
	all := slices.Clone(w.keysOfYore)
	for _, p := range w.phones {
		for _, key := range p.keysOnDisk() {
			if !slices.Contains(all, key) {
				all = append(all, key)
			}
		}
	}
	return all
}

func (p *Phone) keysOnDisk() (all []seal.Key) {
	for _, r := range p.disk.hot() {
		if !strings.HasPrefix(r.Key, "log/") || !strings.HasSuffix(r.Key, "/keys") {
			continue
		}
		var keys []seal.Key
		if err := codec.Unmarshal(r.Value, &keys); err != nil {
			p.w.fail("the stored keys of %s do not decode: %v", p.name, err)
		}
		all = append(all, keys...)
	}
	return all
}

// checkQuiet asserts that a world at rest stays at rest: promise 6.
func (w *World) checkQuiet(frames int) {
	if most := 20 * len(w.phones); frames > most {
		w.fail("promise 6: %d frames in two minutes of rest, not %d", frames, most)
	}
}
