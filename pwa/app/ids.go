package app

import (
	"hushcup/sync/oplog"
	"hushcup/sync/spell"
)

// id reads an id as it stands in the bridge. The field names it in a refusal.
func id[T ~[16]byte | ~[32]byte](field, text string) (out T, err *Error) {
	b, ok := spell.Unhex(text)
	if !ok || len(b) != len(out) {
		return out, unknown(field)
	}
	for i := range b {
		out[i] = b[i]
	}
	return out, nil
}

func bookID(text string) (oplog.BookID, *Error) { return id[oplog.BookID]("club", text) }

// randomDoc is the id of a new document, which speaks of nothing.
func (a *App) randomDoc() (doc oplog.DocID, err *Error) {
	if _, fault := a.rand.Read(doc[:]); fault != nil {
		return doc, &Error{Code: "no-randomness", Text: "this device gives no random numbers"}
	}
	return doc, nil
}
