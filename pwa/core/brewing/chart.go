package brewing

// A Range is a region of the brewing control chart that somebody published.
type Range struct {
	ID              string // stable
	TDSLow, TDSHigh Fraction
	EYLow, EYHigh   Fraction
}

// Ranges returns the ranges that a person may choose from, the first by default.
//
// The first is the American trade's, after Lockhart (1957), as its "Golden Cup
// Standard" was revised on 23 December 2015: 11.5 to 13.5 g/L and 18 to 22 %. The
// European and the Norwegian trade teach the same extraction and a stronger cup
// ("European Extraction Preferences in Brewed Coffee", Speciality Coffee
// Association of Europe, 2013, confirms the extraction and says that the strength
// differs). Their strengths we have at second hand only; some who tell the
// Norwegian one end it at 1.50 %.
func Ranges() []Range {
	return []Range{
		{"trade-2015", 0.0115, 0.0135, 0.18, 0.22},
		{"trade-europe", 0.0120, 0.0145, 0.18, 0.22},
		{"trade-norway", 0.0130, 0.0155, 0.18, 0.22},
	}
}

// RangeOf returns a range by its id, the first for one that is not known here.
func RangeOf(id string) Range {
	all := Ranges()
	for _, r := range all {
		if r.ID == id {
			return r
		}
	}
	return all[0]
}

// A Side says where a value lies against a range.
type Side int

// Sides.
const (
	Below  Side = -1
	Within Side = 0
	Above  Side = 1
)

// A Placed value lies on a side of a range, for sure when its whole interval does.
type Placed struct {
	Side Side
	Sure bool
}

// Place says where a brew lies on the chart, given the refractometer's standard
// uncertainty. The strength's interval is two of those each way.
func (r Range) Place(tds, meter Fraction, y Yield) (strength, extraction Placed) {
	return placed(tds-2*meter, tds, tds+2*meter, r.TDSLow, r.TDSHigh), placed(y.Low, y.EY, y.High, r.EYLow, r.EYHigh)
}

func placed(least, x, most, low, high Fraction) Placed {
	s := side(x, low, high)
	return Placed{s, side(least, low, high) == s && side(most, low, high) == s}
}

func side(x, low, high Fraction) Side {
	switch {
	case x < low:
		return Below
	case x > high:
		return Above
	}
	return Within
}

// OnLine returns the TDS that an extraction gives at a ratio: the chart's lines
// of equal ratio.
func OnLine(c Contact, ey Fraction, ratio, retained float64) Fraction {
	switch {
	case c == Immersion && ratio > 0:
		s := float64(ey) / ratio
		return Fraction(s / (1 + s))
	case c == Percolation && ratio > retained:
		return Fraction(float64(ey) / (ratio - retained))
	}
	return 0
}
