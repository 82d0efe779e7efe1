package brewing

import "math"

// Match returns the ratio at which a brew that was TDS strong at a ratio would be
// as strong as wanted, were it extracted alike, with what two standard
// uncertainties of the refractometer leave open. It is false where the two are no
// further apart than that. Samples are compared fairly at one strength: sweetness
// falls as TDS rises (Frost, Ristenpart and Guinard, Journal of Food Science 85,
// 2530-2543, 2020).
func Match(c Contact, ratio, retained float64, tds, wanted, meter Fraction) (at, low, high float64, ok bool) {
	t, w, u := float64(tds), float64(wanted), float64(meter)
	if !(t > 0 && w > 0 && t < 1 && w < 1) || c == "" || !(ratio > retained) {
		return 0, 0, 0, false
	}
	spread := 2 * u * math.Sqrt(1/(t*t)+1/(w*w))
	factor := t / w
	if math.Abs(factor-1) <= spread {
		return 0, 0, 0, false
	}
	scaled := func(f float64) float64 {
		if c == Immersion { // EY = TDS W / (D (1 - TDS))
			return ratio * f * (1 - w) / (1 - t)
		}
		return retained + (ratio-retained)*f // EY = TDS (W/D - retained)
	}
	return scaled(factor), scaled(factor * (1 - spread)), scaled(factor * (1 + spread)), true
}
