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
	_         struct{} `cbor:",toarray"`
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

// organisers counts who is one and in.
func (s *State) organisers() (count int) {
	for _, m := range s.members {
		if m.In() && m.Role == Organiser {
			count++
		}
	}
	return count
}

func (s *State) membersIn() (count int) {
	for _, m := range s.members {
		if m.In() {
			count++
		}
	}
	return count
}

// role makes a member an organiser or a taster.
func (s *State) role(t *turn) rule {
	var body RoleBody
	if !decode(t.op.Body, &body) || !body.Role.known() {
		return malformed
	}
	if !t.organiser() {
		return notOrganiser
	}
	m := s.byMember[body.Member]
	switch {
	case m == nil || !m.In():
		return noSuchMember
	case m.Role == body.Role:
		return roleUnchanged
	case m.Role == Organiser && s.organisers() == 1:
		return lastOrganiser
	}
	keep(s, m)
	m.Role = body.Role
	if m.Role != Organiser {
		s.endInvitesBy(m)
	}
	return fine
}

func (r Role) known() bool { return r == Taster || r == Organiser }

// leave takes the author's member out. The epoch key that they know is due to be replaced.
func (s *State) leave(t *turn) rule {
	if !decode(t.op.Body, &LeaveBody{}) {
		return malformed
	}
	if t.organiser() && s.organisers() == 1 {
		return lastOrganiser
	}
	s.takeOut(t, t.member)
	s.endInvites()
	s.epochDue = true
	return fine
}

// takeOut ends a member and all their devices.
func (s *State) takeOut(t *turn, m *Member) {
	for i := range m.Devices {
		if m.Devices[i].In() {
			s.takeOutDevice(t, s.seats[m.Devices[i].Sign])
		}
	}
	keep(s, m)
	m.LeftPos = t.pos
}

func (s *State) addMember(t *turn, id oplog.MemberID, role Role) {
	m := &Member{ID: id, Role: role, JoinedPos: t.pos}
	s.members = append(s.members, m)
	put(s, s.byMember, id, m)
	s.ownProfile(m)
}
