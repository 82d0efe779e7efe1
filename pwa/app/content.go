package app

import (
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

// partCache keeps opened parts, by the revision that they are of. It holds what the screens show again and again; it is emptied
// when it has grown, and fills again.
type partCache struct {
	plain map[partRevision][]byte
}

type partRevision struct {
	book oplog.BookID
	key  replica.DocKey
	pos  uint64 // in the order
	item uint64 // where there is none yet
}

const mostCachedParts = 2000

func (c *partCache) reset() { c.plain = map[partRevision][]byte{} }

// forgetWaiting forgets what has no place in the order yet: the numbers of what was not written come again.
func (c *partCache) forgetWaiting() {
	for revision := range c.plain {
		if revision.item != 0 {
			delete(c.plain, revision)
		}
	}
}

// body opens a part. While it is being read from the disk the look under way is marked as unfinished.
func (a *App) body(book oplog.BookID, part replica.DocPart) ([]byte, replica.BodyStatus) {
	if part.Erased {
		return nil, replica.BodyDropped
	}
	revision := partRevision{book: book, key: part.DocKey, pos: part.Pos}
	if part.Pos == 0 {
		revision.item = part.Item
	}
	if plain, ok := a.parts.plain[revision]; ok {
		return plain, replica.BodyReady
	}
	plain, status := a.replica.Body(book, part)
	switch status {
	case replica.BodyLoading:
		a.watches.reading = true
	case replica.BodyReady:
		if len(a.parts.plain) >= mostCachedParts {
			a.parts.reset()
		}
		a.parts.plain[revision] = plain
	}
	return plain, status
}

// read opens a member's part and decodes it. What is missing, sealed or not readable leaves into as it is.
func (a *App) read(book oplog.BookID, key replica.DocKey, into any) replica.BodyStatus {
	part, ok := a.replica.Doc(book, key)
	if !ok {
		return replica.BodyMissing
	}
	plain, status := a.body(book, part)
	return decodePart(plain, status, into)
}

func decodePart(plain []byte, status replica.BodyStatus, into any) replica.BodyStatus {
	if status == replica.BodyReady && codec.UnmarshalOpen(plain, into) != nil {
		return replica.BodyUnreadable
	}
	return status
}

// mine names a part of this person's own document in a book.
func (a *App) mine(book oplog.BookID, doc oplog.DocID, part uint32) replica.DocKey {
	return replica.DocKey{Member: a.me(book), Doc: doc, Part: part}
}

// shared names a part of a document that the organisers share.
func shared(doc oplog.DocID, part uint32) replica.DocKey { return replica.DocKey{Doc: doc, Part: part} }

// me is this person in a book; zero while they are not in.
func (a *App) me(book oplog.BookID) oplog.MemberID {
	info, _ := a.bookInfo(book)
	return info.Member
}

func (a *App) bookInfo(book oplog.BookID) (replica.BookInfo, bool) {
	for _, info := range a.replica.Books() {
		if info.ID == book {
			return info, true
		}
	}
	return replica.BookInfo{}, false
}

// write puts a revision of a part. Fields of the revision before that this version does not know stay in it.
func (a *App) write(book oplog.BookID, doc oplog.DocID, part uint32, under replica.Under, content any) *Error {
	key := a.mine(book, doc, part)
	if sharedPart(part) {
		key = shared(doc, part)
	}
	plain := codec.MustMarshal(content)
	if before, ok := a.replica.Doc(book, key); ok && !before.Erased {
		old, status := a.body(book, before)
		if status == replica.BodyLoading {
			return errReading
		}
		plain = keepUnknown(old, plain)
	}
	if len(plain) > mostPlain {
		return &Error{Code: CodeTooLong, Text: "this is more than one page can hold"}
	}
	return a.wait(a.replica.Put(a.now, replica.PutArgs{
		Book: book, Doc: doc, Part: part, Under: under, Plain: plain, Uniform: part == partGuess || part == partFirstGuess,
	}))
}

// mostPlain is what fits into a body; a guess has its own, smaller bound.
const mostPlain = 60000

func sharedPart(part uint32) bool {
	return part == partBookWords || part == partBookWater || part == partFlightWords || part == partFlightPins
}

// keepUnknown carries fields over that an older revision has and the new one does not speak of. A content always writes all
// the fields that it knows.
func keepUnknown(old, plain []byte) []byte {
	var before, after map[int64]codec.Raw
	if codec.UnmarshalOpen(old, &before) != nil || codec.UnmarshalOpen(plain, &after) != nil {
		return plain
	}
	grown := false
	for field, value := range before {
		if _, known := after[field]; !known {
			after[field], grown = value, true
		}
	}
	if !grown {
		return plain
	}
	return codec.MustMarshal(after)
}
