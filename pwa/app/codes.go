package app

import (
	"io"

	"hushcup/sync/oplog"
)

// drawCode draws a sample's blind code, apart from those that its flight has.
func (a *App) drawCode(c *clubBook, flight oplog.FlightID) (uint16, *Error) {
	var used []int
	for _, s := range c.State.Samples(flight) {
		used = append(used, int(s.Body.Code))
	}
	drawn, err := drawOne(a.rand, used)
	return uint16(drawn), err
}

func drawOne(rand io.Reader, used []int) (int, *Error) {
	for range 10_000 {
		var b [2]byte
		if _, err := io.ReadFull(rand, b[:]); err != nil {
			return 0, &Error{Code: "no-randomness", Text: "this device gives no random numbers"}
		}
		code := (int(b[0])<<8 | int(b[1])) & 1023
		if code >= 100 && code <= 999 && plainCode(code) && apart(code, used) {
			return code, nil
		}
	}
	return 0, &Error{Code: CodeTooMany, Text: "this flight has no code left"}
}

// plainCode refuses codes that mean something by themselves: a digit twice, a row of digits.
func plainCode(code int) bool {
	a, b, c := code/100, code/10%10, code%10
	return a != b && b != c && a != c && !(b == a+1 && c == b+1) && !(b == a-1 && c == b-1)
}

// apart says whether a code differs from each other one by more than the order of its digits.
func apart(code int, used []int) bool {
	for _, other := range used {
		if digits(code) == digits(other) {
			return false
		}
	}
	return true
}

func digits(code int) (set uint16) {
	for ; code > 0; code /= 10 {
		set |= 1 << (code % 10)
	}
	return set
}
