package chance

import "math"

// Normal returns the chance that a standard normal value is below z.
func Normal(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }

// NormalQuantile returns the value that a standard normal value is below with
// chance p; infinite for 0 and 1, NaN outside them.
func NormalQuantile(p float64) float64 { return -math.Sqrt2 * math.Erfcinv(2*p) }

// NormalDensity returns the density of the standard normal distribution.
func NormalDensity(z float64) float64 { return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) }
