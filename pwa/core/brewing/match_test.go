package brewing

import (
	"math"
	"testing"
)

// TestMatchLandsOnTheWantedStrength: the ratio that is told gives the wanted TDS on the
// chart's line through the brew's own extraction.
func TestMatchLandsOnTheWantedStrength(t *testing.T) {
	for _, c := range []struct {
		contact         Contact
		ratio, retained float64
		tds, wanted     Fraction
	}{
		{Percolation, 15, 2, 0.0145, 0.0125}, {Percolation, 17, 2.3, 0.0118, 0.0135}, {Immersion, 14, 3, 0.0150, 0.0125}, {Immersion, 18, 3, 0.0105, 0.0130},
	} {
		ey := Fraction(float64(c.tds) * (c.ratio - c.retained))
		if c.contact == Immersion {
			ey = Fraction(float64(c.tds) * c.ratio / (1 - float64(c.tds)))
		}
		at, low, high, ok := Match(c.contact, c.ratio, c.retained, c.tds, c.wanted, Kitchen().TDS)
		if !ok || !(low < at && at < high) {
			t.Fatalf("%+v: %v, between %v and %v", c, at, low, high)
		}
		near(t, "strength at the matched ratio", float64(OnLine(c.contact, ey, at, c.retained)), float64(c.wanted), 1e-12)
		// u(T)/T of both, in quadrature: JCGM 100:2008, 5.1.6
		u := float64(Kitchen().TDS)
		part := 2 * math.Hypot(u/float64(c.tds), u/float64(c.wanted))
		base := 0.0
		if c.contact == Percolation {
			base = c.retained
		}
		near(t, "what is open", (high-low)/2, (at-base)*part, 1e-9)
	}
}

func TestMatchIsSilentWhereTheMeterCannotTell(t *testing.T) {
	for _, c := range []struct {
		contact     Contact
		ratio       float64
		tds, wanted Fraction
	}{
		{Percolation, 16, 0.0130, 0.0132}, {Percolation, 16, 0, 0.013}, {Percolation, 16, 0.013, 0}, {"", 16, 0.015, 0.012}, {Percolation, 1.5, 0.015, 0.012},
	} {
		if at, _, _, ok := Match(c.contact, c.ratio, 2, c.tds, c.wanted, Kitchen().TDS); ok {
			t.Errorf("%+v matches at 1:%v", c, at)
		}
	}
}
