package replica

import (
	"io"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
)

// Config is what a replica is made of. Rand must be cryptographically strong outside of tests.
type Config struct{ Rand io.Reader }

// Replica is all books of one phone.
type Replica struct{}

// Ticket names a command until Saved or Failed.
type Ticket uint64

// New makes a replica that waits for Load.
func New(c Config) *Replica { return &Replica{} }

// Step takes one event and gives what is to be done.
func (r *Replica) Step(now int64, ev Event) []Effect { return nil }

var errSkeleton = refuse("not-yet", "not yet")

// Under says which keys seal a body.
type Under struct {
	envelope bool
	sample   oplog.SampleID
}

// UnderEpoch seals for every member of the book.
var UnderEpoch = Under{}

// UnderEnvelope seals under the author's envelope of a sample: for the author until the unseal, then for every member.
func UnderEnvelope(sample oplog.SampleID) Under { return Under{envelope: true, sample: sample} }

// PutArgs is a revision of one part of a document.
type PutArgs struct {
	Book    oplog.BookID
	Doc     oplog.DocID
	Part    uint32
	Under   Under
	Plain   []byte
	Uniform bool // pad to the one size of guesses and answers
}

// FlightArgs opens a flight.
type FlightArgs struct {
	Closes int64 // server time in milliseconds, 0 for none
	Pins   club.Pins
}

// SampleArgs seals a sample.
type SampleArgs struct {
	Flight     oplog.FlightID
	Code       uint16
	Centigrams uint32
	Declared   []byte // allergens and additives: open to every member
	Answer     []byte
	Holders    []oplog.MemberID
}

// Start makes identity and notebook when there is none yet, and connects to host ("" stays offline). It must follow Load.
func (r *Replica) Start(now int64, host string) (Ticket, error) { return 0, errSkeleton }

// CreateClub begins a club, with this person as its organiser.
func (r *Replica) CreateClub(now int64, host string) (oplog.BookID, Ticket, error) {
	return oplog.BookID{}, 0, errSkeleton
}

// Put writes a revision of a part.
func (r *Replica) Put(now int64, a PutArgs) (Ticket, error) { return 0, errSkeleton }

// Invite opens an invitation to a club. The text is what seal.ParseInvite reads; the app makes a link of it. Expires is in
// server time.
func (r *Replica) Invite(now int64, book oplog.BookID, role club.Role, uses uint16, expires int64) (string, Ticket, error) {
	return "", 0, errSkeleton
}

// Revoke ends an invitation.
func (r *Replica) Revoke(now int64, book oplog.BookID, key oplog.DeviceID) (Ticket, error) {
	return 0, errSkeleton
}

// Pair opens an invitation for one further device of this person.
func (r *Replica) Pair(now int64) (string, Ticket, error) { return "", 0, errSkeleton }

// Join comes in by an invitation, to a club or (pairing) to a notebook. It goes on by itself, over restarts, until
// Joining shows it done or failed.
func (r *Replica) Join(now int64, link, host string) (oplog.BookID, Ticket, error) {
	return oplog.BookID{}, 0, errSkeleton
}

// Flight opens a flight.
func (r *Replica) Flight(now int64, book oplog.BookID, a FlightArgs) (oplog.FlightID, Ticket, error) {
	return oplog.FlightID{}, 0, errSkeleton
}

// Closing moves a flight's closing time.
func (r *Replica) Closing(now int64, book oplog.BookID, flight oplog.FlightID, closes int64) (Ticket, error) {
	return 0, errSkeleton
}

// SealSample seals a sample with this person as its keeper.
func (r *Replica) SealSample(now int64, book oplog.BookID, a SampleArgs) (oplog.SampleID, Ticket, error) {
	return oplog.SampleID{}, 0, errSkeleton
}

// Lock closes samples of a flight; all that are open when samples is empty.
func (r *Replica) Lock(now int64, book oplog.BookID, flight oplog.FlightID, samples []oplog.SampleID) (Ticket, error) {
	return 0, errSkeleton
}

// Unseal means to publish the keys of samples. It is an intention until this phone has verified their ordered close.
func (r *Replica) Unseal(now int64, book oplog.BookID, samples []oplog.SampleID) (Ticket, error) {
	return 0, errSkeleton
}

// Role changes a member's role.
func (r *Replica) Role(now int64, book oplog.BookID, member oplog.MemberID, role club.Role) (Ticket, error) {
	return 0, errSkeleton
}

// RemoveMember takes a member out of a club.
func (r *Replica) RemoveMember(now int64, book oplog.BookID, member oplog.MemberID) (Ticket, error) {
	return 0, errSkeleton
}

// RemoveDevice takes one of this person's own devices out of the notebook and of every club.
func (r *Replica) RemoveDevice(now int64, device oplog.DeviceID) (Ticket, error) {
	return 0, errSkeleton
}

// Leave takes this person out of a club.
func (r *Replica) Leave(now int64, book oplog.BookID) (Ticket, error) { return 0, errSkeleton }

// Erase has the bodies of this person's own documents forgotten.
func (r *Replica) Erase(now int64, book oplog.BookID, docs []oplog.DocID) (Ticket, error) {
	return 0, errSkeleton
}

// RecoveryCode makes a recovery code and replaces the one before it. The code is kept nowhere on this phone.
func (r *Replica) RecoveryCode(now int64) (string, Ticket, error) { return "", 0, errSkeleton }

// Recover brings this device into all books that a recovery code opens. It goes on by itself, like Join.
func (r *Replica) Recover(now int64, code, host string) (Ticket, error) { return 0, errSkeleton }

// Resume lets a restored book order new ops again.
func (r *Replica) Resume(now int64, book oplog.BookID) (Ticket, error) { return 0, errSkeleton }

// Discard forgets a refused op.
func (r *Replica) Discard(now int64, id uint64) (Ticket, error) { return 0, errSkeleton }

// Retry puts a refused op back on its way.
func (r *Replica) Retry(now int64, id uint64) (Ticket, error) { return 0, errSkeleton }
