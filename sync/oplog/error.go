package oplog

import "hushcup/sync/spell"

// Error is a fault in an op or a run. Code is stable and crosses the wire; Text is for a log, not for a person.
type Error struct {
	Code string
	Text string
	Op   int // index within the run, where one op is to blame
}

func (e *Error) Error() string { return e.Code + ": " + e.Text }

func malformed(format string, args ...any) *Error {
	return &Error{Code: "malformed", Text: spell.Text(format, args...)}
}

// at names the op of a run that is to blame.
func at(err error, index int) error {
	if e, ok := err.(*Error); ok {
		e.Op = index
	}
	return err
}
