package response

import (
	"math"

	"hushcup/pwa/core/chance"
)

// A Verdict is whether there is anything to propose.
type Verdict uint8

const (
	CannotTell Verdict = iota // the cups do not say what would help; To is a brew that would teach something
	Keep                      // it is in agreement: leave it
	Change                    // change one thing
)

// String returns a stable name.
func (v Verdict) String() string { return [...]string{"cannot-tell", "keep", "change"}[v] }

// A Proposal is what to change next, if anything, and why.
type Proposal struct {
	Verdict  Verdict
	Base     int      // which cup to change, counted as given to New; -1 for none
	Variable Variable // the one that changes
	From, To Setting
	Better   float64            // the chance that it comes nearer to agreement
	Noted    [attributes]bool   // what was noted of this coffee, and so judged by
	Balance  [attributes]Effect // expected effects, 90 % intervals
	TDS      Effect             // mass fraction
	EY       Effect             // mass fraction
	Seconds  Effect             // Change is a factor
	Reasons  []Reason
}

const (
	trust     = 0.65 // the least chance of coming nearer that is worth a brew
	agreement = 0.15 // a balance this near to zero, on average, is left alone
	farthest  = 3.0  // units; further steps are leaps
	stride    = 0.5  // units between the steps looked at
)

// Propose looks for the one change of a coffee's best cup that is expected to
// bring it nearest to agreement.
func (m *Model) Propose(coffee string) Proposal {
	base := m.base(coffee)
	if base < 0 {
		return Proposal{Base: -1, Reasons: []Reason{{Code: ReasonNoCups}}}
	}
	from := m.cups[base]
	out := Proposal{Base: base + m.dropped, From: from.At, To: from.At}
	here := m.place(from)
	if m.off(here) <= agreement {
		out.Verdict = Keep
		return m.finish(out, here, here)
	}
	best, found := m.best(from, trust)
	if found {
		out.Verdict = Change
	} else if best, found = m.best(from, 0); !found {
		return m.finish(out, here, here)
	}
	out.Variable, out.To, out.Better = best.variable, best.to, best.better
	return m.finish(out, here, m.place(Cup{Coffee: coffee, At: best.to}))
}

// base returns the cup of a coffee that is expected nearest to agreement, the
// newest of equals; -1 when none was tasted.
func (m *Model) base(coffee string) int {
	best, least := -1, math.Inf(1)
	for i, c := range m.cups {
		if c.Coffee != coffee || !c.tasted() {
			continue
		}
		if off := m.off(m.place(c)); off <= least {
			best, least = i, off
		}
	}
	return best
}

func (c Cup) tasted() bool {
	for _, r := range c.Balance {
		if r.Known {
			return true
		}
	}
	return false
}

// noted tells which attributes somebody noted of a coffee. The others are not
// judged by: what the trade expects of them is no word of the person's.
func (m *Model) noted(coffee string) (out [attributes]bool) {
	for _, c := range m.cups {
		for a, r := range c.Balance {
			out[a] = out[a] || r.Known && c.Coffee == coffee
		}
	}
	return out
}

// off is the root of the expected mean square of what was noted of the balance.
func (m *Model) off(at place) float64 {
	sum, n := 0.0, 0.0
	for a, noted := range m.noted(at.coffee) {
		if noted {
			p := m.tastes[a].at(at, at)
			sum, n = sum+p.mean[0]*p.mean[0]+p.variance[0], n+1
		}
	}
	return math.Sqrt(sum / max(n, 1))
}

// A step is one candidate.
type step struct {
	variable Variable
	to       Setting
	better   float64 // the chance of coming nearer
	worth    float64 // expected improvement, none counted as nothing
}

// best returns the step with the greatest expected improvement of those that are
// likely enough to help.
func (m *Model) best(from Cup, likely float64) (out step, found bool) {
	for v := range variables {
		for units := -farthest; units <= farthest; units += stride {
			to := m.space.reach(from.At, v, units)
			if m.space[v].Held || m.tried(from.Coffee, to) {
				continue
			}
			s := m.judge(from, to)
			s.variable = v
			if s.better >= likely && (!found || s.worth > out.worth) {
				out, found = s, true
			}
		}
	}
	return out, found
}

// tried reports whether a coffee was brewed within a quarter of a unit of a
// setting, which includes where it stands.
func (m *Model) tried(coffee string, to Setting) bool {
	x := m.space.scaled(to)
	for _, c := range m.cups {
		if c.Coffee != coffee {
			continue
		}
		far := 0.0
		for v, other := range m.space.scaled(c.At) {
			far += (x[v] - other) * (x[v] - other)
		}
		if far < 0.25*0.25 {
			return true
		}
	}
	return false
}

// judge compares the sums of squares of what was noted of the balance at two settings. With u and v
// the difference and the sum of two normal values, their squares differ by u v,
// whose mean and variance are known (Isserlis, Biometrika 12, 134-139, 1918).
func (m *Model) judge(from Cup, to Setting) step {
	here, there := m.place(from), place{m.space.scaled(to), from.Coffee}
	mean, variance := 0.0, 0.0
	for a, noted := range m.noted(from.Coffee) {
		if !noted {
			continue
		}
		p := m.tastes[a].at(here, there)
		u, v := p.mean[0]-p.mean[1], p.mean[0]+p.mean[1]
		uu := math.Max(0, p.variance[0]+p.variance[1]-2*p.covariance)
		vv := math.Max(0, p.variance[0]+p.variance[1]+2*p.covariance)
		uv := p.variance[0] - p.variance[1]
		mean += u*v + uv
		variance += u*u*vv + v*v*uu + 2*u*v*uv + uu*vv + uv*uv
	}
	spread := math.Sqrt(math.Max(variance, 1e-12))
	z := mean / spread
	return step{to: to, better: chance.Normal(z), worth: mean*chance.Normal(z) + spread*chance.NormalDensity(z)}
}

// finish adds the expected effects and the reasons.
func (m *Model) finish(p Proposal, from, to place) Proposal {
	p.Noted = m.noted(from.coffee)
	for a := range attributes {
		p.Balance[a] = m.tastes[a].effect(from, to)
	}
	p.TDS = m.tds.effect(from, to).by(0.01)
	p.EY = m.ey.effect(from, to).by(0.01)
	p.Seconds = m.time.effect(from, to).exp()
	p.Reasons = m.reasons(p, from, to)
	return p
}

func (e Effect) by(factor float64) Effect {
	return Effect{e.Before.by(factor), e.Change.by(factor), e.Next.by(factor)}
}

func (e Estimate) by(f float64) Estimate { return Estimate{f * e.Value, f * e.Low, f * e.High} }

func (e Effect) exp() Effect { return Effect{e.Before.exp(), e.Change.exp(), e.Next.exp()} }

func (e Estimate) exp() Estimate {
	return Estimate{math.Exp(e.Value), math.Exp(e.Low), math.Exp(e.High)}
}
