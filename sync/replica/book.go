package replica

import (
	"slices"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// book is one book of the phone: what is ordered, what waits, and how the conversation about it stands.
type book struct {
	id     oplog.BookID
	record bookRecord
	log    ledger
	out    *outbox // this device's own ops
	guest  *outbox // the recovery device's ops, while a recovery is under way

	ahead      *club.State // cache of Ahead; nil when it must be made anew
	intentions []oplog.SampleID
	opened     map[envelopeRef]seal.Key // envelopes that were unwrapped
	removed    bool                     // this person is no longer a member
	code       string                   // why folding stopped
	text       string

	// What follows is of this connection, or of this run of the app.
	answered bool   // the subscription was answered
	asked    bool   // a subscription was sent
	head     uint64 // the server's newest position, as last heard
	seenTo   uint64 // the last position that this subscription brought, folded before or not
	doubt    doubt
	restored bool   // the server orders nothing new until resume
	halted   bool   // folding stopped; only a new start tries again
	writing  uint64 // position that the transaction under way will make durable
	written  uint64 // position that is durable
	told     uint64 // position that Received has named
	epochAt  int64  // when this phone makes the epoch that is due
	offer    *offer
	troubled string // code of the last trouble with pushing
	slowed   bool   // a timer holds pushing back
	freezing bool   // a timer will freeze what waits
	calls    uint   // troubles in a row
}

func (r *Replica) newBook(id oplog.BookID, record bookRecord, author oplog.DeviceID) *book {
	return &book{id: id, record: record, log: r.newLedger(), out: newOutbox(author), opened: map[envelopeRef]seal.Key{}}
}

// current says that this phone has verified everything that the server has, as far as it heard.
func (b *book) current() bool { return b.answered && b.log.order.Pos >= b.head && !b.halted }

// born says whether the book has an ordered first entry.
func (b *book) born() bool { return b.log.order.Pos > 0 }

// addBook puts a book into its place, sorted by id.
func (r *Replica) addBook(b *book) {
	r.books[b.id] = b
	at, _ := slices.BinarySearchFunc(r.order, b.id, func(a *book, id oplog.BookID) int {
		return slices.Compare(a.id[:], id[:])
	})
	r.order = slices.Insert(r.order, at, b)
}

func (r *Replica) dropBook(b *book) {
	delete(r.books, b.id)
	r.order = slices.DeleteFunc(r.order, func(o *book) bool { return o == b })
}

func (r *Replica) saveBook(b *book) { r.putOwn(bookKey(b.id), &b.record) }

// member is this person in a book, as it will be once what waits is ordered.
func (r *Replica) member(b *book) (*club.Member, bool) {
	return r.stateAhead(b).Member(b.record.Member)
}

// writable finds a book that this person may write to.
func (r *Replica) writable(id oplog.BookID) (*book, error) {
	b := r.books[id]
	switch {
	case b == nil:
		return nil, refuse("no-such-book", "book %q is not on this phone", id)
	case b.removed:
		return nil, refuse("not-a-member", "this person is not in book %q any more", id)
	case b.halted:
		return nil, refuse(b.code, "book %q is stopped", id)
	case b.record.Former:
		return nil, refuse("former-notebook", "book %q was replaced when this phone was paired", id)
	case b.record.Member == oplog.MemberID{}:
		return nil, refuse("not-joined-yet", "this person is not in book %q yet", id)
	}
	return b, nil
}

// organiser finds a book that this person may lead.
func (r *Replica) organiser(id oplog.BookID) (*book, error) {
	b, err := r.writable(id)
	if err != nil {
		return nil, err
	}
	if m, ok := r.member(b); !ok || m.Role != club.Organiser {
		return nil, refuse("not-an-organiser", "only an organiser does this")
	}
	return b, nil
}

// identity is who signs as an author: this device, or the recovery device while it is at work.
func (r *Replica) identity(author oplog.DeviceID) (seal.Identity, bool) {
	if r.me != nil && author == r.device {
		return *r.me, true
	}
	if j := r.recovering(); j != nil && author == oplog.DeviceID(j.identity().Public().Sign) {
		return j.identity(), true
	}
	return seal.Identity{}, false
}
