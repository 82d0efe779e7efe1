package codec

import "math"

// toHalf gives the half-precision form of a number, and whether nothing is lost by it (IEEE 754 binary16).
func toHalf(x float32) (half uint16, exact bool) {
	bits := math.Float32bits(x)
	half = uint16(bits>>16) & 0x8000
	exponent, fraction := int(bits>>23&0xff)-127, bits&0x7fffff
	switch {
	case exponent == 128 && fraction == 0: // infinite
		half |= 0x7c00
	case exponent > 15 || exponent < -24:
		// too large, too small, or zero
	case exponent < -14: // a subnormal half
		half |= uint16((fraction | 0x800000) >> (-exponent - 1))
	default:
		half |= uint16(exponent+15)<<10 | uint16(fraction>>13)
	}
	return half, fromHalf(half) == float64(x)
}

// fromHalf is the number that a half-precision form stands for.
func fromHalf(half uint16) float64 {
	sign := 1.0
	if half&0x8000 != 0 {
		sign = -1
	}
	exponent, fraction := int(half>>10&0x1f), float64(half&0x3ff)
	switch {
	case exponent == 31 && fraction != 0:
		return math.NaN()
	case exponent == 31:
		return math.Inf(int(sign))
	case exponent == 0:
		return math.Copysign(fraction/(1<<24), sign)
	}
	return math.Ldexp(sign*(1+fraction/1024), exponent-15)
}
