package atlas

import "slices"

// An Edit adds one node that a club misses: a region, a process, a variety.
// Nodes are never removed or renamed, since answers point to them; a node that
// cannot be is narrowed away.
type Edit struct {
	Parent NodeID   // the node to stand under
	Slug   string   // the last path element: lower case letters, digits, hyphens
	Label  string   // for people
	Aka    []string // other names
	// Share is the part, of 10,000, of what its parent does not list yet (the
	// leaf "elsewhere there" or "other"; the whole parent when that was a leaf)
	// which the new node takes over.
	Share int
}

// With returns the atlas with nodes added, in order.
func (a *Atlas) With(edits ...Edit) (*Atlas, error) {
	for _, e := range edits {
		next, err := a.with(e)
		if err != nil {
			return nil, err
		}
		a = next
	}
	return a, nil
}

func (a *Atlas) with(e Edit) (*Atlas, error) {
	f, err := e.Parent.Facet()
	if err != nil {
		return nil, unknown("parent", string(e.Parent))
	}
	t := a.trees[f]
	parent, err := t.Index(e.Parent)
	if err != nil || t.At(parent).Rest || f.Ordered() || parent == 0 && f.exhaustive() {
		return nil, unknown("parent", string(e.Parent))
	}
	if !validSlug(e.Slug) {
		return nil, &Error{CodeBadSlug, "slug", e.Slug}
	}
	if _, err := t.Index(e.Parent + "/" + NodeID(e.Slug)); err == nil || e.Slug == f.restSlug() {
		return nil, &Error{CodeTaken, "slug", e.Slug}
	}
	if e.Share < 1 || e.Share >= Whole {
		return nil, &Error{CodeBadShare, "share", e.Label}
	}
	out := &Atlas{trees: a.trees, edits: append(slices.Clip(a.edits), e)}
	out.trees[f] = t.with(parent, e)
	return out, nil
}

// with returns the tree with the node added.
func (t *Tree) with(parent int, e Edit) *Tree {
	root := t.ungrow(0)
	at := root.find(e.Parent)
	if len(at.children) == 0 {
		addRest(t.facet, at)
	}
	at.add(e.Slug, Node{Label: e.Label, Aka: e.Aka, Basis: OfTheClub, key: at.node.key})
	sortSiblings(at)
	return grow(t.facet, root)
}

func (s *sprout) find(id NodeID) *sprout {
	if s.node.ID == id {
		return s
	}
	for _, child := range s.children {
		if id.Under(child.node.ID) {
			return child.find(id)
		}
	}
	return nil
}

// On returns the prior carried over to an atlas with more additions. What the
// prior's own atlas had is unchanged up to rounding; each new node takes its
// part of what was not listed.
func (p *Prior) On(a *Atlas) (*Prior, error) {
	have := p.atlas.edits
	if len(a.edits) < len(have) || !slices.EqualFunc(have, a.edits[:len(have)], sameEdit) {
		return nil, &Error{CodeOther, "atlas", ""}
	}
	return p.extended(a), nil
}

func sameEdit(x, y Edit) bool {
	return x.Parent == y.Parent && x.Slug == y.Slug && x.Label == y.Label && x.Share == y.Share && slices.Equal(x.Aka, y.Aka)
}

func (p *Prior) extended(a *Atlas) *Prior {
	for _, e := range a.edits[len(p.atlas.edits):] {
		next, err := p.atlas.with(e)
		if err != nil {
			panic(err) // the same edit was accepted when a was made
		}
		p = p.with(next, e)
	}
	return p
}

// with carries the prior over one edit.
func (p *Prior) with(next *Atlas, e Edit) *Prior {
	f, _ := e.Parent.Facet()
	before, after := p.atlas.trees[f], next.trees[f]
	out := p.copied()
	out.atlas = next
	if f == Origin {
		out.origin = carry(before, after, p.origin, e)
		out.at = carryRowNumbers(before, after, p.at, e)
	} else {
		for i, r := range p.rows[f] {
			out.rows[f][i] = carry(before, after, r, e)
		}
	}
	out.narrow[f] = carryNarrowing(before, after, p.narrow[f])
	return out.sealed()
}

func carry(before, after *Tree, r row, e Edit) row {
	out := make(row, after.Len())
	for i := range after.nodes {
		if old, err := before.Index(after.nodes[i].ID); err == nil {
			out[i] = r[old]
		}
	}
	parent, _ := after.Index(e.Parent)
	added, _ := after.Index(e.Parent + "/" + NodeID(e.Slug))
	rest, _ := after.Index(e.Parent + "/" + NodeID(after.facet.restSlug()))
	unlisted := float64(out[rest])
	if unlisted == 0 { // the parent was a leaf
		unlisted = Whole
	}
	weight := make([]float64, after.Len())
	for sibling := range after.Children(parent) {
		weight[sibling] = float64(out[sibling])
	}
	weight[added] = unlisted * float64(e.Share) / Whole
	weight[rest] = unlisted * float64(Whole-e.Share) / Whole
	after.share(out, parent, weight)
	return out
}

// carryRowNumbers gives new origin leaves the rows of the leaf that they were
// part of.
func carryRowNumbers(before, after *Tree, at [Facets][]int, e Edit) [Facets][]int {
	part, err := before.Index(e.Parent + "/" + NodeID(before.facet.restSlug()))
	if err != nil {
		part, _ = before.Index(e.Parent)
	}
	var out [Facets][]int
	for f := Process; f < Facets; f++ {
		for leaf := range after.Leaves() {
			old, err := before.Index(after.At(after.Leaf(leaf)).ID)
			if err != nil {
				old = part
			}
			out[f] = append(out[f], at[f][before.nodes[old].leaf])
		}
	}
	return out
}

func carryNarrowing(before, after *Tree, nodes []int) []int {
	var out []int
	for _, n := range nodes {
		index, _ := after.Index(before.At(n).ID)
		out = append(out, index)
	}
	return out
}
