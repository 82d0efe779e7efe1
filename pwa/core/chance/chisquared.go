package chance

import "math"

// ChiSquared returns the chance that a chi-squared value with so many degrees of
// freedom, above 0, is below x. It is P(freedom/2, x/2), the regularised lower
// incomplete gamma function (Abramowitz and Stegun 26.4.19).
func ChiSquared(x, freedom float64) float64 { return incompleteGamma(freedom/2, x/2) }

// ChiSquaredQuantile returns the value that a chi-squared value with so many
// degrees of freedom is below with chance p; NaN outside 0 to 1 or when freedom
// is not above 0.
func ChiSquaredQuantile(p, freedom float64) float64 {
	switch {
	case !(freedom > 0) || !(p >= 0 && p <= 1):
		return math.NaN()
	case p == 0:
		return 0
	case p == 1:
		return math.Inf(1)
	}
	return inverse(func(x float64) float64 { return ChiSquared(x, freedom) }, p)
}

// incompleteGamma is the regularised lower incomplete gamma function P(a, x).
func incompleteGamma(a, x float64) float64 {
	switch {
	case math.IsNaN(x):
		return x
	case x <= 0:
		return 0
	case math.IsInf(x, 1):
		return 1
	}
	front := math.Exp(a*math.Log(x) - x - logGamma(a))
	if x < a+1 {
		return front * gammaSeries(a, x)
	}
	return 1 - front*gammaFraction(a, x)
}

// gammaSeries is the series of DLMF 8.7.1.
func gammaSeries(a, x float64) float64 {
	term := 1 / a
	sum := term
	for n := 1.0; n < mostTerms && term > sum*enough; n++ {
		term *= x / (a + n)
		sum += term
	}
	return sum
}

// gammaFraction is the continued fraction of DLMF 8.9.2.
func gammaFraction(a, x float64) float64 {
	f := newFraction(1, x+1-a)
	for n := 1.0; n < mostTerms; n++ {
		if f.step(-n*(n-a), x+2*n+1-a) {
			break
		}
	}
	return f.value
}
