package club

import (
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// Closed says how a sample closed.
type Closed uint8

// The ways in which a sample closes.
const (
	Open          Closed = 0
	ClosedByLock  Closed = 1
	ClosedByTime  Closed = 2
	ClosedByEarly Closed = 3 // its keeper unsealed it before any close: "opened early"
)

// SampleInfo is a sample and what became of it.
type SampleInfo struct {
	Body        SampleBody
	Pos         uint64
	Keeper      oplog.MemberID
	Device      oplog.DeviceID // that sealed it
	Wrap        oplog.Wrap     // of the keeper's envelope, under which the answer lies
	ClosedPos   uint64         // 0 while it is open; a guess at an earlier position came before the close
	ClosedHow   Closed
	UnsealedPos uint64    // 0 while it is sealed
	Private     *[32]byte // nil while it is sealed
}

// Holds says whether a member is the keeper or a named holder.
func (i *SampleInfo) Holds(member oplog.MemberID) bool { panic("unwritten") }

// Samples are a flight's samples, in the order in which they were sealed.
func (s *State) Samples(flight oplog.FlightID) []SampleInfo { panic("unwritten") }

// Sample finds a sample.
func (s *State) Sample(id oplog.SampleID) (SampleInfo, bool) { panic("unwritten") }

// WrapInfo is the envelope of a member for a sample, as it was handed to the sample's key.
type WrapInfo struct {
	Member        oplog.MemberID
	Envelope      oplog.KeyID
	NotebookEpoch oplog.KeyID
	Pos           uint64
	Wrap          oplog.Wrap
}

// Wraps are the envelopes of a sample, in order: unwrap with the sample's private key and
// seal.Info(seal.PurposeEnvelope, book, sample, Member, Envelope).
func (s *State) Wraps(sample oplog.SampleID) []WrapInfo { panic("unwritten") }

// WrapOf finds a member's envelope by its key's id, whatever sample it belongs to.
func (s *State) WrapOf(member oplog.MemberID, envelope oplog.KeyID) (WrapInfo, bool) {
	panic("unwritten")
}

// DeclaredAD is what the open declaration of a sample is bound to.
func DeclaredAD(book oplog.BookID, sample oplog.SampleID) []byte {
	return seal.Join("hushcup/1 declared", book[:], sample[:])
}

// AnswerAD is what the sealed answer of a sample is bound to.
func AnswerAD(book oplog.BookID, sample oplog.SampleID, keeper oplog.MemberID) []byte {
	return seal.Join("hushcup/1 answer", book[:], sample[:], keeper[:])
}
