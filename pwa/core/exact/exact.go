// Package exact computes logarithms and powers of two that come out bit for bit
// the same on every processor.
//
// Scores are computed on every phone and must be equal on all. The sums,
// products, quotients and square roots of IEEE 754 are the same everywhere, as
// long as no compiler fuses a product with a sum: an explicit float64
// conversion around each product forbids that. The standard library's
// logarithm is not: it is assembly on one processor and Go on the next. So the
// two functions here are short series of the safe operations, summed in a
// fixed order.
package exact

import "math"

// ln2 is the natural logarithm of two.
const ln2 = 0.693147180559945309417232121458176568

// Log2 returns the logarithm of x to base two, within 4 units in the last
// place. Log2(0) is minus infinity; x below zero and NaN give NaN.
func Log2(x float64) float64 {
	switch {
	case math.IsNaN(x) || x < 0:
		return math.NaN()
	case x == 0:
		return math.Inf(-1)
	case math.IsInf(x, 1):
		return x
	}
	fraction, exponent := math.Frexp(x)
	if fraction < math.Sqrt2/2 {
		fraction, exponent = fraction*2, exponent-1
	}
	// ln m = 2 artanh((m-1)/(m+1)); the argument is at most 0.172, so twelve
	// odd powers reach below one unit in the last place.
	s := (fraction - 1) / (fraction + 1)
	square := float64(s * s)
	sum := 0.0
	for k := 23; k >= 1; k -= 2 {
		sum = float64(sum*square) + 1/float64(k)
	}
	return float64(exponent) + float64(float64(2*s)*sum)/ln2
}

// Exp2 returns two to the power of x, within 4 units in the last place.
func Exp2(x float64) float64 {
	switch {
	case math.IsNaN(x):
		return x
	case x > 1100:
		return math.Inf(1)
	case x < -1100:
		return 0
	}
	whole := math.Floor(x + 0.5)
	t := float64((x - whole) * ln2)
	// The series of e^t for |t| <= 0.347, from its smallest term upwards.
	sum := 1.0
	for k := 16; k >= 1; k-- {
		sum = 1 + float64(t*sum)/float64(k)
	}
	return math.Ldexp(sum, int(whole))
}

// Pow returns base to the power of exponent for a base that is not negative.
// Pow(0, 0) is 1.
func Pow(base, exponent float64) float64 {
	switch {
	case exponent == 0:
		return 1
	case base == 0:
		return 0
	case exponent == 1:
		return base
	}
	return Exp2(float64(exponent * Log2(base)))
}

// Round returns x rounded to the nearest whole number, halves upwards.
func Round(x float64) int {
	return int(math.Floor(x + 0.5))
}
