package club

import (
	"hushcup/sync/oplog"
)

// Bodies of control ops. They stand in clear, are maps with integer keys, and hold no personal text. A body with an unknown
// field is malformed: new fields come with a higher rules version.

// BookKind tells a notebook from a club.
type BookKind uint8

// The two kinds of book.
const (
	Notebook BookKind = 1 // one person, their devices
	Club     BookKind = 2
)

// Role is what a member may do in a club.
type Role uint8

// The roles. In a notebook the owner is an organiser.
const (
	Taster    Role = 1
	Organiser Role = 2
)

// Enrolment is a device with both its public keys.
type Enrolment struct {
	_        struct{} `cbor:",toarray"`
	Sign     oplog.DeviceID
	Box      [32]byte
	Recovery bool // it may sign nothing but `device` and the `remove` of a recovery device of the same member
}

// Wrapped is a key under HPKE, for one device.
type Wrapped struct {
	_      struct{} `cbor:",toarray"`
	Device oplog.DeviceID
	Enc    [32]byte
	Box    []byte
}

// Sealed is a small ciphertext inside a control body, with the ids of the keys that seal it, outermost first.
type Sealed struct {
	_    struct{} `cbor:",toarray"`
	Keys []oplog.KeyID
	Box  []byte
}

// Grant is an epoch key handed to devices: Wraps must name exactly the devices that are to have it. Before is the previous
// epoch's key sealed under this one (nil in `create`).
type Grant struct {
	ID     oplog.KeyID `cbor:"1,keyasint"`
	Wraps  []Wrapped   `cbor:"2,keyasint"`
	Before *Sealed     `cbor:"3,keyasint,omitempty"`
}

// CreateBody begins a book: the first member with all their devices, the author among them, and the first epoch.
type CreateBody struct {
	Rules   uint16         `cbor:"1,keyasint"`
	Kind    BookKind       `cbor:"2,keyasint"`
	Nonce   [16]byte       `cbor:"3,keyasint"`
	Member  oplog.MemberID `cbor:"4,keyasint"`
	Devices []Enrolment    `cbor:"5,keyasint"`
	Epoch   Grant          `cbor:"6,keyasint"`
}

// InviteBody opens an invitation. With Member set it brings further devices to that member (pairing) and may be written by
// that member only; without, it brings people to a club and is written by an organiser.
type InviteBody struct {
	Key     oplog.DeviceID  `cbor:"1,keyasint"` // Ed25519 public key from the invitation's secret
	Uses    uint16          `cbor:"2,keyasint"`
	Expires int64           `cbor:"3,keyasint"` // by the server's time, milliseconds
	Role    Role            `cbor:"4,keyasint"`
	Epoch   Sealed          `cbor:"5,keyasint"` // the epoch key, under the key that the secret yields
	EpochID oplog.KeyID     `cbor:"6,keyasint"`
	Member  *oplog.MemberID `cbor:"7,keyasint,omitempty"`
}

// RevokeBody ends an invitation.
type RevokeBody struct {
	Key oplog.DeviceID `cbor:"1,keyasint"`
}

// JoinBody brings a member with all their devices, or a further device of a member (pairing). Proof is the invite key's
// signature over JoinMessage; the op itself is signed by the joining device.
type JoinBody struct {
	Member  oplog.MemberID `cbor:"1,keyasint"`
	Invite  oplog.DeviceID `cbor:"2,keyasint"`
	Devices []Enrolment    `cbor:"3,keyasint"`
	Proof   []byte         `cbor:"4,keyasint"`
	EpochID oplog.KeyID    `cbor:"5,keyasint"`
	Wraps   []Wrapped      `cbor:"6,keyasint"` // the current epoch for each of Devices
}

// DeviceBody is signed by an enrolled device of the member (the op's author) and by the new one (Proof, over DeviceMessage).
// It carries the current epoch for the new device.
type DeviceBody struct {
	Device  Enrolment   `cbor:"1,keyasint"`
	Proof   []byte      `cbor:"2,keyasint"`
	EpochID oplog.KeyID `cbor:"3,keyasint"`
	Wraps   []Wrapped   `cbor:"4,keyasint"`
}

// RemoveBody takes out a member (by an organiser) or single devices of the author's own member, and carries the new epoch,
// wrapped to exactly the devices in at its position.
type RemoveBody struct {
	Member  *oplog.MemberID  `cbor:"1,keyasint,omitempty"`
	Devices []oplog.DeviceID `cbor:"2,keyasint,omitempty"`
	Epoch   Grant            `cbor:"3,keyasint"`
}

// RoleBody changes a member's role.
type RoleBody struct {
	Member oplog.MemberID `cbor:"1,keyasint"`
	Role   Role           `cbor:"2,keyasint"`
}

// EpochBody is a new epoch by an organiser, as after somebody left.
type EpochBody struct {
	Epoch Grant `cbor:"1,keyasint"`
}

// FlightBody opens a flight. Its words (title, notes) stand in the shared document FlightDoc(ID), sealed.
type FlightBody struct {
	ID     oplog.FlightID `cbor:"1,keyasint"`
	Closes int64          `cbor:"2,keyasint"` // server time in milliseconds, 0 for none
	Pins   Pins           `cbor:"3,keyasint"`
}

// Pins fix by hash what a flight is scored with.
type Pins struct {
	_       struct{} `cbor:",toarray"`
	Atlas   oplog.Hash
	Prior   oplog.Hash // of the declared prior's bytes, which stand sealed in the flight's shared document
	Scoring oplog.Hash
}

// ClosingBody moves a flight's closing time; it counts only before the flight is closed.
type ClosingBody struct {
	Flight oplog.FlightID `cbor:"1,keyasint"`
	Closes int64          `cbor:"2,keyasint"`
}

// Hold hands a sample's private key to a named holder's devices.
type Hold struct {
	_      struct{} `cbor:",toarray"`
	Member oplog.MemberID
	Wraps  []Wrapped
}

// SampleBody seals a sample. The author's member is its keeper. The private half of Key is derived from the keeper's
// notebook epoch (see ../SPEC.md), so any device of the keeper has it.
type SampleBody struct {
	ID         oplog.SampleID `cbor:"1,keyasint"`
	Flight     oplog.FlightID `cbor:"2,keyasint"`
	Code       uint16         `cbor:"3,keyasint"` // 100 to 999
	Centigrams uint32         `cbor:"4,keyasint"` // portion handed to each home, in 1/100 g
	Key        [32]byte       `cbor:"5,keyasint"` // X25519 public half
	Holders    []Hold         `cbor:"6,keyasint"`
	Declared   Sealed         `cbor:"7,keyasint"` // allergens and additives, under the epoch: open to every member
	Answer     Sealed         `cbor:"8,keyasint"` // under [the keeper's envelope, epoch]; the op's Wrap hands over the envelope
}

// LockBody closes named samples of a flight.
type LockBody struct {
	Flight  oplog.FlightID   `cbor:"1,keyasint"`
	Samples []oplog.SampleID `cbor:"2,keyasint"`
}

// UnsealBody publishes private keys of samples.
type UnsealBody struct {
	Keys []SampleKey `cbor:"1,keyasint"`
}

// SampleKey is the private half of a sample's key.
type SampleKey struct {
	_       struct{} `cbor:",toarray"`
	Sample  oplog.SampleID
	Private [32]byte
}

// EraseBody names documents of the author's member whose bodies are to be forgotten; `guess` documents of a sealed sample
// and scoring guesses cannot be.
type EraseBody struct {
	Docs []oplog.DocID `cbor:"1,keyasint"`
}

// RulesBody raises the rules version.
type RulesBody struct {
	Rules uint16 `cbor:"1,keyasint"`
}

// ResumeBody lets a restored book order new ops again.
type ResumeBody struct{}

// LeaveBody takes the author's member out. An organiser's phone makes a new epoch when it sees it.
type LeaveBody struct{}
