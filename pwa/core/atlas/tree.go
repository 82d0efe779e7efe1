package atlas

import "iter"

// A Tree holds the answers to one facet in tree order; index 0 is the root.
type Tree struct {
	facet Facet
	nodes []Node
	index map[NodeID]int
}

// Facet returns the tree's facet.
func (t *Tree) Facet() Facet { return t.facet }

// Len returns the number of nodes, the root included.
func (t *Tree) Len() int { return len(t.nodes) }

// Leaves returns the number of leaves.
func (t *Tree) Leaves() int { return t.nodes[0].leaves }

// At returns the node at an index.
func (t *Tree) At(index int) *Node { return &t.nodes[index] }

// Index returns the index of a node.
func (t *Tree) Index(id NodeID) (int, error) {
	index, ok := t.index[id]
	if !ok {
		return 0, unknown("node", string(id))
	}
	return index, nil
}

// Parent returns the index of the node above, -1 for the root.
func (t *Tree) Parent(index int) int { return t.nodes[index].parent }

// IsLeaf reports whether the node has no children.
func (t *Tree) IsLeaf(index int) bool { return t.nodes[index].end == index+1 }

// LeafRange returns the leaves of a node's subtree as a range [low, high) of
// leaf numbers; leaves are numbered from 0 in tree order.
func (t *Tree) LeafRange(index int) (low, high int) {
	n := &t.nodes[index]
	return n.leaf, n.leaf + n.leaves
}

// Contains reports whether the node at inner is the one at outer or below it.
func (t *Tree) Contains(outer, inner int) bool {
	return outer <= inner && inner < t.nodes[outer].end
}

// Children yields the indices of a node's children in tree order.
func (t *Tree) Children(index int) iter.Seq[int] {
	return func(yield func(int) bool) {
		for child := index + 1; child < t.nodes[index].end; child = t.nodes[child].end {
			if !yield(child) {
				return
			}
		}
	}
}

// Leaf returns the index of the node that is the leaf of that number.
func (t *Tree) Leaf(number int) int {
	for index := range t.nodes {
		if t.IsLeaf(index) && t.nodes[index].leaf == number {
			return index
		}
	}
	return -1
}

// sprout is a node while its tree is being put together.
type sprout struct {
	node     Node
	slug     string
	children []*sprout
}

// add appends a child and returns it.
func (s *sprout) add(slug string, n Node) *sprout {
	child := &sprout{node: n, slug: slug}
	s.children = append(s.children, child)
	return child
}

// grow lays a sprout out in tree order.
func grow(f Facet, root *sprout) *Tree {
	t := &Tree{facet: f, index: map[NodeID]int{}}
	root.node.ID = f.Root()
	t.lay(root, -1, 0)
	return t
}

func (t *Tree) lay(s *sprout, parent, leavesBefore int) (leaves int) {
	index := len(t.nodes)
	s.node.parent, s.node.leaf = parent, leavesBefore
	t.nodes = append(t.nodes, s.node)
	t.index[s.node.ID] = index
	for _, child := range s.children {
		child.node.ID = s.node.ID + "/" + NodeID(child.slug)
		leaves += t.lay(child, index, leavesBefore+leaves)
	}
	if len(s.children) == 0 {
		leaves = 1
	}
	t.nodes[index].end, t.nodes[index].leaves = len(t.nodes), leaves
	return leaves
}

// ungrow turns a tree back into a sprout, for editing.
func (t *Tree) ungrow(index int) *sprout {
	n := t.nodes[index]
	s := &sprout{node: n, slug: n.ID.Slug()}
	for child := range t.Children(index) {
		s.children = append(s.children, t.ungrow(child))
	}
	return s
}
