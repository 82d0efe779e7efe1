package response

import "math"

// An output is what a process is about, with what is thought of it before any cup.
type output struct {
	usual  float64            // the level for a coffee nobody brewed yet
	level  float64            // how much the level differs from coffee to coffee
	slope  [variables]float64 // expected change for a unit
	doubt  [variables]float64 // standard deviation of that
	bend   float64            // how far the response departs from a plane
	noises []float64          // the noises thought possible, equally likely
	shares bool               // several outputs are thought of alike, and most cups are read for all of them
}

// bendReach is over how many units a response bends.
const bendReach = 2.5

// kernel is the prior covariance: the level and the bends are the coffee's own,
// the plane is the person's.
func (o output) kernel(a, b place) (k float64) {
	far := 0.0
	for v, d := range o.doubt {
		k += d * d * a.x[v] * b.x[v]
		off := (a.x[v] - b.x[v]) / bendReach
		far += off * off
	}
	if a.coffee == b.coffee {
		k += o.level*o.level + o.bend*o.bend*math.Exp(-far/2)
	}
	return k
}

// prior is the belief about two places before any reading, the mean taken off.
func (o output) prior(a, b place) pair {
	return pair{variance: [2]float64{o.kernel(a, a), o.kernel(b, b)}, covariance: o.kernel(a, b)}
}

// expect is the prior mean.
func (o output) expect(at place) float64 {
	sum := o.usual
	for v, s := range o.slope {
		sum += s * at.x[v]
	}
	return sum
}

// The three that are measured, in percent and in log seconds. The directions are
// the trade's; the sizes are our own estimates near a ratio of 16 and an EY of
// 20 %: EY = TDS B/D with 2 g/g retained makes a unit of extraction 0.07 % of TDS.
var (
	strength = output{
		usual: 1.35, level: 0.2,
		slope:  [variables]float64{Grind: 0.055, Ratio: -0.07, Temperature: 0.02, Agitation: 0.035},
		doubt:  [variables]float64{Grind: 0.04, Ratio: 0.03, Temperature: 0.02, Agitation: 0.03},
		bend:   0.04,
		noises: []float64{0.015, 0.03, 0.06},
	}
	extraction = output{
		usual: 19.5, level: 2,
		slope:  [variables]float64{Grind: 0.8, Ratio: 0.4, Temperature: 0.3, Agitation: 0.5},
		doubt:  [variables]float64{Grind: 0.5, Ratio: 0.3, Temperature: 0.25, Agitation: 0.4},
		bend:   0.5,
		noises: []float64{0.25, 0.5, 1},
	}
	duration = output{
		usual: math.Log(180), level: 0.5,
		slope:  [variables]float64{Grind: 0.12, Ratio: 0.06, Temperature: -0.03, Agitation: 0.02},
		doubt:  [variables]float64{Grind: 0.08, Ratio: 0.05, Temperature: 0.03, Agitation: 0.06},
		bend:   0.08,
		noises: []float64{0.03, 0.06, 0.12},
	}
)

// taste is what is thought of each attribute beyond what strength and extraction
// make of it: nothing, give or take. Brew temperature has little effect of its
// own at fixed TDS and EY (Batali, Ristenpart and Guinard, Scientific Reports 10,
// 16450, 2020), so its doubt is small.
var taste = output{
	level:  0.5,
	doubt:  [variables]float64{Grind: 0.1, Ratio: 0.1, Temperature: 0.06, Agitation: 0.1},
	bend:   0.08,
	noises: []float64{0.07, 0.12, 0.2, 0.3},
	shares: true,
}

// The share of strength and extraction in the balance. Directions: with TDS rise
// sourness, bitterness, thickness and persistence, and sweetness falls; with
// extraction at a fixed TDS bitterness rises and sourness falls (Frost, Ristenpart
// and Guinard, Journal of Food Science 85, 2530-2543, 2020). Sizes are our own
// estimates.
var (
	perStrength   = [attributes]float64{Acid: 1.5, Sweet: -1.5, Bitter: 2, Body: 2.5, Finish: 1.5} // for 1 % of TDS
	perExtraction = [attributes]float64{Acid: -0.2, Sweet: 0, Bitter: 0.2, Body: 0, Finish: 0.05}  // for 1 % of EY
)

// Direction returns what a unit of a variable is known to do to an attribute,
// before any cup.
func Direction(v Variable, a Attribute) float64 {
	return perStrength[a]*strength.slope[v] + perExtraction[a]*extraction.slope[v]
}
