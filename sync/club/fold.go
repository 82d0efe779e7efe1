package club

import (
	"math"

	"hushcup/sync/codec"
	"hushcup/sync/oplog"
)

// RulesVersion is the newest version of the rules that this package knows.
const RulesVersion = 1

// ChainAt gives the reader's own verified chain value at a position; false when it is not retained, and then an author's
// `seen` there goes unchecked.
type ChainAt func(pos uint64) (oplog.Hash, bool)

// State is what a book's log means up to a position. It is not safe for concurrent use. What its methods hand out is its
// own: read it, don't change it.
//
// Every change goes through core, keep or put, so that Admit can take it back (undo.go).
type State struct {
	core

	byMember  map[oplog.MemberID]*Member
	seats     map[oplog.DeviceID]*seat
	byInvite  map[oplog.DeviceID]*InviteInfo
	byFlight  map[oplog.FlightID]*flight
	bySample  map[oplog.SampleID]*sample
	envelopes map[envelopeKey]*WrapInfo
	owners    map[oplog.DocID]owner // built when first asked for; see owner.go

	journal *journal // of the run that is being admitted, nil while folding
	last    *journal // of the run that was admitted last, for Undo
}

// core is the part of the state that is copied as a whole before a run. Its slices are only ever appended to.
type core struct {
	order     oplog.Order
	book      oplog.BookID
	kind      BookKind
	rules     uint16
	epochDue  bool
	nextClose int64 // the earliest closing time of a flight that is not closed by time yet
	members   []*Member
	epochs    []*EpochInfo
	invites   []*InviteInfo
	flights   []*flight
	samples   []*sample
}

// New is the state before the first entry.
func New() *State {
	return &State{
		core:      core{nextClose: math.MaxInt64},
		byMember:  map[oplog.MemberID]*Member{},
		seats:     map[oplog.DeviceID]*seat{},
		byInvite:  map[oplog.DeviceID]*InviteInfo{},
		byFlight:  map[oplog.FlightID]*flight{},
		bySample:  map[oplog.SampleID]*sample{},
		envelopes: map[envelopeKey]*WrapInfo{},
	}
}

// Order is where the folded order stands.
func (s *State) Order() oplog.Order { return s.order }

// Book is the book's id, zero before the first entry.
func (s *State) Book() oplog.BookID { return s.book }

// Kind tells a notebook from a club.
func (s *State) Kind() BookKind { return s.kind }

// Rules is the rules version in force.
func (s *State) Rules() uint16 { return s.rules }

// Fold takes the next entry of the order: nil, or *Void (the entry changes nothing but the chains), or *Tampering or *Stop
// (the state is as it was, and no further entry can be folded).
func (s *State) Fold(e oplog.Entry, chainAt ChainAt) error {
	s.last = nil
	if r := s.placed(&e); r != fine {
		return r.err()
	}
	if r := s.inspect(&e, chainAt); r != fine {
		return r.err()
	}
	if s.order.Pos == 0 {
		return s.begin(&e)
	}
	s.advance(&e)
	return s.take(&e).err()
}

// placed checks that an entry is the next of the order.
func (s *State) placed(e *oplog.Entry) rule {
	switch {
	case e.Order.Pos != s.order.Pos+1:
		return positionGap
	case e.Order.At < s.order.At:
		return timeFell
	case e.Order != s.order.Next(e.Op.Hash(), e.Order.At):
		return chainBroken
	}
	return fine
}

// inspect finds what makes an entry impossible rather than void: nothing of it may change the state.
func (s *State) inspect(e *oplog.Entry, chainAt ChainAt) rule {
	op := &e.Op
	switch {
	case !op.Kind.Known():
		return unknownKind
	case s.order.Pos > 0 && op.Kind != oplog.Create && op.Book != s.book:
		return wrongBook
	}
	if seat := s.seats[op.Device]; seat != nil {
		if r := follows(seat.head, op); r != fine {
			return r
		}
		if r := s.seen(e, chainAt); r != fine {
			return r
		}
	}
	if op.Kind.Control() && op.Body == nil {
		return bodyMissing
	}
	return s.newer(op)
}

func follows(head oplog.Head, op *oplog.Op) rule {
	switch {
	case op.Seq <= head.Seq:
		return seqTaken
	case head.Follows(op) != nil:
		return chainGap
	}
	return fine
}

// seen compares what the author had verified with the reader's own chain.
func (s *State) seen(e *oplog.Entry, chainAt ChainAt) rule {
	pos, chain := e.Op.SeenPos, e.Op.SeenHash
	if pos >= e.Order.Pos {
		return seenAhead
	}
	own, ok := oplog.Hash{}, true
	switch {
	case pos == s.order.Pos:
		own = s.order.Chain
	case pos > 0 && chainAt != nil:
		own, ok = chainAt(pos)
	case pos > 0:
		ok = false
	}
	if ok && own != chain {
		return seenContradicts
	}
	return fine
}

// newer finds ops that bring rules of a later version; their other fields may be unknown here.
func (s *State) newer(op *oplog.Op) rule {
	switch op.Kind {
	case oplog.Create:
		if s.order.Pos > 0 {
			return fine
		}
	case oplog.Rules:
		if m, ok := s.MemberOf(op.Device); !ok || m.Role != Organiser || s.seats[op.Device].info().Recovery {
			return fine
		}
	default:
		return fine
	}
	var body struct {
		Rules uint16 `cbor:"1,keyasint"`
	}
	if codec.UnmarshalOpen(op.Body, &body) == nil && body.Rules > RulesVersion {
		return newerRules
	}
	return fine
}

// begin folds the first entry: without a valid one there is no book.
func (s *State) begin(e *oplog.Entry) error {
	r := s.take(e)
	if r == fine {
		s.order = e.Order
		return nil
	}
	why := table[noCreate]
	return &Tampering{why.Code, why.Text + ": " + table[r].Text, why.Hint}
}

// advance moves the chains on and closes what the entry's time closes: all that a void entry does.
func (s *State) advance(e *oplog.Entry) {
	s.order = e.Order
	if seat := s.seats[e.Op.Device]; seat != nil {
		keep(s, &seat.head)
		seat.head = oplog.Head{Seq: e.Op.Seq, Hash: e.Op.Hash()}
	}
	s.closeByTime(e.Order)
}

// turn is one entry while it is judged: what it says, who says it, when.
type turn struct {
	op     *oplog.Op
	pos    uint64
	at     int64
	member *Member // nil for create and join
	device *DeviceInfo
}

// organiser says whether the author may do what organisers may.
func (t *turn) organiser() bool { return t.member.Role == Organiser }

// take judges an entry and, only if no rule speaks against it, changes the state.
func (s *State) take(e *oplog.Entry) rule {
	t := turn{op: &e.Op, pos: e.Order.Pos, at: e.Order.At}
	if t.op.Time.Millis() > t.at+oplog.MaxAhead {
		return timeAhead
	}
	if r := header(t.op); r != fine {
		return r
	}
	if r := s.author(&t); r != fine {
		return r
	}
	if s.kind == Notebook && ofClubs[t.op.Kind] {
		return clubOnly
	}
	return acts[t.op.Kind](s, &t)
}

// header checks what the headers of control ops leave empty. A sample's names the keys of its answer.
func header(op *oplog.Op) rule {
	if op.Kind == oplog.Part {
		return fine
	}
	if op.Doc != (oplog.DocID{}) || op.Part != 0 {
		return malformed
	}
	if op.Kind != oplog.Sample && (len(op.Keys) > 0 || op.Wrap != nil) {
		return malformed
	}
	return fine
}

// author finds who writes, and what a recovery device may not write.
func (s *State) author(t *turn) rule {
	seat := s.seats[t.op.Device]
	switch {
	case t.op.Kind == oplog.Create && s.order.Pos > 0:
		return alreadyCreated
	case t.op.Kind == oplog.Create:
		return fine
	case s.order.Pos == 0:
		return noSuchBook
	case t.op.Kind == oplog.Join && seat != nil:
		return deviceKnown
	case t.op.Kind == oplog.Join && t.op.Seq == 1:
		return fine
	case seat == nil || !seat.info().In():
		return notAMember
	}
	t.member, t.device = seat.member, seat.info()
	if t.device.Recovery && !ofRecovery(t.op.Kind) {
		return recoveryOnly
	}
	return fine
}

// ofRecovery are the kinds that a recovery device may write. `resume` is among them because a notebook whose server lost its
// tail, and whose only device is lost, could otherwise never be recovered.
func ofRecovery(kind oplog.Kind) bool {
	return kind == oplog.Device || kind == oplog.Remove || kind == oplog.Resume
}

// ofClubs are the kinds that a notebook does not know.
var ofClubs = [...]bool{
	oplog.Role: true, oplog.Flight: true, oplog.Sample: true, oplog.Lock: true, oplog.Unseal: true, oplog.Leave: true,
	oplog.Closing: true,
}

// acts judge and carry out one kind each.
var acts = [...]func(*State, *turn) rule{
	oplog.Part:    (*State).part,
	oplog.Create:  (*State).create,
	oplog.Invite:  (*State).invite,
	oplog.Revoke:  (*State).revoke,
	oplog.Join:    (*State).join,
	oplog.Device:  (*State).bringDevice,
	oplog.Remove:  (*State).remove,
	oplog.Role:    (*State).role,
	oplog.Epoch:   (*State).newEpoch,
	oplog.Flight:  (*State).openFlight,
	oplog.Sample:  (*State).sealSample,
	oplog.Lock:    (*State).lock,
	oplog.Unseal:  (*State).unseal,
	oplog.Erase:   (*State).erase,
	oplog.Rules:   (*State).raiseRules,
	oplog.Resume:  (*State).resume,
	oplog.Leave:   (*State).leave,
	oplog.Closing: (*State).moveClosing,
}
