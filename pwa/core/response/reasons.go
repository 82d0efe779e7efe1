package response

import "math"

// A Reason is one part of the sentence that explains a proposal. The screen has
// the words; N is the figure that the code speaks of.
type Reason struct {
	Code      string
	Variable  Variable
	Attribute Attribute
	N         float64
}

// Codes of reasons; they never change.
const (
	ReasonMostOff   = "most-off"        // the attribute that is furthest off, by N
	ReasonMovesMost = "moves-most"      // the attribute that the change brings nearer by most, by N
	ReasonCosts     = "costs"           // the attribute that it takes further off by most, by N
	ReasonKnown     = "known-direction" // the trade knows that a unit of the variable moves the attribute by N
	ReasonOwnCups   = "own-cups"        // N cups of one's own are behind it
	ReasonLearned   = "learned"         // the share N of what was not known of the variable is known by now
	ReasonByTDS     = "by-extraction"   // temperature acts by strength and extraction, hardly by itself
	ReasonNoCups    = "no-cups"         // no cup of this coffee was tasted yet
	ReasonFewCups   = "few-cups"        // only N cups of this coffee
	ReasonNoise     = "noise"           // cups of one setup differ by N from taste to taste, as much as is off
	ReasonConflict  = "conflict"        // what helps one attribute harms another: see the variable's best
	ReasonAllHeld   = "all-held"        // nothing may be changed
	ReasonAgreement = "in-agreement"    // off by N on average
	ReasonCoarserUp = "coarser-upwards" // said by the caller: nothing tells which way the grind's scale goes, so upwards is taken for coarser
	ReasonTeaches   = "would-teach"     // a brew with the variable changed would teach most: the share N of it is not known
)

func (m *Model) reasons(p Proposal, from, to place) (out []Reason) {
	off, worst := 0.0, Acid
	for a := range attributes {
		if v := p.Balance[a].Before.Value; p.Noted[a] && math.Abs(v) > math.Abs(off) {
			off, worst = v, a
		}
	}
	cups := m.count(from.coffee)
	switch p.Verdict {
	case Keep:
		return []Reason{{Code: ReasonAgreement, N: m.off(from)}, {Code: ReasonOwnCups, N: float64(cups)}}
	case CannotTell:
		out = append([]Reason{{Code: ReasonMostOff, Attribute: worst, N: off}}, m.obstacles(off, cups)...)
		if p.From != p.To {
			out = append(out, Reason{ReasonTeaches, p.Variable, worst, 1 - m.learned(p.Variable, worst, from.coffee)})
		}
		return out
	}
	out = append(out, Reason{ReasonMostOff, p.Variable, worst, off})
	out = append(out, gains(p)...)
	units := to.x[p.Variable] - from.x[p.Variable]
	moved := out[1].Attribute
	if known := Direction(p.Variable, moved); known*units*p.Balance[moved].Change.Value > 0 {
		out = append(out, Reason{ReasonKnown, p.Variable, moved, known})
	}
	if p.Variable == Temperature {
		out = append(out, Reason{Code: ReasonByTDS, Variable: Temperature})
	}
	return append(out,
		Reason{Code: ReasonOwnCups, Variable: p.Variable, N: float64(len(m.cups))},
		Reason{ReasonLearned, p.Variable, moved, m.learned(p.Variable, moved, from.coffee)})
}

// gains names what a change brings nearer, and what it takes further off.
func gains(p Proposal) (out []Reason) {
	best, cost := Reason{Code: ReasonMovesMost, Variable: p.Variable}, Reason{Code: ReasonCosts, Variable: p.Variable}
	for a := range attributes {
		if !p.Noted[a] {
			continue
		}
		before := p.Balance[a].Before.Value
		nearer := math.Abs(before) - math.Abs(before+p.Balance[a].Change.Value)
		if nearer > best.N {
			best.Attribute, best.N = a, nearer
		}
		if -nearer > cost.N {
			cost.Attribute, cost.N = a, -nearer
		}
	}
	out = append(out, best)
	if cost.N > 0.05 {
		out = append(out, cost)
	}
	return out
}

// fewCups is where a coffee's own response is still mostly the trade's.
const fewCups = 4

// obstacles says why it can't be told.
func (m *Model) obstacles(off float64, cups int) (out []Reason) {
	held := true
	for _, a := range m.space {
		held = held && a.Held
	}
	noise := math.Sqrt(m.tastes[Acid].noise())
	switch {
	case held:
		return []Reason{{Code: ReasonAllHeld}}
	case math.Abs(off) < noise:
		out = append(out, Reason{Code: ReasonNoise, N: noise})
	default:
		out = append(out, Reason{Code: ReasonConflict})
	}
	if cups < fewCups {
		out = append(out, Reason{Code: ReasonFewCups, N: float64(cups)})
	}
	return out
}

// count returns how many cups of a coffee were tasted.
func (m *Model) count(coffee string) (n int) {
	for _, c := range m.cups {
		if c.Coffee == coffee && c.tasted() {
			n++
		}
	}
	return n
}

// learned returns which share of the prior variance of a variable's slope the cups
// have taken away: 0 is all trade, 1 all one's own.
func (m *Model) learned(v Variable, a Attribute, coffee string) float64 {
	up, down := place{coffee: coffee}, place{coffee: coffee}
	up.x[v], down.x[v] = 0.5, -0.5
	mix := &m.tastes[a]
	slope := func(p pair) float64 { return p.variance[0] + p.variance[1] - 2*p.covariance }
	before := slope(mix.of.prior(up, down))
	if before == 0 {
		return 0
	}
	return math.Max(0, 1-slope(mix.at(up, down))/before)
}
