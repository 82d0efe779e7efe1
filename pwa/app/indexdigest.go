package app

import (
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

// digest makes one brew's entry; false while the brew is still being read.
func (x *index) digest(a *App, ref brewRef, batch *indexBatch) bool {
	if a.movedOn(ref) {
		x.forget(ref)
		return true
	}
	part, ok := a.replica.Doc(ref.book, a.mine(ref.book, ref.doc, partBrew))
	if !ok || part.Erased {
		x.remove(ref, 0, batch)
		return true
	}
	var content brewContent
	plain, status := a.body(ref.book, part)
	switch decodePart(plain, status, &content) {
	case replica.BodyLoading:
		return false
	case replica.BodyReady:
		if content.State == brewGone {
			x.remove(ref, content.Created, batch)
			return true
		}
		e, ok := a.entry(ref, part, &content)
		if !ok {
			return false
		}
		if ref.book == a.notebook() {
			x.forgetFormer(a, ref)
		}
		x.enter(e, &content, batch)
	}
	return true
}

// movedOn says of a brew of a former notebook that the notebook has it, too: there it counts.
func (a *App) movedOn(ref brewRef) bool {
	info, ok := a.bookInfo(ref.book)
	if !ok || !info.Former {
		return false
	}
	_, there := a.replica.Doc(a.notebook(), a.mine(a.notebook(), ref.doc, partBrew))
	return there
}

// forgetFormer takes what a brew was in former notebooks out of the index.
func (x *index) forgetFormer(a *App, ref brewRef) {
	for _, book := range a.replica.Books() {
		if book.Former {
			x.forget(brewRef{book.ID, ref.doc})
		}
	}
}

// entry is false while the brew's notes, or what was noticed in its cup, are still being read: the search looks there, too.
func (a *App) entry(ref brewRef, part replica.DocPart, content *brewContent) (*entry, bool) {
	var sample oplog.SampleID
	code := 0
	if part.Sample != nil {
		sample = *part.Sample
		if state := a.replica.Ahead(ref.book); state != nil {
			if s, ok := state.Sample(sample); ok {
				code = int(s.Body.Code)
			}
		}
	}
	var notes notesContent
	var noticed noticedContent
	if a.read(ref.book, a.mine(ref.book, ref.doc, partBrewNotes), &notes) == replica.BodyLoading ||
		a.read(ref.book, a.mine(ref.book, ref.doc, partNoticed), &noticed) == replica.BodyLoading {
		return nil, false
	}
	words := []string{notes.Notes}
	for _, time := range noticed.Times {
		words = append(words, time.Words...)
	}
	return &entry{
		Book: ref.book, Doc: ref.doc, Created: content.Created, Ended: content.Ended,
		Digest: content.digest(ref.book, ref.doc, sample, code), Facts: content.facts(sample, code, words), Items: content.items(),
	}, true
}

// enter puts an entry in its places.
func (x *index) enter(e *entry, content *brewContent, batch *indexBatch) {
	x.changed()
	batch.put(e.key(), e)
	if len(x.asked) > 0 {
		x.meanwhile = append(x.meanwhile, e)
	}
	bucket := bucketOf(e.Created)
	x.bench.addBucket(bucket)
	if page, read := x.pages[bucket]; read {
		x.pages[bucket] = page.with(e)
	}
	x.recent = x.recent.with(e)
	x.going = x.going.without(e.ref())
	if content.State == brewGoing || e.Ended != 0 {
		x.going = x.going.with(e)
	}
	if content.Created >= x.bench.LastAt {
		x.bench.Last, x.bench.LastAt = content.Setup, content.Created
	}
}

// remove takes a brew out of all its places. When nobody knows when it was created its record stays on the disk, where
// readPage passes it over.
func (x *index) remove(ref brewRef, created int64, batch *indexBatch) {
	if found := x.forget(ref); found != 0 {
		created = found
	}
	if created != 0 {
		batch.put(brewKey(created, ref.doc), nil)
	}
}

// forget takes a brew out of all lists in memory, and tells when it was created if it stood in one that says so. The record on
// the disk stays: it may be another book's by now.
func (x *index) forget(ref brewRef) (created int64) {
	x.changed()
	delete(x.known, ref)
	for _, brews := range x.of {
		delete(brews, ref)
	}
	for _, list := range []page{x.recent, x.going} {
		for _, l := range list {
			if l.ref == ref {
				created = l.created
			}
		}
	}
	x.recent = x.recent.without(ref)
	x.going = x.going.without(ref)
	for bucket, page := range x.pages {
		x.pages[bucket] = page.without(ref)
	}
	return created
}
