package guess

import "hushcup/pwa/core/atlas"

// cells partition the leaves of one facet: each leaf belongs to the deepest
// node said above it, the root standing for what is not said.
type cells struct {
	of     []int     // cell of each leaf
	target []float64 // mass that each cell must have
}

// partition makes the cells of every facet about which something is said.
func partition(prior *atlas.Joint, b Belief) (out [atlas.Facets]*cells, problems []*Problem) {
	said := map[atlas.NodeID]int{}
	var facets [atlas.Facets]bool
	for _, m := range b.Canonical() {
		problem := valid(prior.Atlas(), said, m)
		if problem != nil {
			problems = append(problems, problem)
			continue
		}
		said[m.Node] = m.Share
		f, _ := m.Node.Facet()
		facets[f] = true
	}
	for f := range atlas.Facets {
		if facets[f] {
			c, faults := partitionFacet(prior, f, said)
			out[f], problems = c, append(problems, faults...)
		}
	}
	return out, problems
}

// valid looks at one mass alone.
func valid(a *atlas.Atlas, said map[atlas.NodeID]int, m Mass) *Problem {
	_, twice := said[m.Node]
	_, err := a.Node(m.Node)
	switch {
	case err != nil || m.Node.Depth() == 0:
		return &Problem{Code: CodeUnknownNode, Node: m.Node, Said: m.Share}
	case twice:
		return &Problem{Code: CodeTwice, Node: m.Node, Said: m.Share}
	case m.Share < 0 || m.Share > atlas.Whole:
		return &Problem{Code: CodeShare, Node: m.Node, Said: m.Share}
	}
	return nil
}

// saidNode is a node of one facet for which a mass was said, or the root.
type saidNode struct {
	index int
	share int
	below int // what the masses of the said nodes right below add up to
}

func partitionFacet(prior *atlas.Joint, f atlas.Facet, said map[atlas.NodeID]int) (*cells, []*Problem) {
	t := prior.Atlas().Tree(f)
	nodes := []saidNode{{share: atlas.Whole}}
	path := []int{0} // the said nodes above the current one, as indices of nodes
	for index := 1; index < t.Len(); index++ {
		share, ok := said[t.At(index).ID]
		if !ok {
			continue
		}
		for !t.Contains(nodes[path[len(path)-1]].index, index) {
			path = path[:len(path)-1]
		}
		nodes[path[len(path)-1]].below += share
		path = append(path, len(nodes))
		nodes = append(nodes, saidNode{index: index, share: share})
	}
	c := &cells{of: make([]int, t.Leaves())}
	for number, n := range nodes {
		// Tree order: a node below overwrites the leaves it has.
		low, high := t.LeafRange(n.index)
		for leaf := low; leaf < high; leaf++ {
			c.of[leaf] = number
		}
		c.target = append(c.target, float64(n.share-n.below)/atlas.Whole)
	}
	return c, c.problems(prior, f, nodes)
}

// problems finds the cells that cannot have the mass they must have.
func (c *cells) problems(prior *atlas.Joint, f atlas.Facet, nodes []saidNode) (out []*Problem) {
	t := prior.Atlas().Tree(f)
	leaves := make([]int, len(nodes))
	mass := make([]float64, len(nodes))
	for leaf, m := range prior.Leaves(f) {
		leaves[c.of[leaf]]++
		mass[c.of[leaf]] += m
	}
	for number, n := range nodes {
		code := ""
		switch left := n.share - n.below; {
		case left < 0 && n.index == 0:
			code = CodeOverWhole
		case left < 0 && n.share == 0:
			code = CodeZero
		case left < 0:
			code = CodeOverParent
		case left > 0 && mass[number] == 0 && n.below > 0:
			code = CodeNothingLeft
		case left > 0 && mass[number] == 0 && leaves[number] == 0:
			code = CodeNothingLeft
		case left > 0 && mass[number] == 0:
			code = CodeExcluded
		}
		if code != "" {
			out = append(out, &Problem{code, t.At(n.index).ID, n.share, n.below})
		}
	}
	return out
}
