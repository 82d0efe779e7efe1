package app

import (
	"slices"

	"hushcup/sync/oplog"
	"hushcup/sync/replica"
	"hushcup/sync/seal"
)

// invite opens an invitation and keeps its text in the notebook, to show it again.
func (a *App) invite(args ClubInvite) (made ClubInvited, err *Error) {
	c, err := a.organisersClub(args.Club)
	if err != nil {
		return made, err
	}
	role, err := parseRole(args.Role)
	if err = first(err, within("uses", args.Uses, 1, 50), within("days", args.Days, 1, 60)); err != nil {
		return made, err
	}
	expires := a.serverNow() + int64(args.Days)*day
	text, ticket, fault := a.replica.Invite(a.now, c.ID, role, uint16(args.Uses), expires)
	if err := a.wait(ticket, fault); err != nil {
		return made, err
	}
	invite, fault := seal.ParseInvite(text)
	if fault != nil {
		return made, asError(fault)
	}
	key := oplog.DeviceID(invite.Public())
	made = ClubInvited{Invite: key.String(), Link: a.link("join", text), Text: text, Expires: expires}
	return made, a.write(a.notebook(), invitationDoc(key), partInvitation, replica.UnderEpoch, invitationContent{Text: text, Expires: expires})
}

func within[T int | float64](field string, value, low, high T) *Error {
	if !(value >= low && value <= high) {
		return refuse(CodeImpossible, field, "this is not within what it can be")
	}
	return nil
}

func (a *App) revoke(args ClubRevoke) *Error {
	c, err := a.organisersClub(args.Club)
	if err != nil {
		return err
	}
	key, err := id[oplog.DeviceID]("invite", args.Invite)
	if err != nil {
		return err
	}
	if _, ok := c.State.Invite(key); !ok {
		return unknown("invite")
	}
	return a.wait(a.replica.Revoke(a.now, c.ID, key))
}

// inviteLines lists the invitations to people; those for further devices are their owner's alone.
func (a *App) inviteLines(c *clubBook) (lines []InviteLine) {
	for _, info := range slices.Backward(c.State.Invites()) {
		if info.Body.Member != nil {
			continue
		}
		key := info.Body.Key
		var kept invitationContent
		a.read(a.notebook(), a.mine(a.notebook(), invitationDoc(key), partInvitation), &kept)
		line := InviteLine{
			Invite: key.String(), Role: roleWord(info.Body.Role), Uses: int(info.Body.Uses), Used: int(info.Used),
			Expires: info.Body.Expires, Open: c.State.InviteOpen(key, a.serverNow()) == nil, Text: kept.Text,
			Share: shareWord(a.replica.InviteShare(c.ID, key)),
		}
		if kept.Text != "" {
			line.Link = a.link("join", kept.Text)
		}
		if line.Open {
			a.until(info.Body.Expires - a.replica.ServerOffset(a.host))
		}
		lines = append(lines, line)
	}
	return lines
}
