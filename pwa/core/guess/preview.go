package guess

import (
	"hushcup/pwa/core/atlas"
	"hushcup/pwa/core/exact"
)

// Doubt is the part of every belief that is kept for "I am altogether wrong":
// beliefs are scored as (1-Doubt) of what was said and Doubt of the prior.
const Doubt = 0.02

// Soften mixes a belief's mass of an event with the prior's.
func Soften(belief, prior float64) float64 {
	return float64((1-Doubt)*belief) + float64(Doubt*prior)
}

// Stakes show, before a guess is sealed, what it stands to win and to lose in
// one facet: factors against a blind guess.
type Stakes struct {
	Node     atlas.NodeID // the answer that the guess bets on
	Hit      float64      // when it is the node
	NearMiss float64      // when it is in the node's parent, but not the node; 0 when that cannot be
	FarOff   float64      // when it is elsewhere; 0 when that cannot be
}

// Preview returns the stakes of a belief in one facet. The node is, of those
// said, the one that moves the belief most: mass times the logarithm of its
// factor. It reports false when nothing was said for the facet that moves it
// up.
func Preview(prior, belief *atlas.Joint, f atlas.Facet, b Belief) (Stakes, bool) {
	t := prior.Atlas().Tree(f)
	before, after := prior.Marginal(f), belief.Marginal(f)
	best, most := -1, 0.0
	for _, m := range b.Of(f).Canonical() {
		index, err := t.Index(m.Node)
		if err != nil || before[index] == 0 || after[index] == 0 {
			continue
		}
		gain := float64(after[index] * exact.Log2(Soften(after[index], before[index])/before[index]))
		if gain > most {
			best, most = index, gain
		}
	}
	if best < 0 {
		return Stakes{}, false
	}
	factor := func(after, before float64) float64 {
		if before < 1e-9 {
			return 0
		}
		return Soften(max(after, 0), before) / before
	}
	out := Stakes{Node: t.At(best).ID, Hit: factor(after[best], before[best])}
	parent := t.Parent(best)
	if parent > 0 {
		out.NearMiss = factor(after[parent]-after[best], before[parent]-before[best])
	} else {
		parent = best
	}
	out.FarOff = factor(1-after[parent], 1-before[parent])
	return out, true
}
