package club

import (
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

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
