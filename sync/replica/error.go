package replica

import "hushcup/sync/spell"

// Error is why a command was not taken, or a read not possible. Code is stable and crosses the bridge.
type Error struct {
	Code string
	Text string
	Hint string
}

func (e *Error) Error() string { return e.Code + ": " + e.Text }

func refuse(code, format string, args ...any) *Error {
	return &Error{Code: code, Text: spell.Text(format, args...)}
}
