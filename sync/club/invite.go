package club

import "hushcup/sync/oplog"

// InviteInfo is an invitation and what became of it.
type InviteInfo struct {
	Body    InviteBody
	Pos     uint64
	By      oplog.MemberID
	Used    uint16
	Revoked bool
	Ended   bool // a new epoch ended it
}

// Invites are all invitations, in order.
func (s *State) Invites() []InviteInfo { panic("unwritten") }

// Invite finds an invitation by its key.
func (s *State) Invite(key oplog.DeviceID) (InviteInfo, bool) { panic("unwritten") }

// InviteOpen says whether an invitation lets somebody in at a server time: nil, or a *Void with `no-such-invite`,
// `invite-spent`, `invite-expired`, `invite-revoked` or `invite-ended`.
func (s *State) InviteOpen(key oplog.DeviceID, at int64) error { panic("unwritten") }
