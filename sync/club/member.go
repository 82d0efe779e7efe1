package club

import (
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

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

// create begins the book.
func (s *State) create(t *turn) rule {
	var body CreateBody
	switch {
	case !decode(t.op.Body, &body):
		return malformed
	case body.Rules == 0 || body.Kind != Notebook && body.Kind != Club:
		return malformed
	case body.Member == oplog.MemberID{}:
		return malformed
	}
	if r := s.devicesOf(t.op, body.Devices); r != fine {
		return r
	}
	if body.Epoch.Before != nil {
		return malformed
	}
	if !wrapsFor(body.Epoch.Wraps, signsOf(body.Devices)) {
		return wrongDevices
	}
	s.book, s.kind, s.rules = t.op.BookOf(), body.Kind, body.Rules
	s.addMember(t, body.Member, Organiser)
	s.enrol(t, s.byMember[body.Member], body.Devices)
	s.addEpoch(t, &body.Epoch)
	return fine
}

// join lets a person in by an invitation, or a further device of a member.
func (s *State) join(t *turn) rule {
	var body JoinBody
	if !decode(t.op.Body, &body) || body.Member == (oplog.MemberID{}) {
		return malformed
	}
	if r := s.inviteOpen(body.Invite, t.at); r != fine {
		return r
	}
	invite := s.byInvite[body.Invite]
	if r := s.mayJoin(invite, body.Member); r != fine {
		return r
	}
	if r := s.devicesOf(t.op, body.Devices); r != fine {
		return r
	}
	if r := s.roomFor(s.byMember[body.Member], len(body.Devices)); r != fine {
		return r
	}
	if !seal.Verify(invite.Body.Key, JoinMessage(s.book, body.Member, body.Devices), body.Proof) {
		return badProof
	}
	if r := s.grants(body.EpochID, body.Wraps, signsOf(body.Devices)); r != fine {
		return r
	}
	if s.byMember[body.Member] == nil {
		s.addMember(t, body.Member, invite.Body.Role)
	}
	s.enrol(t, s.byMember[body.Member], body.Devices)
	s.addWraps(body.Wraps)
	keep(s, invite)
	invite.Used++
	return fine
}

// mayJoin says whether an invitation is for this member: a new one, or the one whose further device it is for.
func (s *State) mayJoin(invite *InviteInfo, id oplog.MemberID) rule {
	known := s.byMember[id]
	switch {
	case invite.Body.Member == nil && known != nil:
		return memberKnown
	case invite.Body.Member == nil && (s.membersIn() >= MaxMembers || len(s.members) >= MaxMembersEver):
		return bookMembers
	case invite.Body.Member != nil && *invite.Body.Member != id:
		return notYours
	case invite.Body.Member != nil && !known.In():
		return noSuchMember
	}
	return fine
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

// remove takes out a member, or devices of the author's own, and brings the new epoch.
func (s *State) remove(t *turn) rule {
	var body RemoveBody
	if !decode(t.op.Body, &body) || (body.Member == nil) == (len(body.Devices) == 0) {
		return malformed
	}
	leaving, r := s.mayRemove(t, &body)
	if r != fine {
		return r
	}
	if r := s.followsEpoch(t, &body.Epoch, leaving); r != fine {
		return r
	}
	if body.Member != nil {
		m := s.byMember[*body.Member]
		s.takeOut(t, m)
		m.Removed = true
	}
	for _, id := range body.Devices {
		s.takeOutDevice(t, s.seats[id])
	}
	s.addEpoch(t, &body.Epoch)
	return fine
}

// mayRemove finds the devices that a removal takes out.
func (s *State) mayRemove(t *turn, body *RemoveBody) (leaving map[oplog.DeviceID]bool, r rule) {
	if body.Member == nil {
		return s.mayRemoveDevices(t, body.Devices)
	}
	m := s.byMember[*body.Member]
	switch {
	case s.kind == Notebook:
		return nil, clubOnly
	case t.device.Recovery:
		return nil, recoveryOnly
	case !t.organiser():
		return nil, notOrganiser
	case m == nil || !m.In():
		return nil, noSuchMember
	case m == t.member:
		return nil, notYourself
	}
	leaving = map[oplog.DeviceID]bool{}
	for i := range m.Devices {
		leaving[m.Devices[i].Sign] = true
	}
	return leaving, fine
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
