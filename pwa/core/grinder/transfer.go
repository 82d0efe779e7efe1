package grinder

import (
	"math"

	"hushcup/pwa/core/chance"
)

// An Estimate is a value with the 90 % interval around it.
type Estimate struct {
	Value, Low, High float64
}

// A Suggestion is a position for a wanted time, and why.
type Suggestion struct {
	Known    bool     // false: it can't be told yet; the reasons say why
	Position Estimate // in smallest steps, not rounded
	Seconds  Estimate // what the next brew there may take, noise included
	Reasons  []Reason
}

// A Reason is one part of the sentence that explains a suggestion. The screen has
// the words; N is the figure that the code speaks of.
type Reason struct {
	Code string
	N    float64
}

// Codes of reasons; they never change.
const (
	ReasonFitted       = "fitted"           // N brews with this grinder in this brewer
	ReasonBorrowed     = "slope-borrowed"   // the slope also comes from N brews in other brewers
	ReasonTooFew       = "not-enough-brews" // only N brews with this grinder
	ReasonAlike        = "settings-alike"   // N brews, but at too few different settings
	ReasonNoTrend      = "no-trend"         // N brews, but time does not go with the setting yet
	ReasonNewBrewer    = "brewer-unknown"   // N brews with this grinder, none in this brewer
	ReasonExtrapolated = "extrapolated"     // N steps beyond the settings brewed at
	ReasonOtherDoses   = "other-doses"      // leans on brews at doses more than a quarter off
	ReasonPastStop     = "past-stop"        // the scale ends N steps before it
)

// quantile for 90 % intervals.
func (c *Curve) quantile() float64 { return chance.TQuantile(0.95, c.freedom) }

// at returns the expected log time at a position and its variance.
func (c *Curve) at(position float64) (value, variance float64) {
	off := position - c.middle
	value = c.level + c.slope*off
	variance = c.levelError * c.levelError
	if off != 0 {
		variance += c.slopeError * c.slopeError * off * off
	}
	return value, variance
}

// Time returns the expected time at a position, of the next brew, noise included.
// It reports false when nothing is known there.
func (c *Curve) Time(p Position) (Estimate, bool) {
	value, variance := c.at(float64(p))
	if !c.known || math.IsInf(variance, 1) {
		return Estimate{}, false
	}
	half := c.quantile() * math.Sqrt(variance+c.noise*c.noise)
	return Estimate{math.Exp(value), math.Exp(value - half), math.Exp(value + half)}, true
}

// Setting finds the position for a wanted time.
func (c *Curve) Setting(seconds float64) (Suggestion, error) {
	if !(seconds > 0 && seconds <= 2*24*3600) {
		return Suggestion{}, badNumber("seconds", seconds)
	}
	return c.setting(math.Log(seconds), 0), nil
}

// Transfer finds the position on one curve that takes the time which a position
// takes on another: another brewer, another dose, another grinder.
func Transfer(from *Curve, p Position, to *Curve) (Suggestion, error) {
	if !finite(float64(p)) {
		return Suggestion{}, badNumber("setting", float64(p))
	}
	value, variance := from.at(float64(p))
	if !from.known || math.IsInf(variance, 1) {
		return Suggestion{Reasons: from.cannot()}, nil
	}
	return to.setting(value, variance), nil
}

// setting inverts the line for a log time that is itself known with a variance:
// Fieller's interval.
func (c *Curve) setting(want, variance float64) Suggestion {
	q := c.quantile()
	steep := c.slope*c.slope - q*q*c.slopeError*c.slopeError
	if !c.known || !(steep > 0) {
		return Suggestion{Reasons: c.cannot()}
	}
	off := want - c.level
	spread := q * q * (c.levelError*c.levelError + variance)
	middle := c.slope * off / steep
	half := math.Sqrt(math.Max(0, middle*middle-(off*off-spread)/steep))
	value := c.middle + off/c.slope
	out := Suggestion{Known: true, Position: Estimate{value, c.middle + middle - half, c.middle + middle + half}}
	out.Seconds, _ = c.Time(Position(value))
	out.Reasons = c.reasons(value)
	return out
}

// cannot says why there is no answer.
func (c *Curve) cannot() []Reason {
	n := float64(c.brews)
	switch {
	case c.brews < 4:
		return []Reason{{ReasonTooFew, n}}
	case !c.known:
		return []Reason{{ReasonNewBrewer, n}}
	case math.IsInf(c.slopeError, 1):
		return []Reason{{ReasonAlike, n}}
	}
	return []Reason{{ReasonNoTrend, n}}
}

func (c *Curve) reasons(position float64) []Reason {
	out := []Reason{{ReasonFitted, float64(c.here)}}
	if c.brews > c.here {
		out = append(out, Reason{ReasonBorrowed, float64(c.brews - c.here)})
	}
	if beyond := math.Max(c.low-position, position-c.high); beyond > 0.5 {
		out = append(out, Reason{ReasonExtrapolated, beyond})
	}
	if c.otherDoses {
		out = append(out, Reason{ReasonOtherDoses, 0})
	}
	return out
}

// On puts a suggestion on a scale: the nearest setting that there is, with a
// reason when the scale ends before it.
func (s Suggestion) On(scale Scale) (Position, Suggestion) {
	nearest := scale.Nearest(Position(s.Position.Value))
	if short := math.Abs(float64(nearest) - s.Position.Value); s.Known && short > 0.5+1e-9 {
		s.Reasons = append(s.Reasons[:len(s.Reasons):len(s.Reasons)], Reason{ReasonPastStop, short})
	}
	return nearest, s
}
