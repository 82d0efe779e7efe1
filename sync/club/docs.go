package club

import "hushcup/sync/oplog"

// Docs are the winners: for each part of each document, the op that says what it holds now. A phone keeps it beside State
// (the server needs none of it). It holds no bodies, only where they stand.
type Docs struct{}

// Winner is the newest revision of a part.
type Winner struct {
	Doc      oplog.DocID
	Part     uint32
	Shared   bool           // of a shared document: it competes among all organisers
	Member   oplog.MemberID // its author
	Device   oplog.DeviceID
	Pos      uint64
	Time     oplog.Time
	Epoch    oplog.KeyID
	Envelope oplog.KeyID     // zero when it lies under the epoch alone
	Sample   *oplog.SampleID // the sample whose envelope it is, nil without one
	Erased   bool            // its author asked to forget it
	Missing  bool            // its body was already dropped when it came
}

// NewDocs is the state before the first entry.
func NewDocs() *Docs { return &Docs{} }

// Fold takes an entry that State.Fold took (returned nil for), after it; of any kind, as an unseal matters too. It returns
// the positions whose bodies nobody needs any more.
func (d *Docs) Fold(e oplog.Entry, s *State) (droppable []uint64) { panic("unwritten") }

// Get finds a member's part.
func (d *Docs) Get(member oplog.MemberID, doc oplog.DocID, part uint32) (Winner, bool) {
	panic("unwritten")
}

// Shared finds a part of a shared document.
func (d *Docs) Shared(doc oplog.DocID, part uint32) (Winner, bool) { panic("unwritten") }

// Each calls yield for every winner, in the order in which the parts first appeared, until it returns false.
func (d *Docs) Each(yield func(Winner) bool) { panic("unwritten") }

// Len is the number of winners.
func (d *Docs) Len() int { panic("unwritten") }

// Missing lists the positions of winners whose bodies did not come though nothing superseded or erased them: at the head of
// the order this is tampering, `body-missing`.
func (d *Docs) Missing() []uint64 { panic("unwritten") }

// Clone is an independent copy.
func (d *Docs) Clone() *Docs { panic("unwritten") }

// Encode gives the snapshot: equal ones give equal bytes.
func (d *Docs) Encode() []byte { panic("unwritten") }

// DecodeDocs reads a snapshot.
func DecodeDocs(b []byte) (*Docs, error) { panic("unwritten") }
