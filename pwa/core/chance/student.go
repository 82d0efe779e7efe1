package chance

import "math"

// T returns the chance that a value of Student's t distribution with so many
// degrees of freedom, above 0, is below t.
//
// DLMF 8.17 with Abramowitz and Stegun 26.7.1: the two tails beyond |t| hold
// I_x(freedom/2, 1/2) with x = freedom/(freedom+t²).
func T(t, freedom float64) float64 {
	if math.IsInf(freedom, 1) {
		return Normal(t)
	}
	if t*t < freedom {
		// Near the middle the part between the tails keeps its digits.
		return 0.5 + math.Copysign(incompleteBeta(t*t/(freedom+t*t), 0.5, freedom/2)/2, t)
	}
	tail := incompleteBeta(freedom/(freedom+t*t), freedom/2, 0.5) / 2
	if t > 0 {
		return 1 - tail
	}
	return tail
}

// TQuantile returns the value that a value of Student's t distribution with so
// many degrees of freedom is below with chance p; infinite for 0 and 1, NaN
// outside them or when freedom is not above 0.
func TQuantile(p, freedom float64) float64 {
	switch {
	case !(freedom > 0) || !(p >= 0 && p <= 1):
		return math.NaN()
	case p == 0 || p == 1:
		return math.Inf(int(2*p - 1))
	case p == 0.5:
		return 0
	case p < 0.5:
		// The lower tail is found exactly; the upper one is its mirror.
		return -inverse(func(t float64) float64 { return -T(-t, freedom) }, -p)
	}
	return -TQuantile(1-p, freedom)
}

// incompleteBeta is the regularised incomplete beta function I_x(a, b).
func incompleteBeta(x, a, b float64) float64 {
	switch {
	case math.IsNaN(x):
		return x
	case x <= 0:
		return 0
	case x >= 1:
		return 1
	}
	front := math.Exp(logGamma(a+b) - logGamma(a) - logGamma(b) + a*math.Log(x) + b*math.Log1p(-x))
	// The fraction converges quickly on the side of the mean only.
	if x < (a+1)/(a+b+2) {
		return front * betaFraction(x, a, b) / a
	}
	return 1 - front*betaFraction(1-x, b, a)/b
}

// betaFraction is the continued fraction of DLMF 8.17.22.
func betaFraction(x, a, b float64) float64 {
	f := newFraction(1, 1)
	for m := 0.0; m < mostTerms; m++ {
		f.step(-(a+m)*(a+b+m)*x/((a+2*m)*(a+2*m+1)), 1)
		if f.step((m+1)*(b-m-1)*x/((a+2*m+1)*(a+2*m+2)), 1) {
			break
		}
	}
	return f.value
}

func logGamma(x float64) float64 {
	v, _ := math.Lgamma(x)
	return v
}
