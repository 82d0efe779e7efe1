package atlas

import "slices"

// Narrow conditions the prior on what was declared in the open: every coffee
// lies under one of the nodes, which belong to one facet. Narrowing twice
// leaves what both allow.
func (p *Prior) Narrow(nodes ...NodeID) (*Prior, error) {
	if len(nodes) == 0 {
		return p, nil
	}
	f, err := nodes[0].Facet()
	if err != nil {
		return nil, unknown("node", string(nodes[0]))
	}
	t := p.atlas.trees[f]
	var keep []int
	for _, id := range nodes {
		index, err := t.Index(id)
		if err != nil {
			return nil, err
		}
		keep = append(keep, index)
	}
	return p.keeping(f, keep, string(nodes[0]))
}

// Exclude conditions the prior on what was declared in the open: no coffee lies
// under any of the nodes.
func (p *Prior) Exclude(nodes ...NodeID) (*Prior, error) {
	for _, id := range nodes {
		f, err := id.Facet()
		if err != nil {
			return nil, unknown("node", string(id))
		}
		index, err := p.atlas.trees[f].Index(id)
		if err != nil {
			return nil, err
		}
		if p, err = p.keeping(f, p.atlas.trees[f].outside(index), string(id)); err != nil {
			return nil, err
		}
	}
	return p, nil
}

func (p *Prior) keeping(f Facet, keep []int, value string) (*Prior, error) {
	t := p.atlas.trees[f]
	if p.narrow[f] != nil {
		keep = t.intersect(p.narrow[f], keep)
	}
	keep = t.tidy(keep)
	if len(keep) == 0 {
		return nil, &Error{CodeNothing, "narrowing", value}
	}
	out := p.copied()
	out.narrow[f] = keep
	if keep[0] == 0 {
		out.narrow[f] = nil // all of it
	}
	return out.sealed(), nil
}

// Narrowed returns the nodes of a facet that declarations leave, nil for all.
func (p *Prior) Narrowed(f Facet) []NodeID {
	var out []NodeID
	for _, n := range p.narrow[f] {
		out = append(out, p.atlas.trees[f].At(n).ID)
	}
	return out
}

// Allows reports whether what was declared leaves anything under the node.
func (p *Prior) Allows(id NodeID) bool {
	f, err := id.Facet()
	if err != nil {
		return false
	}
	t := p.atlas.trees[f]
	index, err := t.Index(id)
	if err != nil {
		return false
	}
	return p.narrow[f] == nil || len(t.intersect(p.narrow[f], []int{index})) > 0
}

// outside returns the largest subtrees that have nothing of the node.
func (t *Tree) outside(index int) []int {
	var out []int
	for i := 0; i < t.Len(); {
		if t.Contains(i, index) && i != index {
			i++ // an ancestor: look inside
			continue
		}
		if i != index {
			out = append(out, i)
		}
		i = t.nodes[i].end
	}
	return out
}

// intersect returns what lies under a node of both sets.
func (t *Tree) intersect(a, b []int) []int {
	var out []int
	for _, x := range a {
		for _, y := range b {
			switch {
			case t.Contains(x, y):
				out = append(out, y)
			case t.Contains(y, x):
				out = append(out, x)
			}
		}
	}
	return out
}

// tidy sorts nodes, drops those below another one, and puts a parent in the
// place of all its children, so that equal sets have equal lists.
func (t *Tree) tidy(nodes []int) []int {
	in := indicator(t, nodes)
	var out []int
	for i := 0; i < t.Len(); {
		low, high := t.LeafRange(i)
		if !slices.Contains(in[low:high], 0) {
			out = append(out, i)
			i = t.nodes[i].end
			continue
		}
		i++
	}
	return out
}
