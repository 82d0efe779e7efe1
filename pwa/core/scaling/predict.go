package scaling

import "math"

// A Prediction is a time, the exponent behind it, and why.
type Prediction struct {
	Seconds  Estimate // of the next brew, brew-to-brew noise included
	Factor   Estimate // of the time against where it was scaled from; 1 for Time
	Coarser  Estimate // factor on the size of the grounds that would keep the time
	Exponent Estimate // of the dose, for the shape asked about
	Enough   bool     // whether one's own brews decided the exponent
	Reasons  []Reason
}

// A Reason is one part of the sentence that explains a prediction. The screen has
// the words; N is the figure that the code speaks of.
type Reason struct {
	Code string
	N    float64
}

// Codes of reasons; they never change.
const (
	ReasonGeometry   = "geometry"         // the exponent is the shape's: N
	ReasonFitted     = "fitted"           // N brews of that shape decided the exponent
	ReasonTooFew     = "not-enough-brews" // only N brews of that shape, at about this ratio
	ReasonDosesAlike = "doses-alike"      // N brews, but their doses are too alike, or changed along with something else, to tell
	ReasonNewBrewer  = "brewer-unknown"   // no brew with this brewer yet: N is 0
	ReasonNewGrinder = "grinder-unknown"  // no brew with this grinder yet: N is 0
	ReasonFarSetting = "beyond-settings"  // far from the settings brewed, whose middle is N
	ReasonBeyond     = "beyond-doses"     // outside the doses brewed; the nearest is N grams
	ReasonSmallDose  = "small-dose"       // below N grams paper decides the drawdown
	ReasonSteeped    = "steeped"          // the clock decides the time: N is 0
)

// smallDose is where paper dominates, grams; our own estimate.
const smallDose = 8

// Time predicts the time of a setup from the brews alone.
func (m *Model) Time(s Setup) (Prediction, error) {
	if err := s.Check(); err != nil {
		return Prediction{}, err
	}
	row, more := m.row(m.expected(s))
	out := m.explain(s)
	out.Seconds = m.fit.of(row, more+1).shift(geometry(s)).exp()
	out.Factor, out.Coarser = Estimate{1, 1, 1}, Estimate{1, 1, 1}
	return out, nil
}

// Rescale predicts the time of a setup from the known or wanted time of another
// one, such as a recipe's. There and back gives the time back, and the interval
// of the way back is that of the way there, turned round.
func (m *Model) Rescale(seconds float64, from, to Setup) (Prediction, error) {
	if err := (Brew{from, seconds}).Check(); err != nil {
		return Prediction{}, err
	}
	if err := to.Check(); err != nil {
		return Prediction{}, err
	}
	terms := m.expected(to)
	for _, t := range m.expected(from) {
		terms = append(terms, term{t.name, -t.value})
	}
	row, more := m.row(terms)
	grown := geometry(to) - geometry(from)
	out := m.explain(to)
	out.Factor = m.fit.of(row, more).shift(grown).exp()
	out.Seconds = m.fit.of(row, more+1).shift(grown + math.Log(seconds)).exp()
	out.Coarser = Estimate{Coarser(out.Factor.Value), Coarser(out.Factor.Low), Coarser(out.Factor.High)}
	return out, nil
}

// explain gives the exponent of a setup's shape and the reasons.
func (m *Model) explain(s Setup) Prediction {
	row, more := m.row([]term{{exponentTerm + s.Shape.String(), 1}})
	out := Prediction{Exponent: m.fit.of(row, more).shift(s.Shape.Exponent())}
	n, learned := m.inShape[s.Shape], m.learned(s.Shape)
	out.Enough = n >= leastForTrust && learned
	switch {
	case s.Shape == Immersion:
		out.Reasons = append(out.Reasons, Reason{ReasonSteeped, 0})
	case out.Enough:
		out.Reasons = append(out.Reasons, Reason{ReasonFitted, float64(n)})
	case n < leastForTrust:
		out.Reasons = append(out.Reasons, Reason{ReasonTooFew, float64(n)}, Reason{ReasonGeometry, s.Shape.Exponent()})
	default:
		out.Reasons = append(out.Reasons, Reason{ReasonDosesAlike, float64(n)}, Reason{ReasonGeometry, s.Shape.Exponent()})
	}
	out.Reasons = append(out.Reasons, m.warnings(s)...)
	return out
}

// learned reports whether the brews at least halved the exponent's variance. The
// noise's own variance is left out: it says nothing about doses.
func (m *Model) learned(s Shape) bool {
	name := exponentTerm + s.String()
	at, ok := m.terms[name]
	if !ok {
		return false
	}
	row := make([]float64, len(m.terms))
	row[at] = 1
	before := doubt(name) / usualNoise
	return m.fit.precision.Form(row) <= before*before/2
}

func (m *Model) warnings(s Setup) (out []Reason) {
	if _, ok := m.terms[brewerTerm+s.Brewer]; !ok {
		out = append(out, Reason{ReasonNewBrewer, 0})
	}
	if _, ok := m.terms[grinderTerm+s.Grinder]; s.Grinder != "" && !ok {
		out = append(out, Reason{ReasonNewGrinder, 0})
	}
	if g, ok := m.grind(s.Grinder); ok && s.Set && math.Abs(g.of(s.Setting)) > farthest {
		out = append(out, Reason{ReasonFarSetting, g.centre})
	}
	if s.Shape == Immersion {
		return out
	}
	if nearest := m.nearestDose(s); nearest > 0 {
		out = append(out, Reason{ReasonBeyond, nearest})
	}
	if s.Dose < smallDose {
		out = append(out, Reason{ReasonSmallDose, smallDose})
	}
	return out
}

// nearestDose returns the nearest dose brewed in the setup's shape when its dose
// lies outside all of them by more than a tenth, else 0.
func (m *Model) nearestDose(s Setup) float64 {
	low, high := math.Inf(1), 0.0
	for _, b := range m.brews {
		if b.Shape == s.Shape {
			low, high = math.Min(low, b.Dose), math.Max(high, b.Dose)
		}
	}
	switch {
	case high == 0:
		return 0
	case s.Dose < 0.9*low:
		return low
	case s.Dose > 1.1*high:
		return high
	}
	return 0
}
