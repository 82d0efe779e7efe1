package brewing

import "testing"

// TestRangesAgainstWhatThePublishersSay: "Golden Cup Standard" (Specialty Coffee
// Association of America, revised 23 December 2015) has 11.5 to 13.5 g of solids to a
// litre and 18 to 22 %. That Europe drinks it at 1.20 to 1.45 % and Norway at 1.30 to
// 1.55 %, both extracted alike, is told of them by others.
func TestRangesAgainstWhatThePublishersSay(t *testing.T) {
	published := map[string][2]float64{"trade-2015": {11.5, 13.5}, "trade-europe": {12.0, 14.5}, "trade-norway": {13.0, 15.5}} // g/L
	for _, r := range Ranges() {
		litre := published[r.ID]
		near(t, r.ID+" from", float64(r.TDSLow)*1000, litre[0], 1e-9)
		near(t, r.ID+" to", float64(r.TDSHigh)*1000, litre[1], 1e-9)
		near(t, r.ID+" yields from", float64(r.EYLow), 0.18, 1e-12)
		near(t, r.ID+" yields to", float64(r.EYHigh), 0.22, 1e-12)
		if RangeOf(r.ID) != r {
			t.Errorf("%s is found as %s", r.ID, RangeOf(r.ID).ID)
		}
		delete(published, r.ID)
	}
	if len(published) != 0 {
		t.Errorf("not offered: %v", published)
	}
	if first := RangeOf("trade-2099"); first.ID != "trade-2015" {
		t.Errorf("a range that nobody knows is %s", first.ID)
	}
}

// TestPlaceIsSureOnlyWithItsWholeInterval: a refractometer good to 0.05 % leaves 1.33 %
// open to 1.35 % and beyond.
func TestPlaceIsSureOnlyWithItsWholeInterval(t *testing.T) {
	y := Yield{EY: 0.21, Low: 0.205, High: 0.215}
	for _, c := range []struct {
		tds  Fraction
		y    Yield
		want [2]Placed
	}{
		{0.0125, y, [2]Placed{{Within, true}, {Within, true}}},
		{0.0133, y, [2]Placed{{Within, false}, {Within, true}}},
		{0.0137, y, [2]Placed{{Above, false}, {Within, true}}},
		{0.0142, y, [2]Placed{{Above, true}, {Within, true}}},
		{0.0100, Yield{EY: 0.17, Low: 0.16, High: 0.179}, [2]Placed{{Below, true}, {Below, true}}},
		{0.0100, Yield{EY: 0.17, Low: 0.16, High: 0.181}, [2]Placed{{Below, true}, {Below, false}}},
	} {
		strength, extraction := RangeOf("trade-2015").Place(c.tds, Kitchen().TDS, c.y)
		if got := [2]Placed{strength, extraction}; got != c.want {
			t.Errorf("%v and %v: %v, want %v", c.tds, c.y, got, c.want)
		}
	}
}
