package score

import (
	"math"
	"testing"

	"hushcup/pwa/core/atlas"
	"hushcup/pwa/core/guess"

	"pgregory.net/rapid"
)

// small is the prior narrowed so far that all coffees can be counted: three
// origins, two processes, three varieties, decaf or not, three altitudes, two
// roasts.
func small(t failer) *atlas.Prior {
	t.Helper()
	p := atlas.Builtin().Prior()
	for _, nodes := range [][]atlas.NodeID{
		{"origin/africa/kenya/nyeri", "origin/africa/kenya/kiambu", "origin/asia/laos/bolaven"},
		{"process/natural/open", "process/washed/tank/twice"},
		{"variety/arabica/bourbon/sl28", "variety/arabica/typica/sl34", "variety/arabica/introgressed/catimor/catimor"},
		{"decaf/no", "decaf/yes/water"},
		{"altitude/900-1200", "altitude/1200-1500", "altitude/1500-1800"},
		{"roast/light", "roast/dark"},
	} {
		next, err := p.Narrow(nodes...)
		if err != nil {
			t.Fatal(err)
		}
		p = next
	}
	return p
}

// coffees lists every whole coffee that a prior allows, with its truth.
func coffees(p *atlas.Prior) []Truth {
	out := []Truth{nil}
	for f := range atlas.Facets {
		var longer []Truth
		for _, truth := range out {
			for _, id := range p.Narrowed(f) {
				longer = append(longer, append(truth[:len(truth):len(truth)], fact(id)))
			}
		}
		out = longer
	}
	return out
}

// drawSmall draws a belief about what small allows.
func drawSmall(t *rapid.T, p *atlas.Prior) (out guess.Belief) {
	for f := range atlas.Facets {
		if !rapid.Bool().Draw(t, "speaks") {
			continue
		}
		nodes, left := p.Narrowed(f), atlas.Whole
		for _, id := range nodes[:len(nodes)-1] {
			share := rapid.IntRange(0, left).Draw(t, string(id))
			left -= share
			out = append(out, guess.Mass{Node: id, Share: share})
		}
	}
	return out
}

// expectation returns the expected score, unrounded but for thousandths, of a
// belief when coffees come as the weight of each says.
func expectation(rules Rules, p *atlas.Prior, belief *atlas.Joint, all []Truth, weight []float64) (sum float64) {
	for i, truth := range all {
		sum += weight[i] * float64(Score(rules, p.Joint(), belief, truth).Total) / 1000
	}
	return sum
}

// weights returns the chance of every coffee under a belief mixed with the
// prior.
func weights(p *atlas.Prior, belief *atlas.Joint, all []Truth, doubt float64) (out []float64) {
	for _, truth := range all {
		var ids []atlas.NodeID
		for _, f := range truth {
			ids = append(ids, f.Nodes...)
		}
		e, _ := p.Atlas().Event(ids...)
		out = append(out, (1-doubt)*belief.Of(e)+doubt*p.Joint().Of(e))
	}
	return out
}

// TestHonestyPays counts out the expectation over every coffee: jointly, with
// all facets asked, at any positive weights, no other belief scores higher than
// the honest one when coffees come as the honest belief, with its doubt, says.
func TestHonestyPays(t *testing.T) {
	p := small(t)
	all := coffees(p)
	// Rounding to thousandths moves each of ten steps by half a thousandth.
	const rounding = 0.010
	rapid.Check(t, func(t *rapid.T) {
		rules := everything()
		for f := range rules.Weights {
			rules.Weights[f] = rapid.IntRange(20, 150).Draw(t, "weight")
		}
		honest, other := project(t, p, drawSmall(t, p)), project(t, p, drawSmall(t, p))
		weight := weights(p, honest, all, guess.Doubt)
		best, rival := expectation(rules, p, honest, all, weight), expectation(rules, p, other, all, weight)
		if rival > best+rounding {
			t.Fatalf("honesty expects %v bits, another belief %v", best, rival)
		}
		// Strictly: a belief that differs noticeably loses noticeably.
		if distance := far(weight, weights(p, other, all, guess.Doubt)); distance > 0.2 && rival >= best {
			t.Fatalf("a belief %v away expects %v bits, honesty %v", distance, rival, best)
		}
	})
}

// far is the total variation distance.
func far(p, q []float64) (sum float64) {
	for i := range p {
		sum += math.Abs(p[i]-q[i]) / 2
	}
	return sum
}

// TestOverstatingGainsNextToNothing bounds what whoever has no doubt at all
// could gain by another report: the divergence of P' from P, at most
// -log2(0.98) = 0.0291 bits.
func TestOverstatingGainsNextToNothing(t *testing.T) {
	p := small(t)
	all := coffees(p)
	rapid.Check(t, func(t *rapid.T) {
		honest, other := project(t, p, drawSmall(t, p)), project(t, p, drawSmall(t, p))
		weight := weights(p, honest, all, 0)
		gain := expectation(everything(), p, other, all, weight) - expectation(everything(), p, honest, all, weight)
		if gain > 0.0292+0.010 {
			t.Fatalf("another report gains %v bits", gain)
		}
	})
}
