package atlas

import "sync"

// A Prior gives every coffee its chance before anybody tasted it. It is made
// of whole ten-thousandths, so that it is the same on every phone.
type Prior struct {
	atlas  *Atlas
	origin row
	// rows holds the distinct rows of the other facets, and at says which row
	// each leaf of the origin tree has. Facets that do not depend on the origin
	// have one row.
	rows [Facets][]row
	at   [Facets][]int
	// narrow holds, for each facet, the nodes that remain possible; nil is all.
	narrow [Facets][]int
	joint  func() *Joint
}

// Atlas returns the atlas that the prior belongs to.
func (p *Prior) Atlas() *Atlas { return p.atlas }

// Joint returns the prior as a distribution over whole coffees, conditioned on
// what was declared in the open.
func (p *Prior) Joint() *Joint { return p.joint() }

// sealed prepares the joint and returns the prior, which must not change after.
func (p *Prior) sealed() *Prior {
	p.joint = sync.OnceValue(p.makeJoint)
	return p
}

func (p *Prior) makeJoint() *Joint {
	j := &Joint{atlas: p.atlas, origin: p.atlas.trees[Origin].perLeaf(p.origin)}
	var keep Weights
	for f := range Facets {
		if f != Origin {
			j.at[f] = p.at[f]
			for _, r := range p.rows[f] {
				j.rows[f] = append(j.rows[f], p.atlas.trees[f].perLeaf(r))
			}
		}
		if p.narrow[f] != nil {
			keep[f] = indicator(p.atlas.trees[f], p.narrow[f])
		}
	}
	return j.Reweigh(keep)
}

// indicator gives one to the leaves under the nodes and zero to the rest.
func indicator(t *Tree, nodes []int) []float64 {
	out := make([]float64, t.Leaves())
	for _, n := range nodes {
		low, high := t.LeafRange(n)
		for leaf := low; leaf < high; leaf++ {
			out[leaf] = 1
		}
	}
	return out
}

// copied returns a prior whose rows can be changed without touching p.
func (p *Prior) copied() *Prior {
	out := &Prior{atlas: p.atlas, origin: append(row(nil), p.origin...), at: p.at, narrow: p.narrow}
	for f := range Facets {
		for _, r := range p.rows[f] {
			out.rows[f] = append(out.rows[f], append(row(nil), r...))
		}
	}
	return out
}
