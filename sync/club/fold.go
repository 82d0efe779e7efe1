package club

import "hushcup/sync/oplog"

// RulesVersion is the newest version of the rules that this package knows.
const RulesVersion = 1

// ChainAt gives the reader's own verified chain value at a position; false when it is not retained, and then an author's
// `seen` there goes unchecked.
type ChainAt func(pos uint64) (oplog.Hash, bool)

// State is what a book's log means up to a position. It is not safe for concurrent use. What its methods hand out is its
// own: read it, don't change it.
type State struct {
	order    oplog.Order
	book     oplog.BookID
	kind     BookKind
	rules    uint16
	epochDue bool

	members  []*Member
	byMember map[oplog.MemberID]*Member
	seats    map[oplog.DeviceID]*seat
}

// New is the state before the first entry.
func New() *State { return &State{} }

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
func (s *State) Fold(e oplog.Entry, chainAt ChainAt) error { panic("unwritten") }
