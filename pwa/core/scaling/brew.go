package scaling

import (
	"math"
	"strconv"
)

// A Shape is what decides how time goes with dose.
type Shape uint8

const (
	Cone      Shape = iota // a funnel
	FlatBed                // a basket with a flat bottom
	Cylinder               // a tube, pressed or not
	Immersion              // steeped for a time that the clock decides
	shapes
)

// String returns a stable name.
func (s Shape) String() string {
	if s >= shapes {
		return "unknown"
	}
	return [...]string{"cone", "flat-bed", "cylinder", "immersion"}[s]
}

// Exponent returns the power of the dose with which time goes by geometry alone.
func (s Shape) Exponent() float64 {
	switch s {
	case Cone:
		return 1.0 / 3
	case Immersion:
		return 0
	}
	return 1
}

// doubt is the standard deviation of a shape's exponent before any brew.
func (s Shape) doubt() float64 {
	switch s {
	case Cone:
		return 0.25
	case Immersion:
		return 0.05
	}
	return 0.35
}

// A Setup is what time depends on.
type Setup struct {
	Brewer  string // an id
	Shape   Shape
	Grinder string  // an id; "" when it is not known
	Setting float64 // position on the grinder's own scale
	Set     bool    // whether the setting is known
	Dose    float64 // grams
	Water   float64 // grams
}

// A Brew is a setup and the time it took, from the first water to the end of the
// drawdown.
type Brew struct {
	Setup
	Seconds float64
}

// Codes of errors; they never change.
const (
	CodeBadNumber = "bad-number" // not a number, or outside what can be
	CodeBadShape  = "bad-shape"
)

// An Error says which field was refused and why.
type Error struct {
	Code  string // stable
	Field string // "dose", "water", "seconds", "setting", "shape"
	Value string // what came from outside
}

func (e *Error) Error() string {
	return e.Field + " " + strconv.Quote(e.Value) + " refused: " + e.Code
}

// Check refuses what cannot be: a dose or water of nothing or more than 5 kg, a
// setting that is no number.
func (s Setup) Check() error {
	if s.Shape >= shapes {
		return &Error{CodeBadShape, "shape", strconv.Itoa(int(s.Shape))}
	}
	if s.Set && (math.IsNaN(s.Setting) || math.IsInf(s.Setting, 0)) {
		return badNumber("setting", s.Setting)
	}
	if err := within("dose", s.Dose, 5000); err != nil {
		return err
	}
	return within("water", s.Water, 50000)
}

// Check refuses what cannot be, and times of nothing or more than two days.
func (b Brew) Check() error {
	if err := b.Setup.Check(); err != nil {
		return err
	}
	return within("seconds", b.Seconds, 2*24*3600)
}

func within(field string, value, most float64) error {
	if !(value > 0 && value <= most) {
		return badNumber(field, value)
	}
	return nil
}

func badNumber(field string, value float64) error {
	return &Error{CodeBadNumber, field, strconv.FormatFloat(value, 'g', -1, 64)}
}

// ratio is grams of water for a gram of coffee.
func (s Setup) ratio() float64 { return s.Water / s.Dose }
