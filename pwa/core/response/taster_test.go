package response

import (
	"math"
	"math/rand/v2"
	"strconv"
)

// kitchen is how the observatory club brews: a grinder with coarser settings
// higher, half grams of water per gram, whole degrees and stirs.
var kitchen = Space{
	Grind:       {Centre: 24, Unit: -2, Low: 12, High: 36, Smallest: 1},
	Ratio:       {Centre: 16, Unit: 1, Low: 12, High: 20, Smallest: 0.5},
	Temperature: {Centre: 90, Unit: 3, Low: 80, High: 99, Smallest: 1},
	Agitation:   {Centre: 2, Unit: 1, Low: 0, High: 6, Smallest: 1},
}

// usual is where everybody starts.
var usual = Setting{Grind: 24, Ratio: 16, Temperature: 90, Agitation: 2}

// A taster has responses and an optimum of their own, which the model is not told:
// the trade's directions more or less strongly, and something besides, so that
// some directions are the other way round.
type taster struct {
	random  *rand.Rand
	optimum [variables]float64
	slope   [attributes][variables]float64
	noise   float64
}

func newTaster(seed uint64, noise float64) *taster {
	t := &taster{random: rand.New(rand.NewPCG(seed, 7)), noise: noise}
	for v := range variables {
		t.optimum[v] = 5*t.random.Float64() - 2.5
		for a := range attributes {
			t.slope[a][v] = Direction(v, a)*(0.6+0.8*t.random.Float64()) + 0.08*t.random.NormFloat64()
		}
	}
	// Nobody stirs less than not at all.
	t.optimum[Agitation] = math.Max(t.optimum[Agitation], -2)
	return t
}

// balance is the true one: it bends towards its ends.
func (t *taster) balance(at Setting) (out [attributes]float64) {
	for a := range attributes {
		sum := 0.0
		for v, x := range kitchen.scaled(at) {
			sum += t.slope[a][v] * (x - t.optimum[v])
		}
		out[a] = math.Tanh(sum)
	}
	return out
}

// off is the root mean square of the true balance.
func (t *taster) off(at Setting) float64 {
	sum := 0.0
	for _, b := range t.balance(at) {
		sum += b * b
	}
	return math.Sqrt(sum / float64(attributes))
}

// taste is a cup as it is noted: with noise, on a scale of tenths.
func (t *taster) taste(coffee string, at Setting) Cup {
	c := Cup{Coffee: coffee, At: at}
	for a, b := range t.balance(at) {
		v := math.Round(10*(b+t.noise*t.random.NormFloat64())) / 10
		c.Balance[a] = Read(math.Max(-1, math.Min(v, 1)))
	}
	return c
}

// noted is the mean square of a cup as noted.
func noted(c Cup) (sum float64) {
	for _, r := range c.Balance {
		sum += r.Value * r.Value
	}
	return sum
}

// near is how close to agreement counts as found: the model's own mark.
const near = agreement

// A search proposes settings and says which it would recommend by now.
type search interface {
	next() Setting
	learn(Cup)
	recommended() Setting
}

// brewsToFind counts the brews until a search recommends a recipe that truly is
// near to agreement and still does a brew later; most+1 when it never does.
func brewsToFind(t *taster, s search, most int) int {
	found := most + 1
	for brew := 1; brew <= most; brew++ {
		s.learn(t.taste("417", s.next()))
		switch good := t.off(s.recommended()) <= near; {
		case good && found > most:
			found = brew
		case !good:
			found = most + 1
		case brew > found:
			return found
		}
	}
	return found
}

// guided follows the proposals; without one it brews the best again.
type guided struct {
	cups []Cup
	last Proposal
}

func (g *guided) next() Setting {
	if len(g.cups) == 0 {
		return usual
	}
	return g.last.To
}

func (g *guided) learn(c Cup) {
	g.cups = append(g.cups, c)
	m, err := New(kitchen, g.cups)
	if err != nil {
		panic(err)
	}
	g.last = m.Propose("417")
}

func (g *guided) recommended() Setting { return g.last.From }

// inTurn changes one variable after the other: a step up, kept when the cup was
// noted better, else a step down, else the next variable. Informed, it tries the
// way first that the trade's directions recommend for the attribute furthest off.
type inTurn struct {
	units    float64
	informed bool
	best     Setting
	value    float64
	cup      Cup
	variable Variable
	sign     float64
	turned   bool
	trying   Setting
}

func newInTurn(units float64, informed bool) *inTurn {
	return &inTurn{units: units, informed: informed, best: usual, trying: usual, value: math.Inf(1)}
}

func (s *inTurn) next() Setting { return s.trying }

func (s *inTurn) learn(c Cup) {
	switch better := noted(c) < s.value; {
	case better && math.IsInf(s.value, 1):
		s.best, s.value, s.cup = c.At, noted(c), c
		s.begin()
	case better:
		s.best, s.value, s.cup = c.At, noted(c), c
	case s.turned:
		s.variable = (s.variable + 1) % variables
		s.begin()
	default:
		s.sign, s.turned = -s.sign, true
	}
	s.trying = kitchen.reach(s.best, s.variable, s.sign*s.units)
	for tries := 0; s.trying == s.best && tries < 8; tries++ {
		s.variable = (s.variable + 1) % variables
		s.begin()
		s.trying = kitchen.reach(s.best, s.variable, s.sign*s.units)
	}
}

// begin starts with a variable.
func (s *inTurn) begin() {
	s.sign, s.turned = 1, false
	if !s.informed {
		return
	}
	pull := 0.0
	for a, r := range s.cup.Balance {
		pull += r.Value * Direction(s.variable, Attribute(a))
	}
	if pull > 0 {
		s.sign = -1
	}
}

func (s *inTurn) recommended() Setting { return s.best }

// A tally is how many brews a hundred and more tasters needed.
type tally struct {
	brews []int // ascending
	most  int
}

func (t tally) within(n int) float64 {
	count := 0
	for _, b := range t.brews {
		if b <= n {
			count++
		}
	}
	return float64(count) / float64(len(t.brews))
}

func (t tally) mean() float64 {
	sum := 0
	for _, b := range t.brews {
		sum += b
	}
	return float64(sum) / float64(len(t.brews))
}

// race lets the same tasters search.
func race(tasters, most int, noise float64, begin func() search) tally {
	out := tally{most: most}
	for seed := range tasters {
		t := newTaster(uint64(seed), noise)
		out.brews = append(out.brews, brewsToFind(t, begin(), most))
	}
	return out
}

func (t tally) String() string {
	text := ""
	for _, n := range []int{1, 3, 4, 5, 6, 8, 10, 15, 20} {
		if n <= t.most {
			text += " " + strconv.Itoa(n) + ":" + strconv.FormatFloat(100*t.within(n), 'f', 0, 64)
		}
	}
	return text
}

// A reckoning is how often intervals held along many searches.
type reckoning struct {
	readings, changes, levels share // the next cup, the true change, the true balance before
	better                    share // proposals that truly came nearer
	claimed                   float64
}

type share struct{ held, of int }

func (s *share) add(e Estimate, truth float64) {
	s.of++
	if truth >= e.Low && truth <= e.High {
		s.held++
	}
}

func (s share) part() float64 { return float64(s.held) / float64(s.of) }

// reckon follows proposals for some brews each and compares what they say.
func reckon(tasters, brews int, noise float64) (out reckoning) {
	for seed := range tasters {
		t := newTaster(uint64(seed), noise)
		g := &guided{}
		for range brews {
			c := t.taste("417", g.next())
			if p := g.last; len(g.cups) > 0 && p.From != p.To {
				out.compare(t, p, c)
			}
			g.learn(c)
		}
	}
	return out
}

func (r *reckoning) compare(t *taster, p Proposal, c Cup) {
	before, after := t.balance(p.From), t.balance(p.To)
	for a := range attributes {
		r.readings.add(p.Balance[a].Next, c.Balance[a].Value)
		r.changes.add(p.Balance[a].Change, after[a]-before[a])
		r.levels.add(p.Balance[a].Before, before[a])
	}
	if p.Verdict == Change {
		r.better.of++
		if t.off(p.To) < t.off(p.From) {
			r.better.held++
		}
		r.claimed += p.Better
	}
}
