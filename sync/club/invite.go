package club

import (
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// Bounds of invitations.
const (
	MaxInvites  = 2048                // ever
	MaxUses     = 100                 // of one
	MaxPairTime = 24 * 60 * 60 * 1000 // milliseconds that an invitation for one's own device may last
)

// InviteInfo is an invitation and what became of it.
type InviteInfo struct {
	_       struct{} `cbor:",toarray"`
	Body    InviteBody
	Pos     uint64
	By      oplog.MemberID
	Used    uint16
	Revoked bool
	Ended   bool // by a new epoch, by somebody's leaving, or as its maker is no organiser any more
}

// Invites are all invitations, in order.
func (s *State) Invites() []InviteInfo { return values(s.invites) }

// Invite finds an invitation by its key.
func (s *State) Invite(key oplog.DeviceID) (InviteInfo, bool) {
	if i := s.byInvite[key]; i != nil {
		return *i, true
	}
	return InviteInfo{}, false
}

// InviteOpen says whether an invitation lets somebody in at a server time: nil, or a *Void with `no-such-invite`,
// `invite-spent`, `invite-expired`, `invite-revoked` or `invite-ended`.
func (s *State) InviteOpen(key oplog.DeviceID, at int64) error { return s.inviteOpen(key, at).err() }

func (s *State) inviteOpen(key oplog.DeviceID, at int64) rule {
	i := s.byInvite[key]
	switch {
	case i == nil:
		return noSuchInvite
	case i.Revoked:
		return inviteRevoked
	case i.Used >= i.Body.Uses:
		return inviteSpent
	case i.Ended:
		return inviteEnded
	case at >= i.Body.Expires:
		return inviteExpired
	}
	return fine
}

// invite opens an invitation: of people by an organiser, or of one's own further devices.
func (s *State) invite(t *turn) rule {
	var body InviteBody
	switch {
	case !decode(t.op.Body, &body):
		return malformed
	case body.Uses == 0 || body.Uses > MaxUses || !body.Epoch.holdsKey():
		return malformed
	}
	if r := s.mayInvite(t, &body); r != fine {
		return r
	}
	switch {
	case seal.CheckSign(body.Key) != nil:
		return badKey
	case s.byInvite[body.Key] != nil:
		return inviteKnown
	case body.Expires <= t.at:
		return inviteExpired
	case body.EpochID != s.current().ID:
		return staleEpoch
	case len(s.invites) >= MaxInvites:
		return tooMany
	}
	info := &InviteInfo{Body: body, Pos: t.pos, By: t.member.ID}
	s.invites = append(s.invites, info)
	put(s, s.byInvite, body.Key, info)
	return fine
}

// mayInvite says who may open which invitation.
func (s *State) mayInvite(t *turn, body *InviteBody) rule {
	if body.Member != nil {
		switch {
		case *body.Member != t.member.ID:
			return notYours
		case body.Uses != 1 || body.Expires > t.at+MaxPairTime:
			return inviteTooLong
		}
		return fine
	}
	switch {
	case s.kind == Notebook:
		return clubOnly
	case !body.Role.known():
		return malformed
	case !t.organiser():
		return notOrganiser
	}
	return fine
}

// revoke ends an invitation: by an organiser, or by who made it.
func (s *State) revoke(t *turn) rule {
	var body RevokeBody
	if !decode(t.op.Body, &body) {
		return malformed
	}
	i := s.byInvite[body.Key]
	if i != nil && i.By != t.member.ID && !t.organiser() {
		return notOrganiser
	}
	if r := s.inviteOpen(body.Key, t.at); r != fine && r != inviteExpired {
		return r
	}
	keep(s, i)
	i.Revoked = true
	return fine
}

// endInvitesBy ends the invitations into the club of a member who is no organiser any more: they hold the links, and could
// come in again as somebody else with a role that was taken from them.
func (s *State) endInvitesBy(m *Member) {
	for _, i := range s.invites {
		if !i.Ended && i.By == m.ID && i.Body.Member == nil {
			keep(s, i)
			i.Ended = true
		}
	}
}

// endInvites ends what is still open, since the epoch that it hands out does.
func (s *State) endInvites() {
	for _, i := range s.invites {
		if !i.Ended {
			keep(s, i)
			i.Ended = true
		}
	}
}
