package brewing

import "math"

// Units.
type (
	Grams    float64 // mass
	Celsius  float64 // temperature
	Fraction float64 // part of a mass: 0.0135 is 1.35 %
	Metres   float64 // altitude
)

// Liquid that the grounds keep, in grams to a gram of coffee, before a person's
// own brews say better.
const (
	RetainedDrip     = 2.0 // drained through paper or metal
	RetainedDecanted = 3.0 // steeped and poured off
)

// A Contact says how water and coffee meet.
type Contact string

// Contacts.
const (
	Percolation Contact = "percolation" // water passes through
	Immersion   Contact = "immersion"   // water stays until it is parted from the grounds
)

// Retained returns the liquid that grounds of this contact keep at first.
func (c Contact) Retained() float64 {
	if c == Immersion {
		return RetainedDecanted
	}
	return RetainedDrip
}

// Ratio returns grams of water to a gram of coffee, 0 when there is no dose.
func Ratio(dose, water Grams) float64 {
	if dose <= 0 {
		return 0
	}
	return float64(water) / float64(dose)
}

// Water returns the water for a dose at a ratio.
func Water(dose Grams, ratio float64) Grams { return Grams(float64(dose) * ratio) }

// Dose returns the dose for water at a ratio, 0 when there is no ratio.
func Dose(water Grams, ratio float64) Grams {
	if ratio <= 0 {
		return 0
	}
	return Grams(float64(water) / ratio)
}

// Beverage returns what reaches the cup: the water less what the grounds keep,
// and the bypass that is added after. It is never below the bypass.
func Beverage(dose, water, bypass Grams, retained float64) Grams {
	return max(water-Grams(float64(dose)*retained), 0) + bypass
}

// A Measured brew is what extraction is computed from.
type Measured struct {
	Contact  Contact
	Dose     Grams    // as weighed, moist
	Water    Grams    // that met the coffee; bypass is not part of it
	Beverage Grams    // as weighed with its bypass; 0 when it was not weighed
	Bypass   Grams    // water added after, included in Beverage and in TDS
	TDS      Fraction // of the beverage as it was measured
	Retained float64  // liquid kept by the grounds, g/g; 0 for the contact's start value
	Moisture Fraction // water and gas in the dose as weighed; 0 leaves the yield as the trade states it
}

// Instruments are the standard uncertainties of what was measured with.
type Instruments struct {
	TDS      Fraction
	Scale    Grams
	Retained float64 // of the retained liquid, g/g
}

// Kitchen returns the instruments of a usual home: a refractometer good to
// 0.05 % TDS and a kitchen scale good to 0.3 g, both taken as rectangular
// (divided by the root of three), and retained liquid known to 0.3 g/g.
func Kitchen() Instruments {
	return Instruments{TDS: 0.0005 / sqrt3, Scale: 0.3 / sqrt3, Retained: 0.3}
}

const sqrt3 = 1.7320508075688772

// A Yield is an extraction yield with its interval of two standard
// uncertainties. Share says which part of the variance each cause has.
type Yield struct {
	EY        Fraction
	Low, High Fraction
	Share     Shares
}

// Shares of the variance of a yield; they add up to one.
type Shares struct {
	TDS, Dose, Liquid, Retained float64
}

// Extraction returns the yield of a measured brew, and false when dose, TDS or
// the liquid that it needs is missing.
func Extraction(m Measured, with Instruments) (Yield, bool) {
	if m.Retained == 0 {
		m.Retained = m.Contact.Retained()
	}
	if !(m.Dose > 0) || !(m.TDS > 0) || m.TDS >= 1 {
		return Yield{}, false
	}
	s, ok := m.sensitivities()
	if !ok {
		return Yield{}, false
	}
	dry := 1 / (1 - float64(m.Moisture))
	ey := s.yield * dry
	parts := Shares{
		TDS:      square(s.tds * float64(with.TDS)),
		Dose:     square(s.dose * float64(with.Scale)),
		Liquid:   square(s.liquid * float64(with.Scale)),
		Retained: square(s.retained * with.Retained),
	}
	variance := parts.TDS + parts.Dose + parts.Liquid + parts.Retained
	spread := 2 * math.Sqrt(variance) * dry
	out := Yield{EY: Fraction(ey), Low: Fraction(max(ey-spread, 0)), High: Fraction(ey + spread)}
	if variance > 0 {
		out.Share = Shares{parts.TDS / variance, parts.Dose / variance, parts.Liquid / variance, parts.Retained / variance}
	}
	return out, true
}

func square(x float64) float64 { return x * x }

// sensitivities are the yield and its partial derivatives.
type sensitivities struct {
	yield, tds, dose, liquid, retained float64
}

func (m Measured) sensitivities() (sensitivities, bool) {
	t, d, w, b := float64(m.TDS), float64(m.Dose), float64(m.Water), float64(m.Beverage)
	switch {
	case m.Contact == Immersion && w > 0 && m.Bypass == 0:
		y := t * w / (d * (1 - t))
		return sensitivities{yield: y, tds: w / (d * (1 - t) * (1 - t)), dose: -y / d, liquid: y / w}, true
	case m.Contact == Immersion && w > 0:
		// Diluted after: the cup as it was before the bypass had t*B/(B-bypass).
		if b <= float64(m.Bypass) {
			return sensitivities{}, false
		}
		before := m
		before.TDS, before.Bypass = Fraction(t*b/(b-float64(m.Bypass))), 0
		if before.TDS >= 1 {
			return sensitivities{}, false
		}
		s, ok := before.sensitivities()
		s.tds *= b / (b - float64(m.Bypass))
		return s, ok
	case m.Contact == Percolation && b > 0:
		y := t * b / d
		return sensitivities{yield: y, tds: b / d, dose: -y / d, liquid: t / d}, true
	case m.Contact == Percolation && w > m.Retained*d:
		liquid := w - m.Retained*d + float64(m.Bypass)
		return sensitivities{yield: t * liquid / d, tds: liquid / d, dose: -t * (w + float64(m.Bypass)) / (d * d), liquid: t / d, retained: -t}, true
	}
	return sensitivities{}, false
}

// retainedStrength is how many of a person's own brews the start value of the
// retained liquid counts for.
const retainedStrength = 2

// LearnRetained returns the retained liquid of a brewer from a person's own
// brews of which water and beverage were both weighed, shrunk to the
// start value, and the standard uncertainty of the next brew's. Brews that cannot
// be (more beverage than water) are left out.
func LearnRetained(start float64, brews []Measured) (retained, uncertainty float64) {
	var kept []float64
	sum := retainedStrength * start
	for _, m := range brews {
		r := float64(m.Water-(m.Beverage-m.Bypass)) / float64(m.Dose)
		if m.Dose > 0 && m.Beverage > 0 && r >= 0 && r < 6 {
			kept = append(kept, r)
			sum += r
		}
	}
	n := float64(len(kept)) + retainedStrength
	retained = sum / n
	// The start value's own spread stands for what has not been seen.
	squares := retainedStrength * square(Kitchen().Retained)
	for _, r := range kept {
		squares += square(r - retained)
	}
	return retained, math.Sqrt(squares / n * (1 + 1/n))
}
