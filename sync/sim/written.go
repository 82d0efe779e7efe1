package sim

import (
	"bytes"
	"fmt"
	"maps"
	"slices"
	"strconv"

	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

// thing is one part that people write revisions of.
type thing struct {
	book oplog.BookID
	key  replica.DocKey // as reads name it: a shared document has no member
}

// writing is one revision of a thing, known by its number. Its words begin with the marker and the number.
type writing struct {
	number int
	by     *Phone
	thing  thing
	author oplog.MemberID
	words  string
}

// made is a control op that names something new.
type made struct {
	kind oplog.Kind
	id   [16]byte
}

func (m *writing) String() string { return fmt.Sprintf("#%d into %s", m.number, m.thing) }

func (t thing) String() string {
	return fmt.Sprintf("%.4s/%.4s/%.4s/%d", t.book, t.key.Member, t.key.Doc, t.key.Part)
}

// content gives words that nobody wrote before.
func (w *World) content() []byte {
	w.lastWord++
	words := fmt.Appendf(nil, "%s%d.", marker, w.lastWord)
	return append(words, bytes.Repeat([]byte("x"), w.rng.upTo(pick(&w.rng, []int{1, 40, 400, 3000})))...)
}

// numberOf reads the number at the head of words.
func numberOf(words []byte) (int, bool) {
	rest, ok := bytes.CutPrefix(words, []byte(marker))
	digits, _, dot := bytes.Cut(rest, []byte("."))
	n, err := strconv.Atoi(string(digits))
	return n, ok && dot && err == nil
}

// written notes what is about to be written.
func (w *World) written(p *Phone, a replica.PutArgs, member oplog.MemberID) *writing {
	author := member
	if s := p.replica.Ahead(a.Book); s != nil && s.Shared(a.Doc) {
		member = oplog.MemberID{}
	}
	n, _ := numberOf(a.Plain)
	key := replica.DocKey{Member: member, Doc: a.Doc, Part: a.Part}
	m := &writing{number: n, by: p, thing: thing{a.Book, key}, author: author, words: string(a.Plain)}
	w.writings[n] = m
	return m
}

// saved is when the screen says so: from now on the phone owes it.
func (m *writing) saved() {
	p := m.by
	if m.number <= p.person.erased[docOf{m.thing.book, m.thing.key.Doc}] {
		return
	}
	if before := p.acked[m.thing]; before == nil || before.number < m.number {
		p.acked[m.thing] = m
	}
	p.w.count("part saved")
}

// docOf names a document.
type docOf struct {
	book oplog.BookID
	doc  oplog.DocID
}

// released forgets what a person wanted forgotten, be it saved already or not yet.
func (p *Phone) released(book oplog.BookID, doc oplog.DocID) {
	p.person.erased[docOf{book, doc}] = p.w.lastWord
	for _, other := range p.person.phones {
		for t := range other.acked {
			if t.book == book && t.key.Doc == doc {
				delete(other.acked, t)
			}
		}
	}
}

// discarded forgets what a person decided not to share after all.
func (p *Phone) discarded(r replica.RefusedOp) {
	p.made[r.Book] = slices.DeleteFunc(slices.Clone(p.made[r.Book]), func(m made) bool { return m.kind == r.Kind })
	for t := range p.acked {
		if t.book == r.Book && t.key.Doc == r.Doc && t.key.Part == r.Part {
			delete(p.acked, t)
		}
	}
}

// debts are what a phone owes.
type debts struct {
	acked map[thing]*writing      // the newest revision of each part that was called saved
	made  map[oplog.BookID][]made // control ops that were called saved
}

// copy shares nothing with the debts of now. A phone may come back with an older storage first, and then with the one that
// these debts belong to; what it made meanwhile must not stand in them.
func (d debts) copy() debts {
	c := debts{maps.Clone(d.acked), make(map[oplog.BookID][]made, len(d.made))}
	for book, list := range d.made {
		c.made[book] = slices.Clone(list)
	}
	return c
}
