package app

import (
	"slices"

	"hushcup/sync/codec"
	"hushcup/sync/replica"
)

// replies are the commands that are not answered yet. A command is answered when all that it wrote is durable.
type replies struct {
	under     *reply // the command that is being carried out
	waiting   []*reply
	later     []laterCommand
	ignored   map[replica.Ticket]bool
	something bool // something changed since later commands were tried
}

type reply struct {
	id      uint64
	touch   bool
	result  any
	tickets map[replica.Ticket]bool
	err     *Error
}

// laterCommand waits for something that must first be read from the disk.
type laterCommand struct {
	id   uint64
	name string
	args codec.Raw
}

// errReading says that a command needs what is still being read; it is tried again when that came. A command must not have
// written anything when it returns it.
var errReading = &Error{Code: "reading", Text: "something is still being read"}

func (a *App) command(id uint64, name string, args codec.Raw) {
	for i := range commands {
		if commands[i].Name == name {
			a.carryOut(id, &commands[i], args)
			return
		}
	}
	a.done(id, &Error{Code: CodeUnknown, Text: "there is no such command", Hint: "reload the app"}, nil)
}

func (a *App) carryOut(id uint64, c *CommandType, args codec.Raw) {
	r := &reply{id: id, touch: c.touch, tickets: map[replica.Ticket]bool{}}
	a.replies.under, a.watches.reading = r, false
	result, err := c.run(a, args)
	a.replies.under = nil
	switch {
	case err == errReading || a.watches.reading && len(r.tickets) == 0: // what it saw was not all there is
		a.replies.later = append(a.replies.later, laterCommand{id, c.Name, args})
	case err != nil:
		a.done(id, err, nil)
	default:
		r.result = result
		a.replies.waiting = append(a.replies.waiting, r)
	}
}

// retryCommands tries the commands again that waited for the disk, in their order.
func (a *App) retryCommands() bool {
	if !a.replies.something {
		return false
	}
	a.replies.something = false
	later := a.replies.later
	a.replies.later = nil
	for _, c := range later {
		a.command(c.id, c.name, c.args)
	}
	return len(a.replies.later) < len(later)
}

// wait ties what the replica took to the command under way.
func (a *App) wait(ticket replica.Ticket, err error) *Error {
	if err != nil {
		return asError(err)
	}
	if a.replies.under == nil {
		a.replies.ignore(ticket)
	} else if ticket != 0 {
		a.replies.under.tickets[ticket] = true
	}
	return nil
}

func (r *replies) ignore(ticket replica.Ticket) {
	if r.ignored == nil {
		r.ignored = map[replica.Ticket]bool{}
	}
	r.ignored[ticket] = true
}

func (r *replies) saved(ticket replica.Ticket) {
	delete(r.ignored, ticket)
	for _, w := range r.waiting {
		delete(w.tickets, ticket)
	}
}

func (r *replies) failed(ticket replica.Ticket, err *Error) {
	delete(r.ignored, ticket)
	for _, w := range r.waiting {
		if w.tickets[ticket] {
			delete(w.tickets, ticket)
			w.err = err
		}
	}
}

// writing says that something a command wrote is not durable yet.
func (r *replies) writing() bool {
	return slices.ContainsFunc(r.waiting, func(w *reply) bool { return len(w.tickets) > 0 })
}

// answerCommands answers the commands of which everything is durable, or not to be.
func (a *App) answerCommands() {
	var left []*reply
	for _, w := range a.replies.waiting {
		if len(w.tickets) > 0 {
			left = append(left, w)
			continue
		}
		a.done(w.id, w.err, w.result)
	}
	a.replies.waiting = left
}

func (a *App) done(id uint64, err *Error, result any) {
	if err != nil {
		result = nil
	}
	a.emit(DoneEffect{Kind: "done", ID: id, Error: err, Result: result})
}
