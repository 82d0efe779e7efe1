package scaling

import "math"

// A Model is what a person's brews tell about time.
type Model struct {
	brews   []Brew
	terms   map[string]int // where each term stands among the coefficients
	grinds  []grind
	fit     posterior
	inShape [shapes]int // how many brews each shape has
}

// grind centres and scales the settings that one grinder was used at.
type grind struct {
	id             string
	centre, spread float64
}

// A term is one part of the expected log time.
type term struct {
	name  string
	value float64
}

// Our own estimates; see the package comment.
const (
	usualNoise    = 0.08
	noiseFreedom  = 6
	usualDose     = 15.0
	usualSeconds  = 180.0
	levelDoubt    = 0.5
	differDoubt   = 0.3
	alikeRatio    = 0.15 // in log; brews at other ratios pour another share of time
	mostBrews     = 400  // the newest are at the end
	levelTerm     = "level"
	exponentTerm  = "exponent/"
	brewerTerm    = "brewer/"
	grinderTerm   = "grinder/"
	settingTerm   = "setting/"
	leastForTrust = 3
)

// Fit learns from brews, oldest first, of which it takes those made at about the
// same ratio as the setup that is asked about. It refuses a brew that cannot be.
func Fit(brews []Brew, about Setup) (*Model, error) {
	if err := about.Check(); err != nil {
		return nil, err
	}
	m := &Model{terms: map[string]int{}}
	for _, b := range brews {
		if err := b.Check(); err != nil {
			return nil, err
		}
		if math.Abs(math.Log(b.ratio()/about.ratio())) <= alikeRatio {
			m.brews = append(m.brews, b)
		}
	}
	if extra := len(m.brews) - mostBrews; extra > 0 {
		m.brews = m.brews[extra:]
	}
	for _, b := range m.brews {
		m.inShape[b.Shape]++
	}
	m.measureGrinds()
	return m, m.update()
}

// Used returns how many brews the model learned from.
func (m *Model) Used() int { return len(m.brews) }

// measureGrinds finds the middle and the spread of each grinder's settings.
func (m *Model) measureGrinds() {
	for i, b := range m.brews {
		known := b.Grinder == "" || !b.Set
		for at := 0; at < i && !known; at++ {
			known = m.brews[at].Set && m.brews[at].Grinder == b.Grinder
		}
		if known {
			continue
		}
		n, sum, squares := 0.0, 0.0, 0.0
		for _, other := range m.brews[i:] {
			if other.Set && other.Grinder == b.Grinder {
				n, sum, squares = n+1, sum+other.Setting, squares+other.Setting*other.Setting
			}
		}
		centre := sum / n
		spread := math.Sqrt(math.Max(0, squares/n-centre*centre))
		if spread > 1e-6*(1+math.Abs(centre)) {
			m.grinds = append(m.grinds, grind{b.Grinder, centre, spread})
		}
	}
}

// grind is what is known of a grinder's settings, false where they were all alike.
func (m *Model) grind(id string) (grind, bool) {
	for _, g := range m.grinds {
		if g.id == id {
			return g, true
		}
	}
	return grind{}, false
}

// expected returns the terms of a setup's log time beyond its geometry's.
func (m *Model) expected(s Setup) []term {
	out := []term{
		{levelTerm, 1},
		{brewerTerm + s.Brewer, 1},
		{exponentTerm + s.Shape.String(), math.Log(s.Dose / usualDose)},
	}
	if s.Grinder == "" {
		return out
	}
	out = append(out, term{grinderTerm + s.Grinder, 1})
	if g, ok := m.grind(s.Grinder); ok && s.Set {
		out = append(out, term{settingTerm + s.Grinder, math.Max(-farthest, math.Min(g.of(s.Setting), farthest))})
	}
	return out
}

// farthest is how many spreads from the middle a setting still counts as known:
// a line through two neighbouring clicks says nothing about the other end.
const farthest = 3

func (g grind) of(setting float64) float64 { return (setting - g.centre) / g.spread }

// geometry is the log time that the shape alone gives, beside the level.
func geometry(s Setup) float64 { return s.Shape.Exponent() * math.Log(s.Dose/usualDose) }

// doubt is the standard deviation of a term's coefficient before any brew.
func doubt(name string) float64 {
	if name == levelTerm {
		return levelDoubt
	}
	for s := range shapes {
		if name == exponentTerm+s.String() {
			return s.doubt()
		}
	}
	return differDoubt
}

func (m *Model) update() (err error) {
	p := prior{noise: usualNoise, freedom: noiseFreedom}
	use := func(name string) {
		if _, ok := m.terms[name]; ok {
			return
		}
		m.terms[name] = len(p.mean)
		p.mean, p.spread = append(p.mean, 0), append(p.spread, doubt(name)/usualNoise)
	}
	use(levelTerm)
	p.mean[0] = math.Log(usualSeconds)
	for _, b := range m.brews {
		for _, t := range m.expected(b.Setup) {
			use(t.name)
		}
	}
	var rows [][]float64
	var y []float64
	for _, b := range m.brews {
		row, _ := m.row(m.expected(b.Setup))
		rows, y = append(rows, row), append(y, math.Log(b.Seconds)-geometry(b.Setup))
	}
	m.fit, err = p.update(rows, y)
	return err
}

// row places terms among the coefficients. Those that no brew had keep their
// prior; more is the variance which they add, in units of the noise's.
func (m *Model) row(terms []term) (row []float64, more float64) {
	row = make([]float64, len(m.terms))
	unseen := map[string]float64{}
	for _, t := range terms {
		if at, ok := m.terms[t.name]; ok {
			row[at] += t.value
		} else {
			unseen[t.name] += t.value
		}
	}
	for _, t := range terms { // in the order of the terms, not of the map
		v := unseen[t.name] * doubt(t.name) / usualNoise
		more += v * v
		delete(unseen, t.name)
	}
	return row, more
}
