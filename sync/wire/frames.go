// Package wire is what phone and server say to each other: one websocket, binary frames of at most 256 KiB, each a CBOR
// array [type, body], the body a map with integer keys. A phone says nothing before the server's Hello; the server does
// nothing before the phone's Proof. A frame of an unknown type is answered with Bye "unknown-frame".
//
//	server                      phone
//	Hello  ->                          version, server time, challenge
//	                     <- Proof      device, signature over (challenge, host)
//	Welcome ->                         the books this device is enrolled in
//	                     <- Subscribe  a book, after a position
//	Entries ->                         placed runs after it, and then every new one
//	                     <- Received   what the phone has verified: opens the window
//	                     <- Push       a run
//	Ack | Refuse | Slow  ->
//	Behind ->                          the server lacks what the phone has
//	                     <- Offer      placed runs, taken at their old positions
package wire

import "hushcup/sync/oplog"

// MaxFrame is the size of a frame that either side reads.
const MaxFrame = 256 << 10

// Version of the protocol, in the hello.
const Version = 1

// Frame is one message.
type Frame interface{ kind() kind }

// Hello opens a connection.
type Hello struct {
	Version   uint16   `cbor:"1,keyasint"`
	Oldest    uint16   `cbor:"2,keyasint"` // oldest version that the server still speaks
	Time      int64    `cbor:"3,keyasint"` // server's time, milliseconds
	Challenge [32]byte `cbor:"4,keyasint"`
}

// Proof answers the challenge: the device's signature over ProofMessage(challenge, host), the host as the phone dialled it.
type Proof struct {
	Version uint16         `cbor:"1,keyasint"`
	Device  oplog.DeviceID `cbor:"2,keyasint"`
	Host    string         `cbor:"3,keyasint"`
	Sig     []byte         `cbor:"4,keyasint"`
}

// BookHead is a book and where the server's order of it stands.
type BookHead struct {
	_        struct{} `cbor:",toarray"`
	Book     oplog.BookID
	Pos      uint64
	Restored bool // it orders nothing new until an organiser says resume
}

// Welcome ends the handshake and lists the books that the device is enrolled in. A phone may ask again with BooksAsk.
type Welcome struct {
	Books []BookHead `cbor:"1,keyasint"`
}

// BooksAsk asks for Welcome again.
type BooksAsk struct{}

// Subscribe asks for a book's entries after a cursor, for as long as the connection lives. A device that is not enrolled shows
// an invitation: its key and that key's signature over ProofMessage(challenge, host, book).
type Subscribe struct {
	Book      oplog.BookID    `cbor:"1,keyasint"`
	Pos       uint64          `cbor:"2,keyasint"`
	Chain     oplog.Hash      `cbor:"3,keyasint"` // the phone's chain value at Pos
	Invite    *oplog.DeviceID `cbor:"4,keyasint,omitempty"`
	InviteSig []byte          `cbor:"5,keyasint,omitempty"`
}

// Unsubscribe ends a subscription.
type Unsubscribe struct {
	Book oplog.BookID `cbor:"1,keyasint"`
}

// Closed says that a subscription was refused or has ended: `not-a-member`, `no-such-book`, `chain-differs`, ...
type Closed struct {
	Book oplog.BookID `cbor:"1,keyasint"`
	Code string       `cbor:"2,keyasint"`
	Text string       `cbor:"3,keyasint"`
}

// Entries brings placed runs in order, without gaps. Head is the server's newest position, so a phone knows how far it is.
type Entries struct {
	Book oplog.BookID   `cbor:"1,keyasint"`
	Runs []oplog.Placed `cbor:"2,keyasint"`
	Head uint64         `cbor:"3,keyasint"`
}

// Received opens the window: the phone has verified and persisted everything up to Pos.
type Received struct {
	Book oplog.BookID `cbor:"1,keyasint"`
	Pos  uint64       `cbor:"2,keyasint"`
}

// Push offers a run of the phone's own.
type Push struct {
	Run oplog.Packed `cbor:"1,keyasint"`
}

// Ack says that a run is stored, durably, at consecutive positions from First on.
type Ack struct {
	Book   oplog.BookID   `cbor:"1,keyasint"`
	Device oplog.DeviceID `cbor:"2,keyasint"`
	Seq    uint64         `cbor:"3,keyasint"` // of its last op
	First  uint64         `cbor:"4,keyasint"`
	At     int64          `cbor:"5,keyasint"`
}

// Refuse says that a run is not taken, and which op is to blame. Nothing of the run is stored.
type Refuse struct {
	Book   oplog.BookID   `cbor:"1,keyasint"`
	Device oplog.DeviceID `cbor:"2,keyasint"`
	First  uint64         `cbor:"3,keyasint"` // seq of the run's first op
	Seq    uint64         `cbor:"4,keyasint"` // seq of the op to blame
	Code   string         `cbor:"5,keyasint"`
	Text   string         `cbor:"6,keyasint"`
}

// Slow asks the phone to wait before it pushes to the book again; the run was not taken.
type Slow struct {
	Book  oplog.BookID `cbor:"1,keyasint"`
	After uint32       `cbor:"2,keyasint"` // milliseconds
	Code  string       `cbor:"3,keyasint"` // `slow-down`, `store-down`
}

// Behind says that the server's order ends before the phone's cursor.
type Behind struct {
	Book  oplog.BookID `cbor:"1,keyasint"`
	Pos   uint64       `cbor:"2,keyasint"`
	Chain oplog.Hash   `cbor:"3,keyasint"`
}

// Offer brings placed runs that the server has lost, from the position after its last.
type Offer struct {
	Book oplog.BookID   `cbor:"1,keyasint"`
	Runs []oplog.Placed `cbor:"2,keyasint"`
}

// Bye is the last frame of either side, with the reason.
type Bye struct {
	Code string `cbor:"1,keyasint"`
	Text string `cbor:"2,keyasint"`
}
