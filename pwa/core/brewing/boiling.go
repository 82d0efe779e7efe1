package brewing

import "hushcup/pwa/core/exact"

// Pressure returns the air pressure in kPa at an altitude in the standard
// atmosphere (ISO 2533), up to 11,000 m.
func Pressure(altitude Metres) float64 {
	return 101.325 * exact.Pow(max(1-2.25577e-5*float64(altitude), 0), 5.25588)
}

// BoilingPoint returns the temperature at which water boils in an open kettle
// at an altitude, within 0.15 °C between the sea and 5,000 m. It inverts
// Antoine's equation, with the constants for water from 1 to 100 °C and mmHg:
// A 8.07131, B 1730.63, C 233.426. Weather moves it by a further half degree.
func BoilingPoint(altitude Metres) Celsius {
	const log10of2 = 0.30102999566398120
	mmHg := Pressure(altitude) * 7.50061683
	return Celsius(1730.63/(8.07131-exact.Log2(mmHg)*log10of2) - 233.426)
}
