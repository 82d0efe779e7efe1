package app

import (
	"slices"
	"strconv"
	"strings"

	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

// index is a digest of all of one's brews, so that the Bench opens and the log is paged without opening thousands of bodies.
// On the disk it is one record that is handed over at the start, and one small record a brew, read a month or so at a time:
//
//	app/bench                                  benchRecord
//	cold/app/brews/<bucket>/<created>-<doc>    entry
//
// It is made from what the replica holds and says up to which position of each book it is complete, and every start looks
// again at what is newer or not ordered yet. So a crash between a brew and its digest heals by itself, and losing the whole
// index loses nothing.
type index struct {
	bench benchRecord
	known map[brewRef]bool  // all brews that are not thrown away
	todo  map[brewRef]int64 // brews to digest; the value says when one was created that is to be dropped
	order []brewRef         // of todo
	pages map[int64][]entry // buckets that were read, newest first
	asked map[int64]bool    // buckets that are being read
}

const (
	indexVersion = 1
	benchKey     = ownKeys + "bench"
	brewKeys     = ownColdKeys + "brews/"
	bucketLength = 30 * day
	mostRecent   = 24 // more than is shown, so that throwing one away leaves enough
	chunk        = 40 // brews digested at a time, when there are many
)

type benchRecord struct {
	Version uint8                   `cbor:"1,keyasint"`
	Upto    map[oplog.BookID]uint64 `cbor:"2,keyasint"`
	Buckets []int64                 `cbor:"3,keyasint"` // that have brews, newest first
	Recent  []entry                 `cbor:"4,keyasint"` // newest first
	Going   []entry                 `cbor:"5,keyasint"` // running, or done a short while ago
	Last    setupContent            `cbor:"6,keyasint"` // of the newest brew
	LastAt  int64                   `cbor:"7,keyasint"`
}

// entry is one brew in the index.
type entry struct {
	_       struct{} `cbor:",toarray"`
	Book    oplog.BookID
	Doc     oplog.DocID
	Created int64
	Ended   int64
	Digest  BrewDigest
}

func (e *entry) ref() brewRef { return brewRef{e.Book, e.Doc} }

func (e *entry) key() string { return brewKey(e.Created, e.Doc) }

func brewKey(created int64, doc oplog.DocID) string {
	return bucketKeys(bucketOf(created)) + padded(created, 16) + "-" + doc.String()
}

func bucketOf(created int64) int64 { return max(created, 0) / bucketLength }

func bucketKeys(bucket int64) string { return brewKeys + padded(bucket, 8) + "/" }

func padded(n int64, width int) string {
	text := strconv.FormatInt(max(n, 0), 10)
	return strings.Repeat("0", max(width-len(text), 0)) + text
}

func (x *index) load(record StoredRecord) {
	var bench benchRecord
	if record.Key == benchKey && codec.UnmarshalOpen(record.Value, &bench) == nil && bench.Version == indexVersion {
		x.bench = bench
	}
}

// catchUp looks for brews that the index does not know in their newest revision.
func (x *index) catchUp(a *App) {
	x.known = map[brewRef]bool{}
	x.bench.Version = indexVersion
	for _, book := range a.replica.Books() {
		x.scan(a, book)
	}
}

func (x *index) scan(a *App, book replica.BookInfo) {
	upto := x.bench.Upto[book.ID]
	a.replica.Docs(book.ID, func(part replica.DocPart) bool {
		if part.Part != partBrew || part.Member != book.Member {
			return true
		}
		x.note(brewRef{book.ID, part.Doc}, part.Erased)
		if part.Pos == 0 || part.Pos > upto {
			x.dirty(brewRef{book.ID, part.Doc})
		}
		return true
	})
}

// note keeps the count of brews.
func (x *index) note(ref brewRef, erased bool) {
	if erased {
		delete(x.known, ref)
		return
	}
	if x.known == nil {
		x.known = map[brewRef]bool{}
	}
	x.known[ref] = true
}

func (x *index) count() int { return len(x.known) }

// dirty notes a brew to be digested.
func (x *index) dirty(ref brewRef) { x.drop(ref, 0) }

// drop notes a brew to be digested, or if it is gone by then, to be taken out; created says where it stands.
func (x *index) drop(ref brewRef, created int64) {
	if x.todo == nil {
		x.todo = map[brewRef]int64{}
	}
	if _, noted := x.todo[ref]; !noted {
		x.order = append(x.order, ref)
	}
	x.todo[ref] = max(x.todo[ref], created)
}

// touch notes which of the changed parts are one's own brews; without any named, all of the book are looked at.
func (x *index) touch(a *App, book oplog.BookID, docs []replica.DocKey) {
	info, ok := a.bookInfo(book)
	if !ok {
		return
	}
	if len(docs) == 0 {
		x.scan(a, info)
		return
	}
	for _, key := range docs {
		if key.Part == partBrew && key.Member == info.Member {
			x.dirty(brewRef{book, key.Doc})
		}
	}
}

// flush digests what is noted and writes it. What is still being read from the disk stays noted.
func (x *index) flush(a *App) {
	if len(x.order) == 0 {
		return
	}
	var batch indexBatch
	var left []brewRef
	for i, ref := range x.order {
		if i >= chunk || !x.digest(a, ref, &batch) {
			left = append(left, ref)
			continue
		}
		delete(x.todo, ref)
		batch.done = append(batch.done, ref)
	}
	x.order = left
	if len(left) > 0 && len(batch.done) > 0 {
		a.emit(TimerEffect{Kind: "timer", Name: timerIndex, After: 0})
	}
	if len(batch.done) == 0 {
		return
	}
	if len(left) == 0 {
		x.complete(a)
	}
	x.bench.tidy(a.now)
	puts := append(batch.puts, StoredRecord{Key: benchKey, Value: codec.MustMarshal(x.bench)})
	a.watches.touch(needDocs)
	a.persistOwn(puts, batch.deletes, func(saved bool) {
		if !saved {
			x.again(batch.done)
		}
	})
}

// timerIndex goes on with a long digesting after the screens have had their turn.
const timerIndex = "app index"

type indexBatch struct {
	puts    []StoredRecord
	deletes []string
	done    []brewRef
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
		x.bench.Upto[book.ID] = book.Verified
	}
}

// digest makes one brew's entry; false while the brew is still being read.
func (x *index) digest(a *App, ref brewRef, batch *indexBatch) bool {
	part, ok := a.replica.Doc(ref.book, a.mine(ref.book, ref.doc, partBrew))
	if !ok || part.Erased {
		x.remove(ref, x.todo[ref], batch)
		return true
	}
	var content brewContent
	plain, status := a.body(ref.book, part)
	switch decodePart(plain, status, &content) {
	case replica.BodyLoading:
		return false
	case replica.BodyReady:
		x.enter(a.entry(ref, part, &content), &content, batch)
	}
	return true
}

func (a *App) entry(ref brewRef, part replica.DocPart, content *brewContent) entry {
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
	return entry{
		Book: ref.book, Doc: ref.doc, Created: content.Created, Ended: content.Ended,
		Digest: content.digest(ref.book, ref.doc, sample, code),
	}
}

// enter puts an entry in its places.
func (x *index) enter(e entry, content *brewContent, batch *indexBatch) {
	x.note(e.ref(), false)
	batch.puts = append(batch.puts, StoredRecord{Key: e.key(), Value: codec.MustMarshal(e)})
	bucket := bucketOf(e.Created)
	if !slices.Contains(x.bench.Buckets, bucket) {
		x.bench.Buckets = append(x.bench.Buckets, bucket)
		slices.SortFunc(x.bench.Buckets, func(p, q int64) int { return int(sign(q, p)) })
	}
	if _, read := x.pages[bucket]; read {
		x.pages[bucket] = placed(x.pages[bucket], e)
	}
	x.bench.Recent = placed(x.bench.Recent, e)
	x.bench.Going = slices.DeleteFunc(x.bench.Going, func(other entry) bool { return other.ref() == e.ref() })
	if content.State == brewGoing || e.Ended != 0 {
		x.bench.Going = placed(x.bench.Going, e)
	}
	if content.Created >= x.bench.LastAt {
		x.bench.Last, x.bench.LastAt = content.Setup, content.Created
	}
}

// placed puts an entry into a list that is ordered by creation, newest first, in place of its older self.
func placed(list []entry, e entry) []entry {
	out := slices.DeleteFunc(slices.Clone(list), func(other entry) bool { return other.ref() == e.ref() })
	at, _ := slices.BinarySearchFunc(out, e, newestFirst)
	return slices.Insert(out, at, e)
}

func newestFirst(p, q entry) int { return strings.Compare(q.key(), p.key()) }

// remove takes a brew out of all its places.
func (x *index) remove(ref brewRef, created int64, batch *indexBatch) {
	x.note(ref, true)
	gone := func(e entry) bool { return e.ref() == ref }
	for _, e := range slices.Concat(x.bench.Recent, x.bench.Going) {
		if gone(e) {
			created = e.Created
		}
	}
	x.bench.Recent = slices.DeleteFunc(x.bench.Recent, gone)
	x.bench.Going = slices.DeleteFunc(x.bench.Going, gone)
	for bucket, page := range x.pages {
		x.pages[bucket] = slices.DeleteFunc(page, gone)
	}
	if created != 0 {
		batch.deletes = append(batch.deletes, brewKey(created, ref.doc))
	}
}

// tidy bounds the lists that are handed over at the start.
func (b *benchRecord) tidy(now int64) {
	b.Recent = b.Recent[:min(len(b.Recent), mostRecent)]
	b.Going = slices.DeleteFunc(b.Going, func(e entry) bool { return e.Ended != 0 && now-e.Ended > coolingTime })
}

// page gives a bucket's entries, newest first; false while they are being read.
func (x *index) page(a *App, bucket int64) ([]entry, bool) {
	if page, ok := x.pages[bucket]; ok {
		return page, true
	}
	a.watches.reading = true
	if x.asked[bucket] {
		return nil, false
	}
	if x.asked == nil {
		x.asked, x.pages = map[int64]bool{}, map[int64][]entry{}
	}
	x.asked[bucket] = true
	a.readOwn(bucketKeys(bucket), func(found []StoredRecord) {
		delete(x.asked, bucket)
		x.pages[bucket] = x.decodePage(found)
	})
	return nil, false
}

// decodePage reads a bucket's records. An entry whose brew is gone (thrown away on another device) is left out.
func (x *index) decodePage(records []StoredRecord) []entry {
	page := []entry{}
	for _, record := range records {
		var e entry
		if codec.UnmarshalOpen(record.Value, &e) == nil && x.known[e.ref()] {
			page = append(page, e)
		}
	}
	slices.SortFunc(page, newestFirst)
	return page
}
