// Package rationing says how many honest attempts a small bag of coffee holds.
//
// An attempt is one brew or one set of bowls that deserves to be judged: its
// dose, and what is ground away to purge the grinder of the coffee before. A
// portion is kept aside to taste again, knowing. Masses are grams.
//
// The smallest dose worth brewing follows from the scale: a brew is as strong as
// its ratio, and the ratio is as good as the dose was weighed. With a scale of
// standard uncertainty u (its stated accuracy over the root of three, JCGM
// 100:2008, 4.3.7), a dose of 2u/part keeps two standard uncertainties within
// that part of the dose.
package rationing

import (
	"math"
	"strconv"
)

// A Bag is what there is, and how it is used.
type Bag struct {
	Grams    float64 // in the bag now
	Kept     float64 // put aside to taste again, knowing
	Dose     float64 // of one brew, or of one bowl
	Bowls    int     // bowls or cups brewed at each attempt; 0 counts as 1
	Purge    float64 // ground away at each attempt
	Accuracy float64 // of the scale, in grams, as it states: 0.1 means plus or minus 0.1 g
}

// within is the part of a dose that a reliable brew's dose may be off.
const within = 0.05

// sqrt3 makes a standard uncertainty of a stated accuracy.
const sqrt3 = 1.7320508075688772

// A Plan is what a bag holds.
type Plan struct {
	Attempts     int     // that the bag holds with its dose
	Each         float64 // grams that one attempt takes
	Left         float64 // grams that remain after all attempts, besides what is kept
	SmallestDose float64 // whose brew is still reliable with this scale
	Reliable     bool    // the dose is at least that
	MostAttempts int     // with the smallest reliable dose; never with a larger one than is planned
}

// An Error names the number that cannot be.
type Error struct {
	Field string
	Value float64
}

func (e *Error) Error() string {
	return e.Field + " of " + strconv.FormatFloat(e.Value, 'g', 6, 64) + " g cannot be"
}

// slack forgives what adding decimal grams in binary loses.
const slack = 1e-9

// For plans a bag.
func For(b Bag) (Plan, error) {
	if err := b.check(); err != nil {
		return Plan{}, err
	}
	bowls := float64(max(b.Bowls, 1))
	p := Plan{Each: b.Dose*bowls + b.Purge, SmallestDose: SmallestDose(b.Accuracy)}
	usable := b.Grams - b.Kept
	p.Attempts = int(math.Floor(usable/p.Each + slack))
	p.Left = max(usable-float64(p.Attempts)*p.Each, 0)
	p.Reliable = b.Dose >= p.SmallestDose-slack
	small := min(b.Dose, p.SmallestDose)
	if p.Reliable {
		p.MostAttempts = int(math.Floor(usable/(small*bowls+b.Purge) + slack))
	}
	return p, nil
}

func (b Bag) check() error {
	for _, c := range []struct {
		field       string
		value, most float64
	}{{"bag", b.Grams, 100_000}, {"kept portion", b.Kept, b.Grams}, {"dose", b.Dose, 1000}, {"purge", b.Purge, 100}, {"scale's accuracy", b.Accuracy, 50}} {
		if !(c.value >= 0 && c.value <= c.most) {
			return &Error{c.field, c.value}
		}
	}
	switch {
	case b.Dose == 0:
		return &Error{"dose", 0}
	case b.Accuracy == 0:
		return &Error{"scale's accuracy", 0}
	case b.Bowls < 0 || b.Bowls > 100:
		return &Error{"number of bowls", float64(b.Bowls)}
	}
	return nil
}

// SmallestDose returns the smallest dose whose brew is reliable with a scale of
// this stated accuracy, rounded up to half a gram.
func SmallestDose(accuracy float64) float64 {
	return math.Ceil(2*accuracy/sqrt3/within*2-slack) / 2
}

// Fresh says how a coffee's days count: a bag may be frozen and thawed, and time
// in the cold hardly counts.
type Fresh struct {
	Roasted int // days since some day, all by the same calendar
	Frozen  int // 0 for never
	Thawed  int // 0 for not yet
}

// frozenPart is what a day in the freezer counts as (our estimate, unconfirmed).
const frozenPart = 0.05

// Days returns the days of rest that a coffee has had by a day, those in the
// freezer counted for a twentieth, and false when the dates contradict each
// other.
func (f Fresh) Days(today int) (float64, bool) {
	age := float64(today - f.Roasted)
	switch {
	case age < 0 || f.Thawed != 0 && (f.Frozen == 0 || f.Thawed < f.Frozen):
		return 0, false
	case f.Frozen == 0:
		return age, true
	case f.Frozen < f.Roasted || f.Frozen > today || f.Thawed > today:
		return 0, false
	}
	until := today
	if f.Thawed != 0 {
		until = f.Thawed
	}
	return age - (1-frozenPart)*float64(until-f.Frozen), true
}
