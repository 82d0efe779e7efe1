package scaling

import "math"

// Permeability returns that of a bed in m², by Kozeny and Carman, for grounds of
// a size in m and the share of the bed that is not grounds.
func Permeability(size, porosity float64) float64 {
	return size * size * porosity * porosity * porosity / (180 * (1 - porosity) * (1 - porosity))
}

// Conductivity returns that of a bed in m/s for water of a density in kg/m³ and a
// viscosity in Pa s.
func Conductivity(permeability, density, viscosity float64) float64 {
	const gravity = 9.80665
	return permeability * density * gravity / viscosity
}

// Drawdown returns the seconds in which water standing so high over a flat bed
// runs through it, lengths in metres: Darcy's law with a falling head, dh/dt =
// -K (h+L)/L.
func Drawdown(head, bed, conductivity float64) float64 {
	return bed / conductivity * math.Log1p(head/bed)
}

// Coarser returns the factor on the size of the grounds that undoes a factor on
// the time: conductivity goes with the square of the size.
func Coarser(timeFactor float64) float64 { return math.Sqrt(timeFactor) }

// Scale returns the time at another dose, when time goes with a power of it.
// Scaling there and back gives the time back.
func Scale(seconds, from, to, exponent float64) float64 {
	return seconds * math.Pow(to/from, exponent)
}
