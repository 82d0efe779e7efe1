package app

import (
	"math"
	"slices"
	"sort"

	"hushcup/pwa/core/grinder"
	"hushcup/pwa/core/response"
)

// heldVariables are those that are not to be changed, or not known.
type heldVariables [4]bool

var allHeld = heldVariables{true, true, true, true}

// heldBy tells what nobody knows of a brew, and so cannot be changed by a step. A brew without planned steps cannot be stirred
// by plan.
func heldBy(asked *entry, steps bool) (held heldVariables) {
	f := &asked.Facts
	_, ratio := f.ratio()
	held[response.Grind], held[response.Ratio] = !f.GrindSet, !ratio
	held[response.Temperature], held[response.Agitation] = f.Kettle <= 0, !steps
	return held
}

// The newest cups that count: the model's own bound, most of them of the coffee that is asked about.
const (
	mostCups    = 60
	mostOfOther = 30
)

// tasted are the brews in the brewer and with the grinder of another one whose balance was noted, oldest first.
func (a *App) tasted(asked *entry) (oldest []*entry, ready bool) {
	f := &asked.Facts
	return a.brewed(func(e *entry) bool {
		return len(e.Facts.Balance) > 0 && e.Facts.Brewer == f.Brewer && e.Facts.Grinder == f.Grinder
	})
}

// pickCups takes the newest cups of which everything that may be changed is known. Those of the coffee come before others',
// which tell how this person tastes.
func pickCups(cups []*entry, q tasteQuestion) []*entry {
	var own, others []*entry
	for _, e := range cups {
		switch c := (response.Cup{At: q.setting(e)}); {
		case !q.knows(e) || c.Check() != nil:
		case e.Facts.Coffee == q.coffee:
			own = append(own, e)
		default:
			others = append(others, e)
		}
	}
	own = own[max(len(own)-mostCups, 0):]
	others = others[max(len(others)-min(mostOfOther, mostCups-len(own)), 0):]
	picked := append(slices.Clone(others), own...)
	sort.SliceStable(picked, func(i, j int) bool { return picked[i].Created < picked[j].Created })
	return picked
}

func (q *tasteQuestion) knows(e *entry) bool {
	for v, unknown := range heldBy(e, true) {
		if unknown && !q.held[v] {
			return false
		}
	}
	return true
}

// setting is what a brew was made with; what is held counts alike for all.
func (q *tasteQuestion) setting(e *entry) (at response.Setting) {
	f := &e.Facts
	ratio, _ := f.ratio()
	at = response.Setting{response.Grind: f.Grind, response.Ratio: ratio, response.Temperature: f.Kettle, response.Agitation: f.Stirs}
	for v := range at {
		if q.held[v] {
			at[v] = 0
		}
	}
	return at
}

// space counts the variables in this kitchen's units.
func (a *App) space(cups []*entry, held heldVariables) (s response.Space) {
	q := tasteQuestion{held: held}
	boiling := math.Floor(a.boiling())
	for v := range s {
		if held[v] {
			s[v] = response.Axis{Unit: 1, Held: true}
			continue
		}
		var values []float64
		for _, e := range cups {
			values = append(values, q.setting(e)[v])
		}
		centre := middle(values)
		switch response.Variable(v) {
		case response.Grind:
			s[v], _ = a.grindAxis(cups, centre)
		case response.Ratio:
			s[v] = response.Axis{Unit: 1, Low: 10, High: 22, Smallest: 0.5}
		case response.Temperature:
			s[v] = response.Axis{Unit: 3, Low: min(75, boiling), High: boiling, Smallest: 1}
		case response.Agitation:
			s[v] = response.Axis{Unit: 1, High: 10, Smallest: 1}
		}
		s[v].Centre, s[v].Low, s[v].High = centre, min(s[v].Low, centre), max(s[v].High, centre)
	}
	return s
}

// middle is the median, the lower of two.
func middle(values []float64) float64 {
	if len(values) == 0 {
		return 0
	}
	sorted := slices.Clone(values)
	sort.Float64s(sorted)
	return sorted[(len(sorted)-1)/2]
}

// A unit of grind takes an eighth more time. Where one's own brews do not tell how far that is, and the grinder's stops are
// known, it is this share of the way between them: grounds grow about sevenfold in size from one stop to the other, and time
// goes with the inverse square of the size, so ln(9/8) / (2 ln 7). Our own estimate, as are two steps without stops.
const (
	unitTime      = 9.0 / 8
	unitShare     = 0.03
	unitSteps     = 2.0
	unitStepless  = 0.5
	farthestUnits = 8
)

// grindAxis counts a grinder's settings: by one's own brews, else by its stops, else as most grinders number, coarser upwards.
// Told is false for the last of these.
func (a *App) grindAxis(cups []*entry, centre float64) (axis response.Axis, told bool) {
	id := ""
	if len(cups) > 0 {
		id = cups[len(cups)-1].Facts.Grinder
	}
	axis, told = a.scaleAxis(id)
	if unit, own := a.unitByBrews(id, cups); own {
		usual := math.Abs(axis.Unit)
		axis.Unit, told = math.Copysign(max(usual/mostOdd, min(math.Abs(unit), usual*mostOdd)), unit), true
	}
	axis.Unit = math.Copysign(max(math.Abs(axis.Unit), axis.Smallest), axis.Unit)
	if axis.Low == axis.High {
		far := farthestUnits * math.Abs(axis.Unit)
		axis.Low, axis.High = max(centre-far, min(centre, 0)), centre+far
	}
	return axis, told
}

// mostOdd is how many times larger or smaller than usual a grinder's unit may be by a few brews.
const mostOdd = 4

// scaleAxis is what a grinder's own scale tells, which way is coarser only with both of its stops.
func (a *App) scaleAxis(id string) (axis response.Axis, told bool) {
	item, scale, known := a.grinderScale(id)
	axis = response.Axis{Unit: -unitSteps, Smallest: 1}
	if known && scale.Kind == grinder.Numbers && scale.Step == 0 {
		axis.Unit, axis.Smallest = -unitStepless, 0.1
	}
	finest, coarse, stops := item.stops(scale)
	if told = known && stops; told {
		axis.Unit = -unitShare * (coarse - finest)
		axis.Low, axis.High = min(finest, coarse), max(finest, coarse)
	}
	return axis, told
}

// unitByBrews is how far a unit of grind is by the times of one's own brews, as soon as they can tell which way is finer.
func (a *App) unitByBrews(id string, cups []*entry) (unit float64, told bool) {
	if len(cups) == 0 {
		return 0, false
	}
	last := &cups[len(cups)-1].Facts
	curve, err := a.curve(grinder.Place{Grinder: id, Brewer: last.Brewer, Dose: last.Dose}, nil, nil, anyRecipe)
	if err != nil {
		return 0, false
	}
	if s, err := curve.Setting(usualSeconds); err != nil || !s.Known {
		return 0, false
	}
	here, ok := curve.Time(grinder.Position(last.Grind))
	there, also := curve.Time(grinder.Position(last.Grind + 1))
	if !ok || !also {
		return 0, false
	}
	return math.Log(unitTime) / math.Log(there.Value/here.Value), true
}

const usualSeconds = 180

// stops are a grinder's finest and coarsest settings, when both are known and differ.
func (g *Grinder) stops(scale grinder.Scale) (finest, coarse float64, known bool) {
	f, err := scale.Parse(g.Finest)
	c, also := scale.Parse(g.Coarse)
	return float64(f), float64(c), err == nil && also == nil && f != c && g.Finest != "" && g.Coarse != ""
}

// tasteModel keeps the last model: it is made anew when a cup or the kitchen changed.
type tasteModel struct {
	space response.Space
	cups  []*entry
	model *response.Model
}

// of is the model of these cups; nil without any.
func (t *tasteModel) of(space response.Space, cups []*entry) *response.Model {
	if len(cups) == 0 {
		return nil
	}
	if t.model != nil && t.space == space && slices.Equal(t.cups, cups) {
		return t.model
	}
	var known []response.Cup
	q := tasteQuestion{}
	for v := range space {
		q.held[v] = space[v].Held
	}
	for _, e := range cups {
		known = append(known, e.tasted(q.setting(e)))
	}
	model, err := response.New(space, known)
	if err != nil { // what cannot be was left out before
		return nil
	}
	t.space, t.cups, t.model = space, cups, model
	return model
}

// tasted is a brew as the model learns from it.
func (e *entry) tasted(at response.Setting) response.Cup {
	f := &e.Facts
	c := response.Cup{Coffee: f.Coffee, At: at}
	read := func(into *response.Reading, value float64, most float64) {
		if value > 0 && value < most {
			*into = response.Read(value)
		}
	}
	read(&c.TDS, f.TDS, 1)
	read(&c.EY, f.EY, 1)
	read(&c.Seconds, f.Seconds, 2*24*3600)
	f.balance(func(i int, value float64) { c.Balance[i] = response.Read(max(-1, min(value, 1))) })
	return c
}
