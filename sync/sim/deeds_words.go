package sim

import (
	"fmt"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

// What people write.

func (w *World) writeNotebook(p *Phone) {
	book := p.replica.Notebook()
	m, ok := p.replica.Ahead(book).MemberOf(p.device())
	if !ok {
		return
	}
	w.put(p, replica.PutArgs{Book: book, Doc: w.doc(p), Part: uint32(256 + w.rng.upTo(2)), Plain: w.content()}, m.ID)
}

func (w *World) writeCup(p *Phone) {
	c, _, me := w.member(p)
	if c == nil || len(c.samples) == 0 {
		return
	}
	sample := pick(&w.rng, c.samples)
	w.put(p, replica.PutArgs{Book: c.book, Doc: w.doc(p), Part: 512, Under: replica.UnderEnvelope(sample.sample), Plain: w.content()}, me)
}

// writeShared writes what organisers write for all, or what one says of oneself.
func (w *World) writeShared(p *Phone) {
	c, _, me := w.member(p)
	if c == nil {
		return
	}
	doc := pick(&w.rng, []oplog.DocID{oplog.BookDoc, oplog.ProfileDoc(me), oplog.ProfileDoc(me)})
	if len(c.flights) > 0 && w.rng.oneIn(2) {
		doc = oplog.FlightDoc(pick(&w.rng, c.flights))
	}
	w.put(p, replica.PutArgs{Book: c.book, Doc: doc, Part: 1024, Plain: w.content()}, me)
}

func (w *World) guess(p *Phone) {
	c, _, me := w.member(p)
	if c == nil || len(c.samples) == 0 {
		return
	}
	sample := pick(&w.rng, c.samples)
	part := pick(&w.rng, []uint32{club.GuessPart, club.GuessPart, club.GuessPart, club.FirstPart})
	w.put(p, replica.PutArgs{Book: c.book, Doc: oplog.GuessDoc(sample.sample, me), Part: part,
		Under: replica.UnderEnvelope(sample.sample), Plain: w.content(), Uniform: true}, me)
}

// doc is one of a few documents of the phone's person, so that revisions meet.
func (w *World) doc(p *Phone) (id oplog.DocID) {
	copy(id[:], p.person.name)
	id[15] = byte(1 + w.rng.upTo(4))
	return id
}

// put writes, and holds the phone to it once it is saved.
func (w *World) put(p *Phone, a replica.PutArgs, me oplog.MemberID) {
	written := w.written(p, a, me)
	_ = p.command(fmt.Sprintf("writes %s", written), func(now int64) (replica.Ticket, error) {
		return p.replica.Put(now, a)
	}, written.saved)
}

func (w *World) erase(p *Phone) {
	doc := w.doc(p)
	_ = p.command("erases a document of the notebook", func(now int64) (replica.Ticket, error) {
		p.released(p.replica.Notebook(), doc)
		return p.replica.Erase(now, p.replica.Notebook(), []oplog.DocID{doc})
	}, nil)
}

func (w *World) decide(p *Phone) {
	refused := p.replica.Refused()
	if len(refused) == 0 {
		return
	}
	r := pick(&w.rng, refused)
	if w.rng.oneIn(2) {
		_ = p.command("retries what was refused", func(now int64) (replica.Ticket, error) { return p.replica.Retry(now, r.ID) }, nil)
		return
	}
	p.discarded(r)
	_ = p.command("discards what was refused", func(now int64) (replica.Ticket, error) { return p.replica.Discard(now, r.ID) }, nil)
}
