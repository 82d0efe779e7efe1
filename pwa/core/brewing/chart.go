package brewing

// A Range is a region of the brewing control chart that somebody published.
type Range struct {
	ID              string // stable
	Year            int
	TDSLow, TDSHigh Fraction
	EYLow, EYHigh   Fraction
}

// Ranges returns the ranges that a person may choose from, the first by default.
func Ranges() []Range {
	return []Range{{ID: "trade-2015", Year: 2015, TDSLow: 0.0115, TDSHigh: 0.0135, EYLow: 0.18, EYHigh: 0.22}}
}

// A Side says where a value lies against a range.
type Side int

// Sides.
const (
	Below  Side = -1
	Within Side = 0
	Above  Side = 1
)

// Place says where a brew lies on the chart: its strength, and its extraction
// when the whole interval lies on one side; else sure is false.
func (r Range) Place(tds Fraction, y Yield) (strength, extraction Side, sure bool) {
	strength = side(tds, r.TDSLow, r.TDSHigh)
	extraction = side(y.EY, r.EYLow, r.EYHigh)
	sure = side(y.Low, r.EYLow, r.EYHigh) == extraction && side(y.High, r.EYLow, r.EYHigh) == extraction
	return strength, extraction, sure
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
