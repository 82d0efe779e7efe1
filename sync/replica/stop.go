package replica

import (
	"errors"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/wire"
)

const codeBodyMissing = "body-missing"

// contradiction is a history that cannot be: its code is what Stopped carries.
func contradiction(code, text string) error { return &club.Tampering{Code: code, Text: text} }

// recall finds out whether this person is still in the book.
func (r *Replica) recall(b *book) {
	if b.record.Member == (oplog.MemberID{}) {
		return
	}
	_, in := b.log.state.MemberOf(r.device)
	if _, was := memberWith(b.log.state, r.device); was && !in && !b.removed {
		r.leaveBook(b, "not-a-member", "this device was taken out of the book")
	}
}

// leaveBook keeps a book readable that this person is not in any more, and lists what did not get ordered.
func (r *Replica) leaveBook(b *book, code, text string) {
	b.removed = true
	r.saveHead(b)
	r.giveUp(b, code, text)
	r.changed(b.id, ChangedSync|ChangedState)
}

// halt stops folding a book. It is tried again when the app starts anew: it may have been updated, or the server mended.
func (r *Replica) halt(b *book, err error) {
	code, text := "fault", err.Error()
	var tampering *club.Tampering
	var stop *club.Stop
	var format *oplog.Error
	switch {
	case errors.As(err, &tampering):
		code, text = tampering.Code, tampering.Text
	case errors.As(err, &stop):
		code, text = "update-the-app", stop.Text
	case errors.As(err, &format):
		code, text = format.Code, format.Text
		if code == "newer-format" {
			code = "update-the-app"
		}
	}
	b.halted, b.code, b.text = true, code, text
	r.saveHead(b)
	r.say(b.record.Host, &wire.Unsubscribe{Book: b.id})
	r.do(Stopped{Book: b.id, Code: code, Text: text})
	r.changed(b.id, ChangedSync)
	if j := r.joining(b.id); j != nil {
		r.failJoin(b, j, code)
	}
	if j := r.recovering(); j != nil && b.guest != nil {
		r.finishRecovery(j)
	}
}

func fromVoid(err error) error {
	if void, ok := err.(*club.Void); ok {
		return &Error{Code: void.Code, Text: void.Text, Hint: void.Hint}
	}
	return err
}
