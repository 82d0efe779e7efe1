package chance

import "math"

const (
	enough    = 1e-15 // where a series or fraction no longer changes
	mostTerms = 10000 // more than any number of brews could ask for
	smallest  = 1e-300
)

// A fraction is a continued fraction a1/(b1 + a2/(b2 + ...)) on its way, by the
// modified Lentz method.
type fraction struct {
	value, c, d float64
}

// newFraction starts with a1 and b1.
func newFraction(a1, b1 float64) fraction {
	d := 1 / away(b1)
	return fraction{value: a1 * d, c: 1 / smallest, d: d}
}

// step takes the next a and b; it reports whether the value has settled.
func (f *fraction) step(a, b float64) bool {
	f.d = 1 / away(b+a*f.d)
	f.c = away(b + a/f.c)
	ratio := f.c * f.d
	f.value *= ratio
	return math.Abs(ratio-1) < enough
}

// away keeps a denominator off zero.
func away(x float64) float64 {
	if math.Abs(x) < smallest {
		return smallest
	}
	return x
}

// inverse finds x above 0 where a rising function reaches a value.
func inverse(rising func(float64) float64, value float64) float64 {
	low, high := 0.0, 1.0
	for rising(high) < value && !math.IsInf(high, 1) {
		low, high = high, 2*high
	}
	for range 200 {
		middle := (low + high) / 2
		if middle == low || middle == high {
			break
		}
		if rising(middle) < value {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2
}
