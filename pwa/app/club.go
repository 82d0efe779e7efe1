package app

import (
	"slices"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
	"hushcup/sync/seal"
)

// clubBook is one club as this phone knows it: State with what this phone has written and the server has not ordered yet,
// Ordered without.
type clubBook struct {
	replica.BookInfo
	State   *club.State
	Ordered *club.State
}

// clubs lists the clubs that this person is or was in.
func (a *App) clubs() (out []clubBook) {
	for _, info := range a.replica.Books() {
		if info.Kind == club.Club {
			out = append(out, a.withState(info))
		}
	}
	return out
}

func (a *App) withState(info replica.BookInfo) clubBook {
	c := clubBook{BookInfo: info, State: a.replica.Ahead(info.ID), Ordered: a.replica.Club(info.ID)}
	if c.Ordered == nil {
		c.Ordered = club.New()
	}
	if c.State == nil {
		c.State = c.Ordered
	}
	return c
}

// club finds a club by its id in the bridge.
func (a *App) club(text string) (clubBook, *Error) {
	book, err := bookID(text)
	if err != nil {
		return clubBook{}, err
	}
	info, ok := a.bookInfo(book)
	if !ok || info.Kind != club.Club {
		return clubBook{}, unknown("club")
	}
	return a.withState(info), nil
}

// memberClub finds a club in which one is to write.
func (a *App) memberClub(text string) (clubBook, *Error) {
	c, err := a.club(text)
	if err == nil && !c.in() {
		err = notAllowed("you are not in this club")
	}
	return c, err
}

// organisersClub finds a club in which one is to do what organisers do.
func (a *App) organisersClub(text string) (clubBook, *Error) {
	c, err := a.memberClub(text)
	if err == nil && c.role() != club.Organiser {
		err = notAllowed("only an organiser can do this")
	}
	return c, err
}

func (c *clubBook) in() bool {
	m, ok := c.State.Member(c.Member)
	return ok && m.In() && c.Status != replica.StatusRemoved
}

func (c *clubBook) role() club.Role {
	if m, ok := c.State.Member(c.Member); ok {
		return m.Role
	}
	return club.Taster
}

func (c *clubBook) organiser() bool { return c.in() && c.role() == club.Organiser }

func profileDoc(member oplog.MemberID) oplog.DocID { return oplog.ProfileDoc(member) }

func (a *App) createClub(args ClubCreate) (ClubCreated, *Error) {
	if err := text("name", &args.Name, mostTitle, true); err != nil {
		return ClubCreated{}, err
	}
	book, ticket, fault := a.replica.CreateClub(a.now, a.host)
	if err := a.wait(ticket, fault); err != nil {
		return ClubCreated{}, err
	}
	err := a.write(book, oplog.BookDoc, partBookWords, replica.UnderEpoch, bookContent{Name: args.Name})
	return ClubCreated{Club: book.String()}, err
}

func (a *App) renameClub(args ClubRename) *Error {
	c, err := a.organisersClub(args.Club)
	if err = first(err, text("name", &args.Name, mostTitle, true)); err != nil {
		return err
	}
	return a.write(c.ID, oplog.BookDoc, partBookWords, replica.UnderEpoch, bookContent{Name: args.Name})
}

func (a *App) setRole(args ClubRole) *Error {
	c, err := a.organisersClub(args.Club)
	if err != nil {
		return err
	}
	member, err := c.member(args.Member)
	role, bad := parseRole(args.Role)
	if err = first(err, bad); err != nil {
		return err
	}
	return a.wait(a.replica.Role(a.now, c.ID, member.ID, role))
}

func (a *App) removeMember(args ClubRemove) *Error {
	c, err := a.organisersClub(args.Club)
	if err != nil {
		return err
	}
	member, err := c.member(args.Member)
	if err != nil {
		return err
	}
	if member.ID == c.Member {
		return &Error{Code: "not-yourself", Text: "you cannot remove yourself", Hint: "leave the club instead"}
	}
	return a.wait(a.replica.RemoveMember(a.now, c.ID, member.ID))
}

func (a *App) leaveClub(args ClubLeave) *Error {
	c, err := a.memberClub(args.Club)
	if err != nil {
		return err
	}
	return a.wait(a.replica.Leave(a.now, c.ID))
}

func (a *App) resumeBook(args BookResume) *Error {
	c, err := a.organisersClub(args.Club)
	if err != nil {
		return err
	}
	return a.wait(a.replica.Resume(a.now, c.ID))
}

// member finds somebody who is in the club.
func (c *clubBook) member(text string) (*club.Member, *Error) {
	id, err := id[oplog.MemberID]("member", text)
	if err != nil {
		return nil, err
	}
	m, ok := c.State.Member(id)
	if !ok || !m.In() {
		return nil, unknown("member")
	}
	return m, nil
}

func parseRole(word string) (club.Role, *Error) {
	switch word {
	case "taster":
		return club.Taster, nil
	case "organiser":
		return club.Organiser, nil
	}
	return 0, oneOf("role", word, "Role")
}

func roleWord(role club.Role) string {
	if role == club.Organiser {
		return "organiser"
	}
	return "taster"
}

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

func within(field string, value, low, high int) *Error {
	if value < low || value > high {
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

const (
	minute = int64(60_000)
	hour   = 60 * minute
	day    = 24 * hour
)

// serverNow is the server's time as well as this phone knows it.
func (a *App) serverNow() int64 { return a.now + a.replica.ServerOffset(a.host) }

// name is how a member says they are called; empty until it can be read.
func (a *App) name(c *clubBook, member oplog.MemberID) string {
	var content nameContent
	a.read(c.ID, replica.DocKey{Member: member, Doc: profileDoc(member), Part: partName}, &content)
	return content.Name
}

func (a *App) clubName(c *clubBook) string {
	var content bookContent
	a.read(c.ID, shared(oplog.BookDoc, partBookWords), &content)
	return content.Name
}

func (a *App) describeMember(c *clubBook, m *club.Member) Member {
	out := Member{
		Member: m.ID.String(), Name: a.name(c, m.ID), Role: roleWord(m.Role),
		Me: m.ID == c.Member, Gone: !m.In(),
	}
	for i := range m.Devices {
		if m.Devices[i].In() && !m.Devices[i].Recovery {
			out.Devices++
		}
	}
	return out
}

func (a *App) describe(c *clubBook, id oplog.MemberID) Member {
	if m, ok := c.State.Member(id); ok {
		return a.describeMember(c, m)
	}
	return Member{Member: id.String(), Gone: true}
}

// bookStatus is a book's status in the words of the bridge.
func (c *clubBook) bookStatus() string {
	switch {
	case c.Status == replica.StatusStopped && c.Code == "update-the-app":
		return "update"
	case c.Status == replica.StatusStopped:
		return "stopped"
	case c.Status == replica.StatusJoining:
		return "entering"
	case c.Status == replica.StatusRestored:
		return "restored"
	case !c.in():
		return "out"
	}
	return "in"
}

func (a *App) lookClubs(Nothing) (ClubsView, *Error) {
	v := ClubsView{Joining: a.joining()}
	for _, c := range a.clubs() {
		v.Clubs = append(v.Clubs, a.clubLine(&c))
	}
	return v, nil
}

func (a *App) clubLine(c *clubBook) ClubLine {
	line := ClubLine{
		Club: c.ID.String(), Name: a.clubName(c), Role: roleWord(c.role()), Host: c.Host, Status: c.bookStatus(),
		Waiting: len(a.waitingSamples(c)),
	}
	for _, m := range c.State.Members() {
		if m.In() {
			line.Members++
		}
	}
	return line
}

func (a *App) lookClub(params ClubParams) (ClubView, *Error) {
	c, err := a.club(params.Club)
	if err != nil {
		return ClubView{}, err
	}
	v := ClubView{
		Club: c.ID.String(), Name: a.clubName(&c), Host: c.Host, Status: c.bookStatus(),
		Me: c.Member.String(), Role: roleWord(c.role()), May: c.may(),
	}
	for _, m := range c.State.Members() {
		v.Members = append(v.Members, a.describeMember(&c, m))
	}
	if c.organiser() {
		v.Invites = a.inviteLines(&c)
	}
	for _, f := range slices.Backward(c.State.Flights()) {
		v.Flights = append(v.Flights, a.flightLine(&c, f))
	}
	return v, nil
}

func (c *clubBook) may() (may []string) {
	if !c.in() {
		return nil
	}
	if c.role() == club.Organiser {
		may = append(may, "invite", "rename", "flight", "role", "remove")
		if c.Status == replica.StatusRestored {
			may = append(may, "resume")
		}
	}
	if c.role() != club.Organiser || c.organisers() > 1 {
		may = append(may, "leave")
	}
	return may
}

func (c *clubBook) organisers() (count int) {
	for _, m := range c.State.Members() {
		if m.In() && m.Role == club.Organiser {
			count++
		}
	}
	return count
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
			Expires: info.Body.Expires, Open: c.State.InviteOpen(key, a.serverNow()) == nil, Text: kept.Text, Share: "device",
		}
		if kept.Text != "" {
			line.Link = a.link("join", kept.Text)
		}
		if _, ordered := c.Ordered.Invite(key); ordered {
			line.Share = "shared"
		}
		if line.Open {
			a.until(info.Body.Expires - a.replica.ServerOffset(a.host))
		}
		lines = append(lines, line)
	}
	return lines
}
