package evening

import (
	"math"
	"strconv"
)

// A Field is one thing that can be set.
type Field uint8

const (
	Coffee Field = iota
	Brewer
	Filter
	Grinder
	Grind         // the position on the grinder's scale
	SinceGrinding // minutes
	Scoops        // where there is no scale; they follow a dose that was weighed
	Dose          // grams
	Ratio         // grams of water per gram of coffee
	Water         // grams; always follows dose and ratio
	WaterKind
	Temperature // of the kettle, °C
	Step        // a whole step, added or removed
	StepTo      // share of the water reached at a step's end
	StepSeconds
	StepTemperature
	StepTimes // how many stirs or swirls
	StepManner
	fields
)

// String returns a stable name.
func (f Field) String() string {
	if f >= fields {
		return "unknown"
	}
	return [...]string{
		"coffee", "brewer", "filter", "grinder", "grind", "since-grinding", "scoops", "dose", "ratio", "water", "water-kind", "temperature",
		"step", "step-to", "step-seconds", "step-temperature", "step-times", "step-manner",
	}[f]
}

// A Reading is a number that may be missing.
type Reading struct {
	Value float64
	Known bool
}

// Read returns a known reading.
func Read(value float64) Reading { return Reading{value, true} }

// A Setup is what was set up for a brew. Names are ids, "" when not known.
type Setup struct {
	Coffee        string
	Brewer        string
	Filter        string
	Grinder       string
	Grind         Reading
	SinceGrinding Reading // minutes
	Scoops        Reading
	Dose          Reading // grams
	Water         Reading // grams
	WaterKind     string
	Temperature   Reading // °C
	Steps         []Doing
}

// A Doing is one step of the recipe as it was planned or done.
type Doing struct {
	Kind        string // "bloom", "pour", "stir", "wait", ...
	To          Reading
	Seconds     Reading
	Temperature Reading
	Times       Reading
	Manner      string // a pattern, "" when not known
}

// Tolerances are how far values may differ before it counts.
type Tolerances struct {
	Grind         float64
	SinceGrinding float64
	Scoops        float64
	Dose          float64
	Water         float64
	Temperature   float64
	To            float64
	Seconds       float64
	Times         float64
}

// Usual returns tolerances of a kitchen scale of 0.1 g, a hand with a kettle, and
// a thermometer of 1 °C; our own estimates.
func Usual() Tolerances {
	return Tolerances{Grind: 1e-6, SinceGrinding: 5, Scoops: 0.1, Dose: 0.15, Water: 2, Temperature: 1, To: 0.02, Seconds: 3, Times: 0.5}
}

// Codes of errors; they never change.
const (
	CodeBadNumber = "bad-number" // not a number, or below nothing
	CodeTwice     = "twice"      // two trials with one id
	CodeCircle    = "circle"     // a trial that is its own ancestor
)

// An Error says which field was refused and why.
type Error struct {
	Code  string // stable
	Field string // a field's name, "id", "parent"
	Value string // what came from outside
}

func (e *Error) Error() string {
	return e.Field + " " + strconv.Quote(e.Value) + " refused: " + e.Code
}

// Check refuses what cannot be.
func (s Setup) Check() error {
	for i, r := range [...]Reading{s.SinceGrinding, s.Scoops, s.Dose, {}, s.Water} {
		if !r.finite() || r.Known && r.Value < 0 {
			return badNumber(SinceGrinding+Field(i), r)
		}
	}
	if s.Dose.Known && s.Dose.Value == 0 {
		return badNumber(Dose, s.Dose)
	}
	if !s.Grind.finite() {
		return badNumber(Grind, s.Grind)
	}
	if !s.Temperature.finite() {
		return badNumber(Temperature, s.Temperature)
	}
	for _, d := range s.Steps {
		if err := d.check(); err != nil {
			return err
		}
	}
	return nil
}

func (d Doing) check() error {
	for i, r := range d.readings() {
		if f := StepTo + Field(i); !r.finite() || f != StepTemperature && r.Known && r.Value < 0 {
			return badNumber(f, r)
		}
	}
	return nil
}

// finite reports whether a reading is a number, or missing.
func (r Reading) finite() bool {
	return !r.Known || !math.IsNaN(r.Value) && !math.IsInf(r.Value, 0)
}

func badNumber(f Field, r Reading) error {
	return &Error{CodeBadNumber, f.String(), strconv.FormatFloat(r.Value, 'g', -1, 64)}
}

// ratio is grams of water per gram of coffee, when both are known.
func (s Setup) ratio() Reading {
	if !s.Dose.Known || !s.Water.Known {
		return Reading{}
	}
	return Read(s.Water.Value / s.Dose.Value)
}
