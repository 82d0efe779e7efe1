package app

import (
	"math"
	"slices"
)

// Bounds of what a brew can be made of; past the inner ones a number is hardly meant.
const (
	mostDose   = 200.0
	mostWater  = 3000.0
	mostKettle = 100.5 // °C, at sea level and a little for the thermometer
	mostTime   = 4 * 3600.0
)

// bounds say when a number is refused and when it is questioned. 0 is "not measured" and always taken.
type bounds struct {
	field                  string
	value                  float64
	low, high              float64 // impossible outside
	usualLow, usualHigh    float64 // surprising outside
	impossible, surprising string
}

func (b bounds) check(sure []string) *Error {
	switch {
	case b.value == 0:
		return nil
	case !(b.value >= b.low && b.value <= b.high):
		return refuse(CodeImpossible, b.field, b.impossible)
	case (b.value < b.usualLow || b.value > b.usualHigh) && !slices.Contains(sure, b.field):
		return refuse(CodeSurprising, b.field, b.surprising)
	}
	return nil
}

// check refuses a setup that cannot be and questions one that surprises. It completes water from dose and ratio, and the
// ratio from both.
func (s *BrewSetup) check(ofSample bool, sure []string) *Error {
	err := first(
		text("coffee", &s.Coffee, 120, false), text("brewer", &s.Brewer, 120, false), text("grinder", &s.Grinder, 120, false),
		text("grind", &s.Grind, 40, false), text("filter", &s.Filter, 80, false), oneOf("method", s.Method, "Method"))
	if err != nil {
		return err
	}
	if s.Dose == 0 {
		return refuse(CodeRequired, "dose", "how much coffee?")
	}
	if s.Water == 0 {
		s.Water = math.Round(s.Dose*s.Ratio*10) / 10
	}
	if s.Water > 0 && s.Dose > 0 {
		s.Ratio = math.Round(s.Water/s.Dose*100) / 100
	}
	return first(
		bounds{"dose", s.Dose, 0.5, mostDose, 4, 60, "a dose is 0.5 to 200 g", "is the dose right?"}.check(sure),
		bounds{"water", s.Water, 1, mostWater, 30, 1200, "the water is 1 to 3,000 g", "is the water right?"}.check(sure),
		bounds{"ratio", s.Ratio, 0.5, 100, 8, 25, "the ratio is 0.5 to 100", "is so much water to a gram of coffee right?"}.check(sure),
		bounds{"kettle", s.Kettle, 1, mostKettle, 70, mostKettle, "water is not hotter than that", "is the water that cool?"}.check(sure))
}

// check refuses an outcome that cannot be and questions one that surprises, given the setup.
func (o *BrewOutcome) check(setup *setupContent, sure []string) *Error {
	if err := first(text("notes", &o.Notes, 8000, false), oneOf("asked", o.Asked, "Asked"), tooMany("pours", len(o.Pours), 40)); err != nil {
		return err
	}
	for i, pour := range o.Pours {
		field := "pours." + decimal(i)
		switch {
		case !(pour.At >= 0 && pour.At <= mostTime):
			return refuse(CodeImpossible, field+".at", "this time cannot be")
		case !(pour.Grams >= 0 && pour.Grams <= mostWater):
			return refuse(CodeImpossible, field+".grams", "this cannot be")
		case i > 0 && pour.At < o.Pours[i-1].At:
			return refuse(CodeImpossible, field+".at", "this pour is before the one above it")
		}
	}
	most := mostWater
	if setup.Water > 0 {
		most = setup.Water * 1.5
	}
	return first(
		bounds{"drawdown", o.Drawdown, 5, mostTime, 20, 1800, "this time cannot be", "did it take that long?"}.check(sure),
		bounds{"beverage", o.Beverage, 1, mostWater, 10, most, "this cannot be", "is there more in the cup than was poured?"}.check(sure),
		bounds{"tds", o.TDS, 0.05, 30, 0.5, 15, "TDS is 0.05 to 30 percent", "is that what the meter said, in percent?"}.check(sure))
}
