package response

import (
	"math"
	"strconv"
)

// A Variable is what hands can change.
type Variable uint8

const (
	Grind Variable = iota
	Ratio
	Temperature
	Agitation
	variables
)

// String returns a stable name.
func (v Variable) String() string {
	if v >= variables {
		return "unknown"
	}
	return [...]string{"grind", "ratio", "temperature", "agitation"}[v]
}

// An Attribute is one side of a cup's balance.
type Attribute uint8

const (
	Acid Attribute = iota
	Sweet
	Bitter
	Body
	Finish
	attributes
)

// String returns a stable name.
func (a Attribute) String() string {
	if a >= attributes {
		return "unknown"
	}
	return [...]string{"acid", "sweet", "bitter", "body", "finish"}[a]
}

// An Axis is how one variable is counted in this kitchen.
type Axis struct {
	Centre   float64 // where it usually stands
	Unit     float64 // one noticeable change upwards: finer, more water, hotter, more agitation
	Low      float64 // the least and the most that may be proposed
	High     float64
	Smallest float64 // the smallest step that can be set; 0 for any
	Held     bool    // not to be changed, or not known here
}

// A Space has an axis for each variable. A unit is one noticeable change: for the
// grind about an eighth more time (negative where higher settings are coarser),
// for the ratio 1 g of water per g, for the temperature 3 °C, for the agitation
// one stir or swirl.
type Space [variables]Axis

// A Setting has a value for each variable, as the person counts it: a position
// on the grinder's scale, grams of water per gram, °C, stirs.
type Setting [variables]float64

// A Reading is a number that may be missing.
type Reading struct {
	Value float64
	Known bool
}

// Read returns a known reading.
func Read(value float64) Reading { return Reading{value, true} }

// A Cup is a brew and what was noticed and measured.
type Cup struct {
	Coffee  string // an id
	At      Setting
	Balance [attributes]Reading // -1 far too little, 0 in agreement, 1 far too much
	TDS     Reading             // mass fraction
	EY      Reading             // mass fraction
	Seconds Reading
}

// Codes of errors; they never change.
const (
	CodeBadAxis   = "bad-axis"   // an axis that leads nowhere
	CodeBadNumber = "bad-number" // not a number, or outside what can be
)

// An Error says which field was refused and why.
type Error struct {
	Code  string // stable
	Field string // a variable's or attribute's name, "tds", "ey", "seconds"
	Value string // what came from outside
}

func (e *Error) Error() string {
	return e.Field + " " + strconv.Quote(e.Value) + " refused: " + e.Code
}

func refuse(code, field string, value float64) error {
	return &Error{code, field, strconv.FormatFloat(value, 'g', -1, 64)}
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// Check refuses axes that lead nowhere.
func (s Space) Check() error {
	for v, a := range s {
		switch name := Variable(v).String(); {
		case !finite(a.Centre) || a.Centre < a.Low || a.Centre > a.High:
			return refuse(CodeBadAxis, name, a.Centre)
		case !finite(a.Unit) || a.Unit == 0:
			return refuse(CodeBadAxis, name, a.Unit)
		case !finite(a.Low) || !finite(a.High):
			return refuse(CodeBadAxis, name, a.High-a.Low)
		case !(a.Smallest >= 0) || !finite(a.Smallest):
			return refuse(CodeBadAxis, name, a.Smallest)
		}
	}
	return nil
}

// Check refuses what cannot be.
func (c Cup) Check() error {
	for v, value := range c.At {
		if !finite(value) {
			return refuse(CodeBadNumber, Variable(v).String(), value)
		}
	}
	for a, r := range c.Balance {
		if r.Known && !(r.Value >= -1 && r.Value <= 1) {
			return refuse(CodeBadNumber, Attribute(a).String(), r.Value)
		}
	}
	switch {
	case c.TDS.Known && !(c.TDS.Value >= 0 && c.TDS.Value < 1):
		return refuse(CodeBadNumber, "tds", c.TDS.Value)
	case c.EY.Known && !(c.EY.Value >= 0 && c.EY.Value <= 1):
		return refuse(CodeBadNumber, "ey", c.EY.Value)
	case c.Seconds.Known && !(c.Seconds.Value > 0 && c.Seconds.Value <= 2*24*3600):
		return refuse(CodeBadNumber, "seconds", c.Seconds.Value)
	}
	return nil
}

// scaled centres and scales a setting.
func (s Space) scaled(at Setting) (x [variables]float64) {
	for v, a := range s {
		x[v] = (at[v] - a.Centre) / a.Unit
	}
	return x
}

// reach returns the setting that can be set nearest to so many units from a
// setting along one variable.
func (s Space) reach(from Setting, v Variable, units float64) Setting {
	a, to := s[v], from[v]+units*s[v].Unit
	if a.Smallest > 0 {
		to = from[v] + math.Round((to-from[v])/a.Smallest)*a.Smallest
	}
	for a.Smallest > 0 && to > a.High && to > from[v] {
		to -= a.Smallest
	}
	for a.Smallest > 0 && to < a.Low && to < from[v] {
		to += a.Smallest
	}
	from[v] = math.Max(a.Low, math.Min(to, a.High))
	return from
}
