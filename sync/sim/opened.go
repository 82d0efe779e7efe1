package sim

import (
	"bytes"
	"slices"
	"strings"

	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
	"hushcup/sync/seal"
)

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
