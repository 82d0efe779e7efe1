package app

import (
	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
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
	err := a.write(book, oplog.BookDoc, partBookWords, replica.UnderEpoch, bookContent(args))
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
