package app

import (
	"hushcup/pwa/core/code"
	"hushcup/sync/oplog"
)

// drawCode draws a sample's blind code, apart from those that its flight has.
func (a *App) drawCode(c *clubBook, flight oplog.FlightID) (uint16, *Error) {
	var used []code.Code
	for _, s := range c.State.Samples(flight) {
		used = append(used, code.Code(s.Body.Code))
	}
	drawn, err := code.Draw(a.rand, used)
	if err == code.ErrNoneLeft {
		return 0, &Error{Code: CodeTooMany, Field: "flight", Text: "this flight has no code left"}
	}
	return uint16(drawn), asError(err)
}
