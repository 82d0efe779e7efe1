package app

import (
	"sort"

	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

// index is a digest of all of one's brews, so that the Bench opens and the log is paged without opening thousands of bodies.
// On the disk it is one record that is handed over at the start, and for each month or so a packed one with small ones of single
// brews beside it, that go into it when there are many:
//
//	app/bench                                  benchRecord
//	cold/app/brews/<bucket>/<created>-<doc>    entry, or that the brew is gone
//	cold/app/brews/<bucket>/packed             page
//
// It is made from what the replica holds and says up to which position of each book it is complete, and every start looks
// again at what is newer or not ordered yet. So a crash between a brew and its digest heals by itself, and losing the whole
// index loses nothing.
type index struct {
	bench     benchRecord
	recent    page                            // of the bench, newest first
	going     page                            // of the bench
	known     map[brewRef]bool                // all brews that are not thrown away
	of        map[sampleRef]map[brewRef]bool  // of them, those of a sample
	todo      map[brewRef]bool                // brews to digest
	order     []brewRef                       // of todo
	pages     map[int64]page                  // buckets that were read
	loose     map[int64][]string              // keys of single records beside those
	asked     map[int64]bool                  // buckets that are being read
	pause     int64                           // no writing before this: the last one failed
	mine      map[oplog.BookID]oplog.MemberID // who this person was when a book was looked through last
	unsaved   indexBatch                      // digested, not written
	saving    bool                            // a timer will write it
	usage     map[oplog.DocID]usage           // of the Cupboard's items, counted over the pages; nil until it is asked for
	meanwhile []*entry                        // digested while something was being read, which does not hold it
	later     []replica.BookInfo              // books to be looked through once the screens have had their turn
	behind    bool                            // something in them is newer than the last digest
}

const (
	indexVersion = 6
	benchKey     = ownKeys + "bench"
	brewKeys     = ownColdKeys + "brews/"
	bucketLength = 30 * day
	bucketDigits = 8
	mostRecent   = 24    // more than is shown, so that throwing one away leaves enough
	chunk        = 40    // brews digested at a time, when there are many
	indexPause   = 5_000 // milliseconds after a failed write
	settled      = 200   // milliseconds, after which the first screen stands
)

func (x *index) load(record StoredRecord) {
	var bench benchRecord
	if record.Key == benchKey && codec.UnmarshalOpen(record.Value, &bench) == nil && bench.Version == indexVersion {
		x.bench, x.recent, x.going = bench, unpack(bench.Recent).whole(), unpack(bench.Going).whole()
	}
}

// catchUp looks for brews that the index does not know in their newest revision. A notebook with years of brews waits until
// the screens have had their turn, what the Bench shows first stands in the benchRecord; or until the first screen stands, if
// nothing came since the last digest.
func (x *index) catchUp(a *App) {
	x.known, x.of, x.later = nil, nil, nil
	x.bench.Version = indexVersion
	for _, book := range a.replica.Books() {
		if book.ID == a.notebook() && x.bench.Count > 0 {
			x.later = append(x.later, book)
			after := int64(0)
			if book.Waiting == 0 && x.bench.Upto[book.ID] == book.Verified {
				after = settled
			} else {
				x.behind = true
			}
			a.emit(TimerEffect{Kind: "timer", Name: timerIndex, After: after})
			continue
		}
		x.scan(a, book)
	}
	a.packIn(settled) // which reads the months, if nobody has needed them by then
}

// ready looks through what was put off. Whatever changes the index or looks a brew up in it comes here first.
func (x *index) ready(a *App) {
	if len(x.later) == 0 {
		return
	}
	later := x.later
	x.later, x.behind = nil, false
	for _, book := range later {
		x.scan(a, book)
	}
	if x.count() != x.bench.Count {
		a.watches.touch(needDocs)
	}
}

// meet looks through a book whose reader has become a member, or another one: what came before that was nobody's.
func (x *index) meet(a *App, book oplog.BookID) {
	x.ready(a)
	if info, ok := a.bookInfo(book); ok && x.mine[book] != info.Member {
		delete(x.bench.Upto, book)
		x.scan(a, info)
	}
}

func (x *index) scan(a *App, book replica.BookInfo) {
	if x.mine == nil {
		x.mine = map[oplog.BookID]oplog.MemberID{}
	}
	x.mine[book.ID] = book.Member
	upto := x.bench.Upto[book.ID]
	a.replica.OwnParts(book.ID, partBrew, func(part replica.OwnPart) {
		ref := brewRef{book.ID, part.Doc}
		if book.Former && a.movedOn(ref) {
			return
		}
		if part.Pos == 0 || part.Pos > upto || part.Erased && x.known[ref] {
			x.dirty(ref)
		}
		if !part.Erased {
			x.note(ref, part.Sample)
		}
	})
	for _, list := range []page{x.recent, x.going} {
		for _, l := range list {
			if l.ref.book == book.ID && !x.known[l.ref] { // thrown away just before a crash
				x.dirty(l.ref)
			}
		}
	}
}

// note keeps count of the brews, and of which sample they are.
func (x *index) note(ref brewRef, sample *oplog.SampleID) {
	if x.known == nil {
		x.known, x.of = make(map[brewRef]bool, x.bench.Count), map[sampleRef]map[brewRef]bool{}
	}
	x.known[ref] = true
	if sample == nil {
		return
	}
	about := sampleRef{ref.book, *sample}
	if x.of[about] == nil {
		x.of[about] = map[brewRef]bool{}
	}
	x.of[about][ref] = true
}

func (x *index) count() int {
	if len(x.later) > 0 {
		return x.bench.Count
	}
	return len(x.known)
}

// dirty notes a brew to be digested.
func (x *index) dirty(ref brewRef) {
	if x.todo[ref] {
		return
	}
	if x.todo == nil {
		x.todo = map[brewRef]bool{}
	}
	x.todo[ref] = true
	x.order = append(x.order, ref)
}

// touch notes which of the changed parts are one's own brews; without any named, all of the book are looked at.
func (x *index) touch(a *App, book oplog.BookID, docs []replica.DocKey) {
	info, ok := a.bookInfo(book)
	if !ok {
		return
	}
	x.ready(a)
	if len(docs) == 0 {
		x.scan(a, info)
		return
	}
	for _, key := range docs {
		noticed := key.Part == partNoticed
		if key.Part != partBrew && key.Part != partBrewNotes && !noticed || key.Member != info.Member {
			continue
		}
		key.Part = partBrew
		ref := brewRef{book, key.Doc}
		part, ok := a.replica.Doc(book, key)
		if ok && !part.Erased {
			x.note(ref, part.Sample)
		} else if noticed {
			continue // of a sample that is not brewed
		}
		x.dirty(ref)
	}
}

// flush digests what is noted. What is still being read from the disk stays noted.
func (x *index) flush(a *App) {
	if len(x.order) == 0 || a.now < x.pause {
		return
	}
	x.ready(a)
	var left []brewRef
	done := 0
	for i, ref := range x.order {
		if i >= chunk || !x.digest(a, ref, &x.unsaved) {
			left = append(left, ref)
			continue
		}
		delete(x.todo, ref)
		x.unsaved.done = append(x.unsaved.done, ref)
		done++
	}
	x.order = left
	if done == 0 {
		return
	}
	x.tidy(a.now)
	a.watches.touch(needDocs)
	if len(left) > 0 {
		x.save(a)
		a.emit(TimerEffect{Kind: "timer", Name: timerIndex, After: 0})
	} else if !x.saving {
		x.saving = true
		a.emit(TimerEffect{Kind: "timer", Name: timerSave, After: saveAfter})
	}
}

// save writes the digests that were made. It waits for a moment without a tap's hurry: a crash before it costs some digests,
// which the next start makes again.
func (x *index) save(a *App) {
	x.saving = false
	batch := x.unsaved
	x.unsaved = indexBatch{}
	if len(batch.done) == 0 {
		return
	}
	if len(x.order) == 0 {
		x.complete(a)
	}
	x.bench.Count = x.count()
	x.bench.Recent, x.bench.Going = x.recent.pack(), x.going.pack()
	puts := []StoredRecord{{Key: benchKey, Value: codec.MustMarshal(x.bench)}}
	keys := batch.keys()
	for _, key := range keys {
		value := []byte{indexVersion}
		if e := batch.entries[key]; e != nil {
			value = e.encode()
		}
		puts = append(puts, StoredRecord{Key: key, Value: value})
		x.loosen(key)
	}
	a.packIn(packAfter)
	a.persistOwn(puts, nil, func(saved bool) {
		if !saved {
			x.again(batch.done)
			x.pause = a.now + indexPause
			a.emit(TimerEffect{Kind: "timer", Name: timerIndex, After: indexPause})
		}
	})
}

const (
	timerIndex = "app index"  // goes on with a long digesting after the screens have had their turn
	timerSave  = "app digest" // writes what was digested
	saveAfter  = 3_000
)

// indexBatch is what was digested and not written yet.
type indexBatch struct {
	entries map[string]*entry // by key; nil is gone
	done    []brewRef
}

func (b *indexBatch) put(key string, e *entry) {
	if b.entries == nil {
		b.entries = map[string]*entry{}
	}
	b.entries[key] = e
}

func (b *indexBatch) keys() []string {
	keys := make([]string, 0, len(b.entries))
	for key := range b.entries {
		keys = append(keys, key)
	}
	sort.Strings(keys)
	return keys
}

// again notes brews whose digests could not be written.
func (x *index) again(refs []brewRef) {
	for _, ref := range refs {
		x.dirty(ref)
	}
}

// complete says of every book that all its brews up to here are digested.
func (x *index) complete(a *App) {
	if x.bench.Upto == nil {
		x.bench.Upto = map[oplog.BookID]uint64{}
	}
	for _, book := range a.replica.Books() {
		if book.Member == x.mine[book.ID] { // else it is still to be looked through
			x.bench.Upto[book.ID] = book.Verified
		}
	}
}
