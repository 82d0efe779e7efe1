package club

import "hushcup/sync/oplog"

// Bounds of a book. What would pass one is refused, so that a grant for every device always fits into one body.
const (
	MaxMembers       = 100 // in at once
	MaxMembersEver   = 400
	MaxMemberDevices = 8 // in at once, recovery devices included
	MaxBookDevices   = 400
)

// Member is a person in a book. What State hands out is its own: read it, don't change it.
type Member struct {
	ID        oplog.MemberID
	Role      Role
	JoinedPos uint64
	LeftPos   uint64 // 0 while the member is in
	Removed   bool   // LeftPos came by an organiser's `remove`, not by `leave`
	Devices   []DeviceInfo
}

// In says whether the member belongs to the book now.
func (m *Member) In() bool { return m.LeftPos == 0 }

// Members are all who are or were in the book, in the order in which they came.
func (s *State) Members() []*Member { return s.members }

// Member finds a member, in or out.
func (s *State) Member(id oplog.MemberID) (*Member, bool) {
	m := s.byMember[id]
	return m, m != nil
}

// MemberOf is the member whose enrolled device this is now.
func (s *State) MemberOf(device oplog.DeviceID) (*Member, bool) {
	seat := s.seats[device]
	if seat == nil || !seat.info().In() {
		return nil, false
	}
	return seat.member, true
}
