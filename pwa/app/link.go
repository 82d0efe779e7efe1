package app

import (
	"strings"

	"hushcup/sync/oplog"
	"hushcup/sync/replica"
	"hushcup/sync/seal"
)

// Links lead to the app with their secret in the fragment, which browsers send to no server:
//
//	https://cup.example/join#...     an invitation (seal.Invite)
//	https://cup.example/pair#...     one's own further device (seal.Invite)
//	https://cup.example/recover#...  a recovery code (seal.Recovery)
//
// The secret alone, pasted, does as well; it then is about the server that this app came from.

func (a *App) link(page, secret string) string { return a.origin + "/" + page + "#" + secret }

// linkHost is the server that a link leads to, or this app's own for a secret alone.
func (a *App) linkHost(text string) string {
	_, rest, isLink := strings.Cut(strings.TrimSpace(text), "://")
	if !isLink {
		return a.host
	}
	host, _, _ := strings.Cut(rest, "/")
	host, _, _ = strings.Cut(host, "#")
	return host
}

func (a *App) readLink(args LinkRead) (LinkMeaning, *Error) {
	m := LinkMeaning{Host: a.linkHost(args.Text)}
	invite, fault := seal.ParseInvite(args.Text)
	switch {
	case fault == nil && invite.Kind == seal.KindDevice:
		m.Purpose = "device"
	case fault == nil:
		m.Purpose = "join"
		if info, ok := a.bookInfo(oplog.BookID(invite.Book)); ok && info.Status != replica.StatusJoining {
			m.Known = info.ID.String()
		}
	default:
		if _, other := seal.ParseRecovery(args.Text); other != nil {
			return LinkMeaning{}, withField(asError(fault), "text")
		}
		m.Purpose = "recovery"
	}
	return m, nil
}

func withField(err *Error, field string) *Error {
	named := *err
	named.Field = field
	return &named
}

// hostOf refuses a link to another server: the page is allowed to speak to its own only.
func (a *App) hostOf(link, field string) (string, *Error) {
	host := a.linkHost(link)
	if host != a.host {
		return "", &Error{
			Code: CodeOtherHost, Field: field, Text: "this link belongs to " + host,
			Hint: "open the link in a browser: the app of that server then takes it",
		}
	}
	return host, nil
}

func (a *App) join(args ClubJoin) (ClubJoining, *Error) {
	host, err := a.hostOf(args.Link, "link")
	if err = first(err, text("name", &args.Name, mostName, false)); err != nil {
		return ClubJoining{}, err
	}
	settings, status := a.settings()
	if args.Name != "" && status == replica.BodyLoading {
		return ClubJoining{}, errReading
	}
	book, ticket, fault := a.replica.Join(a.now, args.Link, host)
	if err := a.wait(ticket, fault); err != nil {
		return ClubJoining{}, withField(err, "link")
	}
	if args.Name != "" && settings.Name == "" {
		err = a.setName(NotebookName{Name: args.Name})
	}
	return ClubJoining{Joining: book.String()}, err
}

// joiningRecovery is what stands for the way back by a recovery code, of which there is one at a time.
const joiningRecovery = "recovery"

// joining lists what is under way.
func (a *App) joining() (out []Joining) {
	for _, j := range a.replica.Joining() {
		id := j.Book.String()
		if j.Kind == "recovery" {
			id = joiningRecovery // it leads into many books, and the notebook's id is not known before
		}
		purpose, state := j.Kind, string(j.State)
		if purpose == "club" {
			purpose = "join"
		}
		switch j.State {
		case replica.JoinAsking:
			state = "entering"
		case replica.JoinDone:
			state = "in"
		}
		out = append(out, Joining{Joining: id, Purpose: purpose, Host: j.Host, State: state, Code: j.Code})
	}
	return out
}
