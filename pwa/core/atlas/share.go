package atlas

import "sort"

// Whole is a share of everything: shares are whole ten-thousandths.
const Whole = 10000

// A row holds, for every node of a tree, its share among its siblings in
// ten-thousandths. The root's is Whole; siblings' shares add up to Whole.
type row []uint16

// apportion divides Whole over weights by largest remainders, at least one to
// each weight above zero. Equal remainders go to the earlier one.
func apportion(weights []float64) []uint16 {
	var sum float64
	positive := 0
	for _, w := range weights {
		sum += w
		if w > 0 {
			positive++
		}
	}
	out := make([]uint16, len(weights))
	remainder := make([]float64, len(weights))
	left := Whole
	for i, w := range weights {
		if w <= 0 {
			continue
		}
		exact := 1 + float64(w/sum*float64(Whole-positive))
		out[i] = uint16(exact)
		remainder[i] = exact - float64(out[i])
		left -= int(out[i])
	}
	order := make([]int, len(weights))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return remainder[order[a]] > remainder[order[b]] })
	for _, i := range order[:left] {
		out[i]++
	}
	return out
}

// fromWeights makes a row of one weight for every leaf.
func (t *Tree) fromWeights(weights []float64) row {
	total := t.perNode(weights)
	out := make(row, len(t.nodes))
	out[0] = Whole
	for i := range t.nodes {
		t.share(out, i, total)
	}
	return out
}

// share fills in the shares of a node's children from the nodes' weights.
func (t *Tree) share(out row, index int, weight []float64) {
	var children []int
	var weights []float64
	for child := range t.Children(index) {
		children = append(children, child)
		weights = append(weights, weight[child])
	}
	if len(children) == 0 {
		return
	}
	for i, s := range apportion(weights) {
		out[children[i]] = s
	}
}

// perNode adds leaf masses up to every node.
func (t *Tree) perNode(leaves []float64) []float64 {
	out := make([]float64, len(t.nodes))
	for i := range t.nodes {
		low, high := t.LeafRange(i)
		for _, mass := range leaves[low:high] {
			out[i] += mass
		}
	}
	return out
}

// perLeaf multiplies shares down to every leaf.
func (t *Tree) perLeaf(r row) []float64 {
	out := make([]float64, t.Leaves())
	mass := make([]float64, len(t.nodes))
	for i := range t.nodes {
		mass[i] = float64(r[i]) / Whole
		if parent := t.nodes[i].parent; parent >= 0 {
			mass[i] = float64(mass[parent] * mass[i])
		}
		if t.IsLeaf(i) {
			out[t.nodes[i].leaf] = mass[i]
		}
	}
	return out
}

// defaults returns the leaf masses that the facts file gives for a facet.
func (t *Tree) defaults() []float64 {
	out := make([]float64, t.Leaves())
	mass := make([]float64, len(t.nodes))
	mass[0] = 1
	for i := range t.nodes {
		if parent := t.nodes[i].parent; parent >= 0 {
			mass[i] = float64(mass[parent] * t.nodes[i].share / Whole)
		}
		if t.IsLeaf(i) {
			out[t.nodes[i].leaf] = mass[i]
		}
	}
	return out
}
