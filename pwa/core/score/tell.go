package score

import (
	"slices"
	"sort"

	"hushcup/pwa/core/atlas"
	"hushcup/pwa/core/exact"
	"hushcup/pwa/core/guess"
)

// A Regret is the one cause that cost most, and what would have cost less.
type Regret struct {
	Step    Step         // the step that cost most
	Node    atlas.NodeID // where the guess had put its mass: not the truth; "" when nothing was said
	Said    int          // how much, in ten-thousandths
	Instead int          // what would have cost less, in whole tens of a hundred
	Bits    Bits         // the step's bits, had that been said
}

// InTellingOrder returns the steps as they are told: what was gained, in the
// order of the chain, then what was lost, the costliest first. Steps that
// neither gained nor lost come between.
func (r Result) InTellingOrder() []Step {
	out := slices.Clone(r.Steps)
	sort.SliceStable(out, func(i, j int) bool { return telling(out[i]) < telling(out[j]) })
	return out
}

func telling(s Step) int {
	switch {
	case s.Bits > 0:
		return 0
	case s.Bits == 0:
		return 1
	}
	// The costliest is the most negative; thousandths of a bit stay far below
	// this offset.
	return 1_000_000 + int(s.Bits)
}

// Nearest returns the finest success: the last step of the origin's levels that
// gained, else the step that gained most. It reports false when none did.
func (r Result) Nearest() (Step, bool) {
	best, found := Step{}, false
	for _, s := range r.Steps {
		if s.Right() && (!found || s.Facet == atlas.Origin || best.Facet != atlas.Origin && s.Bits > best.Bits) {
			best, found = s, true
		}
	}
	return best, found
}

// worthTelling is the least loss that is told: a factor of about 1.15.
const worthTelling = Bits(-200)

// Costliest finds the one cause that cost most: the step with the greatest
// loss, the largest mass that was said in its facet for something that is not
// the truth, and, where a more careful mass would have cost less, that mass. It
// reports false when nothing cost enough to speak of.
func Costliest(rules Rules, prior *atlas.Prior, said guess.Belief, truth Truth, r Result) (Regret, bool) {
	worst := -1
	for i, s := range r.Steps {
		if s.Bits <= worthTelling && (worst < 0 || s.Bits < r.Steps[worst].Bits) {
			worst = i
		}
	}
	if worst < 0 {
		return Regret{}, false
	}
	out := Regret{Step: r.Steps[worst]}
	tree := prior.Atlas().Tree(out.Step.Facet)
	culprit, ok := mostOnWrong(prior, tree, said, out.Step)
	if !ok {
		return out, true
	}
	out.Node, out.Said = tree.At(culprit).ID, saidFor(said, tree.At(culprit).ID)
	before := prior.Joint().Marginal(tree.Facet())[culprit]
	careful := tens(float64(float64(out.Said)+float64(before*atlas.Whole)) / 2)
	if careful >= out.Said {
		return out, true
	}
	belief, err := guess.Project(prior, moderated(prior.Joint(), tree, said, culprit, careful))
	if err != nil {
		return out, true
	}
	again := Score(rules, prior.Joint(), belief, truth)
	if again.Steps[worst].Bits > out.Step.Bits {
		out.Instead, out.Bits = careful, again.Steps[worst].Bits
	}
	return out, true
}

// tens rounds ten-thousandths to whole tens of a hundred.
func tens(share float64) int { return exact.Round(share/1000) * 1000 }

func saidFor(said guess.Belief, id atlas.NodeID) int {
	share, _ := said.Said(id)
	return share
}

// mostOnWrong returns the node outside the step's truth that was said to be
// likelier than before by most.
func mostOnWrong(prior *atlas.Prior, t *atlas.Tree, said guess.Belief, step Step) (index int, ok bool) {
	before := prior.Joint().Marginal(t.Facet())
	most := 0.0
	for _, m := range said.Of(t.Facet()).Canonical() {
		i, err := t.Index(m.Node)
		if err != nil || slices.ContainsFunc(step.Truth, func(id atlas.NodeID) bool { return id.Under(m.Node) || m.Node.Under(id) }) {
			continue
		}
		if excess := float64(m.Share)/atlas.Whole - before[i]; excess > most {
			index, most, ok = i, excess, true
		}
	}
	return index, ok
}

// moderated returns what was said with one node's mass lowered: what was said
// below it is scaled along, and what is freed goes to the rest of the node
// above, or, when nothing there is left unsaid, to its other children.
func moderated(prior *atlas.Joint, t *atlas.Tree, said guess.Belief, culprit, share int) guess.Belief {
	id := t.At(culprit).ID
	was := saidFor(said, id)
	above, whole := saidAbove(said, id)
	others, free := siblings(prior, t, said, id, above)
	out := guess.Belief{}
	for _, m := range said {
		switch {
		case m.Node.Under(id):
			m.Share = m.Share * share / was
		case free || !slices.ContainsFunc(others, m.Node.Under):
		case whole == was:
		default:
			m.Share = m.Share * (whole - share) / (whole - was)
		}
		out = append(out, m)
	}
	if free {
		return out
	}
	return settle(out, others, whole-share)
}

// saidAbove returns the nearest node above for which a mass was said, and that
// mass; the root and the whole when there is none.
func saidAbove(said guess.Belief, id atlas.NodeID) (atlas.NodeID, int) {
	for at := id.Parent(); at != ""; at = at.Parent() {
		if share, ok := said.Said(at); ok {
			return at, share
		}
		if at.Parent() == "" {
			return at, atlas.Whole
		}
	}
	return "", atlas.Whole
}

// siblings returns the other nodes said right below the node above, and whether
// the node above has coffees that are under none of them.
func siblings(prior *atlas.Joint, t *atlas.Tree, said guess.Belief, id, above atlas.NodeID) (others []atlas.NodeID, free bool) {
	rest, _ := prior.Atlas().Event(above)
	for _, m := range said {
		parent, _ := saidAbove(said, m.Node)
		i, err := t.Index(m.Node)
		if parent != above || err != nil {
			continue
		}
		rest = rest.Without(t, i)
		if m.Node != id {
			others = append(others, m.Node)
		}
	}
	return others, prior.Of(rest) > 0
}

// settle corrects what rounding down left over, at the first of the nodes.
func settle(said guess.Belief, nodes []atlas.NodeID, total int) guess.Belief {
	for _, id := range nodes {
		total -= saidFor(said, id)
	}
	if len(nodes) == 0 {
		return said
	}
	return said.With(nodes[0], saidFor(said, nodes[0])+total)
}
