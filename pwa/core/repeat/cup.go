package repeat

import (
	"math"
	"strconv"
)

// A Method is how a cup came to be. The two are never pooled.
type Method uint8

const (
	Brewed Method = iota // with a brewer
	Bowl                 // a cupping bowl
	methods
)

// String returns a stable name.
func (m Method) String() string {
	if m >= methods {
		return "unknown"
	}
	return [...]string{"brewed", "bowl"}[m]
}

// A Quantity is something that repeats, or does not.
type Quantity uint8

const (
	Seconds  Quantity = iota
	Beverage          // grams
	TDS               // mass fraction
	EY                // mass fraction
	Acid              // this and the rest on a line scale
	Sweet
	Bitter
	Body
	Finish
	quantities
)

// String returns a stable name.
func (q Quantity) String() string {
	if q >= quantities {
		return "unknown"
	}
	return [...]string{"seconds", "beverage", "tds", "ey", "acid", "sweet", "bitter", "body", "finish"}[q]
}

// Tasted reports whether a quantity is tasted rather than measured.
func (q Quantity) Tasted() bool { return q >= Acid }

// last is the smallest step that is written down: of a share for what is measured,
// of the scale from -1 to 1 or 0 to 1 for what is tasted.
func (q Quantity) last() float64 {
	switch q {
	case Seconds:
		return 0.005
	case Beverage:
		return 0.002
	case TDS, EY:
		return 0.007
	}
	return 0.05
}

// A Reading is a number that may be missing.
type Reading struct {
	Value float64
	Known bool
}

// Read returns a known reading.
func Read(value float64) Reading { return Reading{value, true} }

// A Cup is one brew or bowl. Those with the same recipe and coffee are meant to be
// equal; Recipe names all that was planned: brewer, grinder, setting, dose and so
// on. Interrupted brews are left out by the caller.
type Cup struct {
	Method Method
	Recipe string
	Coffee string
	Values [quantities]Reading
}

// CodeBadNumber is the code of an error; it never changes.
const CodeBadNumber = "bad-number" // not a number, or outside what can be

// An Error says which field was refused and why.
type Error struct {
	Code  string // stable
	Field string // "method", or a quantity's name
	Value string // what came from outside
}

func (e *Error) Error() string {
	return e.Field + " " + strconv.Quote(e.Value) + " refused: " + e.Code
}

// Check refuses what cannot be.
func (c Cup) Check() error {
	if c.Method >= methods {
		return &Error{CodeBadNumber, "method", strconv.Itoa(int(c.Method))}
	}
	for q := range quantities {
		if r := c.Values[q]; r.Known && !q.can(r.Value) {
			return &Error{CodeBadNumber, q.String(), strconv.FormatFloat(r.Value, 'g', -1, 64)}
		}
	}
	return nil
}

func (q Quantity) can(v float64) bool {
	switch q {
	case Seconds:
		return v > 0 && v <= 2*24*3600
	case Beverage:
		return v > 0 && v <= 50000
	case TDS:
		return v > 0 && v < 1
	case EY:
		return v > 0 && v <= 1
	}
	return v >= -1 && v <= 1
}

// on puts a value where differences count alike: measured ones in logarithms.
func (q Quantity) on(value float64) float64 {
	if q.Tasted() {
		return value
	}
	return math.Log(value)
}

// off puts it back.
func (q Quantity) off(value float64) float64 {
	if q.Tasted() {
		return value
	}
	return math.Exp(value)
}
