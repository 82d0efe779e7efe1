package replica

import (
	"slices"

	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// The replica's own parts of the notebook. They tell this person's other devices which clubs there are, and which devices
// want to be let into them.
const (
	partListing = firstOwnPart + 1
	partWanted  = firstOwnPart + 2
)

// ownParts knows where they are, so that nobody walks through a notebook of thousands to find them.
type ownParts struct {
	of   oplog.BookID // the notebook that keys are of
	keys []partKey
	seen bool // what they say was followed since one of them moved
}

// noteOwn is told of every part that is written in the notebook.
func (r *Replica) noteOwn(key partKey) {
	if key.part < firstOwnPart {
		return
	}
	r.own.seen = false
	if r.own.of == r.phone.Notebook {
		r.own.add(key)
	}
}

func (o *ownParts) add(key partKey) {
	if !slices.Contains(o.keys, key) {
		o.keys = append(o.keys, key)
	}
}

// ownKeys are the replica's own parts of the notebook.
func (r *Replica) ownKeys(notebook *book) []partKey {
	if r.own.of != notebook.id {
		r.own = ownParts{of: notebook.id}
		notebook.log.docs.EachFrom(firstOwnPart, func(w *club.Winner) { r.own.add(partKey{w.Doc, w.Part}) })
		for _, key := range r.pendingParts(notebook).keys {
			if key.part >= firstOwnPart {
				r.own.add(key)
			}
		}
	}
	return r.own.keys
}

// listing says that this person is in a club.
type listing struct {
	Book   oplog.BookID   `cbor:"1,keyasint"`
	Member oplog.MemberID `cbor:"2,keyasint"`
	Host   string         `cbor:"3,keyasint"`
}

// wanted says that a device of this person wants to be let into clubs, with its own proof for each.
type wanted struct {
	Device club.Enrolment `cbor:"1,keyasint"`
	Proofs []wantedProof  `cbor:"2,keyasint"`
}

type wantedProof struct {
	_      struct{} `cbor:",toarray"`
	Book   oplog.BookID
	Member oplog.MemberID
	Sig    []byte
}

func listingDoc(book oplog.BookID) oplog.DocID {
	sum := seal.Sum("hushcup/1 listing", book[:])
	return oplog.DocID(sum[:16])
}

func wantedDoc(device oplog.DeviceID) oplog.DocID {
	sum := seal.Sum("hushcup/1 wanted", device[:])
	return oplog.DocID(sum[:16])
}

func (r *Replica) notebook() *book { return r.books[r.phone.Notebook] }

// writeOwn writes one of the replica's own parts, unless it says so already.
func (r *Replica) writeOwn(doc oplog.DocID, part uint32, v any) {
	notebook := r.notebook()
	if notebook == nil || notebook.removed || notebook.halted {
		return
	}
	plain := codec.MustMarshal(v)
	if old, status := r.readOwn(notebook, doc, part); status == BodyLoading || status == BodyReady && string(old) == string(plain) {
		return
	}
	_ = r.put(notebook, &PutArgs{Book: notebook.id, Doc: doc, Part: part, Plain: plain})
}

func (r *Replica) readOwn(notebook *book, doc oplog.DocID, part uint32) ([]byte, BodyStatus) {
	found, ok := r.Doc(notebook.id, DocKey{notebook.record.Member, doc, part})
	if !ok {
		return nil, BodyMissing
	}
	return r.Body(notebook.id, found)
}

// listClub tells the other devices of a club.
func (r *Replica) listClub(b *book) {
	r.writeOwn(listingDoc(b.id), partListing, &listing{Book: b.id, Member: b.record.Member, Host: b.record.Host})
}

// eachOwn calls f for the replica's own parts of a kind; whole is false when some are still being read.
func (r *Replica) eachOwn(part uint32, f func(DocPart, []byte)) (whole bool) {
	notebook := r.notebook()
	if notebook == nil {
		return true
	}
	whole = true
	for _, key := range r.ownKeys(notebook) {
		if key.part != part {
			continue
		}
		d, ok := r.Doc(notebook.id, DocKey{notebook.record.Member, key.doc, key.part})
		if !ok || d.Erased {
			continue
		}
		plain, status := r.Body(notebook.id, d)
		if status == BodyLoading {
			whole = false
		}
		if status == BodyReady {
			f(d, plain)
		}
	}
	return whole
}

// listings are the clubs that the notebook knows.
func (r *Replica) listings() (list []listing, whole bool) {
	whole = r.eachOwn(partListing, func(_ DocPart, plain []byte) {
		var l listing
		if codec.UnmarshalOpen(plain, &l) == nil {
			list = append(list, l)
		}
	})
	return list, whole
}

// welcomeListed begins the clubs that another device of this person joined.
func (r *Replica) welcomeListed(s *session) {
	if s.device != r.device || r.own.seen {
		return
	}
	list, _ := r.listings()
	for _, l := range list {
		r.beginListed(&l)
	}
}

func (r *Replica) beginListed(l *listing) {
	if r.books[l.Book] != nil || l.Book == r.phone.Notebook {
		return
	}
	b := r.newBook(l.Book, bookRecord{Kind: club.Club, Host: l.Host}, r.device)
	r.addBook(b)
	r.saveBook(b)
	r.want(l.Host)
	r.changed(b.id, ChangedSync)
}

// advanceListed follows what the notebook says, and finds out in which clubs this device already is.
func (r *Replica) advanceListed(b *book) {
	if (b.record.Member == oplog.MemberID{}) && r.joining(b.id) == nil && b.born() {
		if m, in := b.log.state.MemberOf(r.device); in {
			if failed := r.joinOf(b.id); failed != nil {
				r.dropJob(failed)
			}
			b.record.Member, b.record.Kind = m.ID, b.log.state.Kind()
			r.saveBook(b)
			r.changed(b.id, ChangedSync|ChangedState|ChangedDocs)
		}
	}
	if b.id == r.phone.Notebook {
		r.followNotebook()
	}
}

// followNotebook begins listed clubs, asks to be let into them, and lets other devices in.
func (r *Replica) followNotebook() {
	if !r.own.seen {
		list, whole := r.listings()
		r.own.seen = whole
		for i := range list {
			r.beginListed(&list[i])
		}
		if whole {
			r.wantIn(list)
		}
	}
	for _, b := range r.order {
		if b.record.Kind == club.Club {
			r.letIn(b)
		}
	}
	r.awaitEntry()
}

// awaitEntry asks again and again whether another device has let this one into the listed clubs: nobody else would tell.
func (r *Replica) awaitEntry() {
	for _, b := range r.order {
		if b.record.Kind == club.Club && b.record.Member == (oplog.MemberID{}) && !b.asked && r.joining(b.id) == nil {
			r.askBooksSoon(b.record.Host)
		}
	}
}
