package grinder

import (
	"math"
	"strconv"
)

// Codes of errors; they never change.
const (
	CodeBadScale   = "bad-scale"    // a scale that nobody could read
	CodeBadSetting = "bad-setting"  // not a setting of that scale
	CodePastStop   = "past-stop"    // beyond the end of the scale
	CodeBadNumber  = "bad-number"   // not a number, or outside what can be
	CodeOtherScale = "not-together" // curves of doses that do not belong together
)

// An Error says which field was refused and why.
type Error struct {
	Code  string // stable
	Field string // "per turn", "step", "marks", "stops", "setting", "dose", "seconds", ...
	Value string // what came from outside
}

func (e *Error) Error() string {
	return e.Field + " " + strconv.Quote(e.Value) + " refused: " + e.Code
}

func badNumber(field string, value float64) error {
	return &Error{CodeBadNumber, field, number(value)}
}

func number(value float64) string { return strconv.FormatFloat(value, 'f', -1, 64) }

func finite(value float64) bool { return !math.IsNaN(value) && !math.IsInf(value, 0) }
