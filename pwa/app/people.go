package app

import (
	"slices"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

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
		Me: m.ID == c.Member, Gone: !m.In(), Removed: m.Removed,
	}
	if out.Me && c.takenOut() {
		out.Gone, out.Removed = true, true
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
	case c.takenOut():
		return "removed"
	case !c.in():
		return "out"
	}
	return "in"
}

// takenOut says that an organiser took this person out, as far as this phone heard. A server that says so without showing
// the entry is believed, since nobody leaves without writing that here first.
func (c *clubBook) takenOut() bool {
	m, ok := c.State.Member(c.Member)
	return c.Status == replica.StatusRemoved && (c.Unshown || ok && m.Removed)
}

// away says that this person is out of the club, left or taken out.
func (c *clubBook) away() bool {
	status := c.bookStatus()
	return status == "out" || status == "removed"
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
