package score

import "hushcup/pwa/core/exact"

// Bits are thousandths of a bit against a blind guess.
type Bits int

// Factor returns how many times a blind guess's chance the truth was given:
// 4 for 2,000, a quarter for -2,000.
func (b Bits) Factor() float64 { return exact.Exp2(float64(b) / 1000) }

// Spoken returns the factor as a person reads it, in tenths, and whether it
// divides: 23, false for x2.3; 20, true for a half.
func (b Bits) Spoken() (tenths int, divides bool) {
	if b < 0 {
		return exact.Round(float64(exact.Exp2(float64(-b)/1000) * 10)), true
	}
	return exact.Round(float64(b.Factor() * 10)), false
}

// bitsOf rounds a logarithm, weighed in hundredths.
func bitsOf(log2 float64, weight int) Bits {
	return Bits(exact.Round(float64(float64(log2*float64(weight)) * 10)))
}
