package replica

import "hushcup/sync/oplog"

// Effect is something to be carried out, in the order given.
type Effect interface{ effect() }

// Persist is one atomic, durable transaction: deletes, then puts. It is answered with Persisted or PersistFailed.
type Persist struct {
	Tx      uint64
	Puts    []Record
	Deletes []string
}

// Read asks for records by key; answered with Got.
type Read struct {
	ID   uint64
	Keys []string
}

// Send gives a frame to a host's socket.
type Send struct {
	Host  string
	Bytes []byte
}

// SetTimer starts a timer, or starts it anew. After is in milliseconds.
type SetTimer struct {
	Name  string
	After int64
}

// Dial opens a socket to a host; answered with Connected or Disconnected.
type Dial struct{ Host string }

// HangUp closes the socket to a host at once. No Disconnected is needed for it, and one that comes is harmless before the
// next Connected.
type HangUp struct{ Host string }

// Saved says that a command's ops are durable on this phone.
type Saved struct{ Ticket Ticket }

// Failed says that a command's ops could not be made durable, and are not there.
type Failed struct {
	Ticket Ticket
	Code   string
	Text   string
}

// What says which views of a book are to be drawn anew.
type What uint8

// The views.
const (
	ChangedState   What = 1 << iota // members, flights, samples, closes, unseals
	ChangedDocs                     // contents; Docs names them, or all when Docs is empty
	ChangedGuesses                  // who guessed, and when in
	ChangedSync                     // status, share, joining, intentions, refused
)

// DocKey names one part of one member's document.
type DocKey struct {
	Member oplog.MemberID
	Doc    oplog.DocID
	Part   uint32
}

// Changed says that reads of a book give something new. A zero Book means what concerns no single book.
type Changed struct {
	Book oplog.BookID
	What What
	Docs []DocKey
}

// Stopped says that a book is not folded any further: `tampering` codes, or `update-the-app`.
type Stopped struct {
	Book oplog.BookID
	Code string
	Text string
}

func (Persist) effect()  {}
func (Read) effect()     {}
func (Send) effect()     {}
func (SetTimer) effect() {}
func (Dial) effect()     {}
func (HangUp) effect()   {}
func (Saved) effect()    {}
func (Failed) effect()   {}
func (Changed) effect()  {}
func (Stopped) effect()  {}
