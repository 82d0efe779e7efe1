package atlas

// outside is the part of a country's coffee that grows outside its usual range
// of altitudes.
const outside = 0.1

// altitudeRow mixes two curves: the declared quantiles, joined by straight
// lines, and the usual range with a tail on each side.
func (a *Atlas) altitudeRow(where place) row {
	t := a.trees[Altitude]
	usual := where.usualRange()
	curve, weight := usual, 0.0
	if q := where.country.Quantiles; q.Samples > 0 && where.kind != kindCanephora {
		curve = curveOf(q)
		weight = float64(q.Samples) / float64(q.Samples+altitudeStrength)
	}
	bands := make([]float64, t.Leaves())
	for i := range bands {
		low, high := a.band(i)
		bands[i] = float64(weight*(curve.below(high)-curve.below(low))) +
			float64((1-weight)*(usual.below(high)-usual.below(low))) + 0.001
	}
	return t.fromWeights(bands)
}

// band returns the altitudes in metres at which a band begins and the next does.
func (a *Atlas) band(i int) (low, high float64) {
	t := a.trees[Altitude]
	if i > 0 {
		low = number(t.At(t.Leaf(i)).key)
	}
	if i+1 == t.Leaves() {
		return low, 9000
	}
	return low, number(t.At(t.Leaf(i + 1)).key)
}

// AltitudeBand returns the band of an altitude in metres above the sea. A
// height on a border belongs to the upper band.
func (a *Atlas) AltitudeBand(metres float64) NodeID {
	t := a.trees[Altitude]
	for i := range t.Leaves() {
		if _, high := a.band(i); metres < high {
			return t.At(t.Leaf(i)).ID
		}
	}
	return t.At(t.Leaf(t.Leaves() - 1)).ID
}

// lightestTile is the number of the lightest colour tile; the eight tiles are
// ten apart.
const lightestTile = 95

// RoastBand returns the band whose colour tile is nearest to a meter's number
// on the scale from 25, very dark, to 95, very light. Halfway counts as darker.
func (a *Atlas) RoastBand(colour float64) NodeID {
	t := a.trees[Roast]
	for i := range t.Leaves() {
		if colour > float64(lightestTile-10*i-5) {
			return t.At(t.Leaf(i)).ID
		}
	}
	return t.At(t.Leaf(t.Leaves() - 1)).ID
}

// A distribution curve: the part that lies below some altitudes, straight in
// between.
type curve struct {
	metres, part []float64
}

func (c curve) below(metres float64) float64 {
	last := len(c.metres) - 1
	if metres <= c.metres[0] {
		return 0
	}
	for i := 1; i <= last; i++ {
		if metres < c.metres[i] {
			along := (metres - c.metres[i-1]) / (c.metres[i] - c.metres[i-1])
			return c.part[i-1] + float64(along*(c.part[i]-c.part[i-1]))
		}
	}
	return 1
}

// curveOf joins quantiles by straight lines, and runs on as far again as the
// tenth and ninetieth percentiles lie from the median.
func curveOf(q Quantiles) curve {
	low, high := max(q.Median-q.P10, 50), max(q.P90-q.Median, 50)
	return curve{
		metres: []float64{max(0, q.P10-low), q.Median - low, q.Median, q.Median + high, q.Median + 2*high},
		part:   []float64{0, 0.1, 0.5, 0.9, 1},
	}
}

// usualRange is the country's range with tails of 400 m; canephora grows lower.
func (p place) usualRange() curve {
	low, high := p.country.Low, p.country.High
	if p.kind == kindCanephora {
		low, high = 200, 900
	}
	return curve{
		metres: []float64{max(0, low-400), low, high, high + 400},
		part:   []float64{0, outside / 2, 1 - outside/2, 1},
	}
}
