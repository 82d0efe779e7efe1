package score

import (
	"hushcup/pwa/core/atlas"
	"hushcup/pwa/core/exact"
	"hushcup/pwa/core/guess"
)

// A Measure gives events their mass: an *atlas.Joint, or a pool of several.
type Measure interface {
	Of(atlas.Event) float64
}

// A Step is one line of a score: what the truth turned out to be at one level,
// and what that was worth given all steps before.
type Step struct {
	Facet  atlas.Facet
	Level  string         // "area", "country", "region"; else the facet's name
	Truth  []atlas.NodeID // at this level
	Before int            // what was likely before tasting, in ten-thousandths
	Gave   int            // what the guess gave, in ten-thousandths
	Bits   Bits
}

// Right reports whether the guess gave the truth more than a blind guess does.
func (s Step) Right() bool { return s.Bits > 0 }

// A Result is the score of one belief on one sample.
type Result struct {
	Steps    []Step
	Total    Bits
	Unscored [atlas.Facets]Why // Scored for the facets that have steps
}

// Score scores a belief against the prior that the flight declared.
func Score(rules Rules, prior *atlas.Joint, belief Measure, truth Truth) Result {
	s := scorer{rules: rules, prior: prior, belief: belief}
	for f := range atlas.Facets {
		nodes, why := truth.nodes(prior.Atlas().Tree(f))
		if why == Scored && prior.Of(event(prior, f, nodes)) == 0 {
			why = Outside
		}
		if !rules.Asks(f) {
			why = NotAsked
		}
		s.result.Unscored[f] = why
		switch {
		case why != Scored:
		case f == atlas.Origin:
			s.levels(f, nodes)
		case f.Ordered():
			s.ordered(f, nodes)
		default:
			s.step(f, f.String(), nodes)
		}
	}
	return s.result
}

func event(prior *atlas.Joint, f atlas.Facet, nodes []int) (e atlas.Event) {
	for _, n := range nodes {
		e = e.With(prior.Atlas().Tree(f), n)
	}
	return e
}

// A scorer walks the chain; known is the truth of the steps taken.
type scorer struct {
	rules  Rules
	prior  *atlas.Joint
	belief Measure
	known  atlas.Event
	result Result
}

// levels takes one step for each level of the tree that the truth reaches.
func (s *scorer) levels(f atlas.Facet, nodes []int) {
	t := s.prior.Atlas().Tree(f)
	deepest := 0
	for _, n := range nodes {
		deepest = max(deepest, t.At(n).ID.Depth())
	}
	for depth := 1; depth <= deepest; depth++ {
		s.step(f, f.Level(depth), upTo(t, nodes, depth))
	}
}

// upTo replaces nodes deeper than a depth by the node above them at that depth.
func upTo(t *atlas.Tree, nodes []int, depth int) (out []int) {
	seen := map[int]bool{}
	for _, n := range nodes {
		for t.At(n).ID.Depth() > depth {
			n = t.Parent(n)
		}
		if !seen[n] {
			out = append(out, n)
		}
		seen[n] = true
	}
	return out
}

// step scores the truth of one facet, or one level of it, given what is known.
func (s *scorer) step(f atlas.Facet, level string, nodes []int) {
	next := s.known.Only(f, event(s.prior, f, nodes).Leaves(f))
	s.add(f, level, nodes, exact.Log2(s.ratio(next)/s.ratio(s.known)))
	s.known = next
}

// ratio returns P'(e)/q(e).
func (s *scorer) ratio(e atlas.Event) float64 {
	prior := s.prior.Of(e)
	return guess.Soften(s.belief.Of(e), prior) / prior
}

// ordered scores the truth of an ordered facet border by border.
func (s *scorer) ordered(f atlas.Facet, nodes []int) {
	truth := event(s.prior, f, nodes)
	known := s.ratio(s.known)
	sum, borders := 0.0, 0
	for border := 1; border < s.prior.Atlas().Tree(f).Leaves(); border++ {
		if side := side(truth.Leaves(f), border); side != nil {
			sum += exact.Log2(s.ratio(s.known.Only(f, side)) / known)
			borders++
		}
	}
	if borders == 0 {
		s.result.Unscored[f] = NotStated
		return
	}
	s.add(f, f.String(), nodes, sum/float64(borders))
	s.known = s.known.Only(f, truth.Leaves(f))
}

// side returns the bands on the truth's side of a border, nil when the truth
// lies on both.
func side(truth []bool, border int) []bool {
	var below, above bool
	for band, in := range truth {
		below = below || in && band < border
		above = above || in && band >= border
	}
	if below && above {
		return nil
	}
	out := make([]bool, len(truth))
	for band := range out {
		out[band] = (band >= border) == above
	}
	return out
}

func (s *scorer) add(f atlas.Facet, level string, nodes []int, log2 float64) {
	alone := event(s.prior, f, nodes)
	step := Step{
		Facet:  f,
		Level:  level,
		Before: exact.Round(float64(s.prior.Of(alone) * atlas.Whole)),
		Gave:   exact.Round(float64(s.belief.Of(alone) * atlas.Whole)),
		Bits:   bitsOf(log2, s.rules.Weights[f]),
	}
	for _, n := range nodes {
		step.Truth = append(step.Truth, s.prior.Atlas().Tree(f).At(n).ID)
	}
	s.result.Steps = append(s.result.Steps, step)
	s.result.Total += step.Bits
}
