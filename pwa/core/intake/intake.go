// Package intake estimates the caffeine of an evening, and holds it against what
// the European Food Safety Authority considers safe for most adults. It is an
// estimate, not advice: local advice and a person's doctor come first.
//
// Caffeine is computed from the dose, taken as dry, with all of its caffeine
// extracted, so that the estimate is rather too high: 0.8 to 1.4 % of dry mass
// for arabica, 1.7 to 4.0 % for canephora, and at most 0.1 % for decaffeinated
// coffee (the European rule for roasted coffee). A sealed sample may be anything
// that it is not declared not to be, so its range is wide.
//
// Limits: EFSA Journal 2015;13(5):4102, scientific opinion on the safety of
// caffeine: single doses up to 200 mg and up to 400 mg over a day raise no
// safety concerns for healthy adults, up to 200 mg a day in pregnancy and while
// breast-feeding; 100 mg close to bedtime may affect sleep in some adults.
package intake

import (
	"math"
	"strconv"
)

// Milligrams of caffeine.
type Milligrams float64

// A Range of caffeine.
type Range struct {
	Low, High Milligrams
}

// Plus adds two ranges.
func (r Range) Plus(other Range) Range { return Range{r.Low + other.Low, r.High + other.High} }

// A Kind says what is known about a coffee's caffeine.
type Kind string

// Kinds.
const (
	Arabica   Kind = "arabica"
	Canephora Kind = "canephora"
	Decaf     Kind = "decaf"
	// Regular is not decaffeinated, of any species.
	Regular Kind = "regular"
	// Sealed may be anything, decaffeinated too.
	Sealed Kind = "sealed"
)

// content returns the part of dry mass that is caffeine.
func (k Kind) content() (low, high float64, ok bool) {
	switch k {
	case Arabica:
		return 0.008, 0.014, true
	case Canephora:
		return 0.017, 0.040, true
	case Decaf:
		return 0, 0.001, true
	case Regular:
		return 0.008, 0.040, true
	case Sealed:
		return 0, 0.040, true
	}
	return 0, 0, false
}

// A Swallowed says which part of what is in the mouth goes down.
type Swallowed struct {
	Low, High float64
}

// Everything is drunk; Spat is tasted as the trade tastes, where a little goes
// down all the same (our estimate, unconfirmed).
var (
	Everything = Swallowed{1, 1}
	Spat       = Swallowed{0, 0.2}
)

// A Cup is one coffee of an evening as one person has it.
type Cup struct {
	Dose      float64   // grams of coffee in the brew
	Kind      Kind      // what is known of it
	Part      float64   // the part of the brew that this person takes, 0 to 1
	Swallowed Swallowed // of that part
}

// An Error names the field of a cup that cannot be.
type Error struct {
	Field string
	Value string
}

func (e *Error) Error() string { return e.Field + " cannot be " + strconv.Quote(e.Value) }

// Caffeine returns what one cup brings.
func (c Cup) Caffeine() (Range, error) {
	low, high, ok := c.Kind.content()
	switch {
	case !ok:
		return Range{}, &Error{"kind", string(c.Kind)}
	case !(c.Dose >= 0 && c.Dose <= 1000):
		return Range{}, bad("dose", c.Dose)
	case !(c.Part >= 0 && c.Part <= 1):
		return Range{}, bad("part", c.Part)
	case !(c.Swallowed.Low >= 0 && c.Swallowed.Low <= c.Swallowed.High && c.Swallowed.High <= 1):
		return Range{}, bad("swallowed", c.Swallowed.High)
	}
	grams := c.Dose * c.Part
	return Range{Milligrams(1000 * grams * low * c.Swallowed.Low), Milligrams(1000 * grams * high * c.Swallowed.High)}, nil
}

func bad(field string, value float64) error {
	return &Error{field, strconv.FormatFloat(value, 'g', -1, 64)}
}

// Evening adds cups up.
func Evening(cups []Cup) (sum Range, err error) {
	for _, c := range cups {
		r, err := c.Caffeine()
		if err != nil {
			return Range{}, err
		}
		sum = sum.Plus(r)
	}
	return sum, nil
}

// Limits of EFSA 2015, in milligrams.
const (
	AtOnceLimit   Milligrams = 200
	DayLimit      Milligrams = 400
	PregnantLimit Milligrams = 200 // a day
	SleepLimit    Milligrams = 100 // close to bedtime
)

// A Level says how a range lies to a limit.
type Level string

// Levels.
const (
	Under Level = "under" // even the high end is not past it
	Maybe Level = "maybe" // only the high end is past it
	Over  Level = "over"  // even the low end is past it
)

// Against holds a range against a limit.
func (r Range) Against(limit Milligrams) Level {
	switch {
	case r.Low > limit:
		return Over
	case r.High > limit:
		return Maybe
	}
	return Under
}

// An Assessment holds an evening against all limits.
type Assessment struct {
	Evening  Range
	Day      Range // with what was had before
	AtOnce   Level // the evening
	InADay   Level // the day
	Pregnant Level // the day, in pregnancy or while breast-feeding
	Sleep    Level // the evening, close to bedtime
}

// Assess holds an evening's cups against the limits; before is what was had
// earlier that day.
func Assess(cups []Cup, before Range) (Assessment, error) {
	evening, err := Evening(cups)
	if err != nil {
		return Assessment{}, err
	}
	day := evening.Plus(before)
	return Assessment{
		Evening:  evening,
		Day:      day,
		AtOnce:   evening.Against(AtOnceLimit),
		InADay:   day.Against(DayLimit),
		Pregnant: day.Against(PregnantLimit),
		Sleep:    evening.Against(SleepLimit),
	}, nil
}

// PartForLimit returns the largest part of every cup that keeps the high end of
// an evening within what a limit leaves: 1 when it is within anyhow. It tells
// how far to share, or that spitting is the answer.
func PartForLimit(evening, before Range, limit Milligrams) float64 {
	left := float64(limit - before.High)
	if float64(evening.High) <= left {
		return 1
	}
	return math.Max(left, 0) / float64(evening.High)
}
