package guess

import (
	"slices"
	"sort"
	"strconv"

	"hushcup/pwa/core/atlas"
)

// A Mass says how likely a node is, in ten-thousandths.
type Mass struct {
	Node  atlas.NodeID
	Share int
}

// A Belief is what a person said, of any facets, in any order. The empty
// belief says nothing.
type Belief []Mass

// Canonical returns the masses sorted by node, so that equal beliefs are equal.
func (b Belief) Canonical() Belief {
	out := slices.Clone(b)
	sort.SliceStable(out, func(i, j int) bool { return out[i].Node < out[j].Node })
	return out
}

// Said returns the mass said for a node.
func (b Belief) Said(id atlas.NodeID) (share int, ok bool) {
	for _, m := range b {
		if m.Node == id {
			return m.Share, true
		}
	}
	return 0, false
}

// With returns the belief with a node's mass set.
func (b Belief) With(id atlas.NodeID, share int) Belief {
	out := b.Without(id)
	return append(out, Mass{id, share}).Canonical()
}

// Without returns the belief with nothing said for a node.
func (b Belief) Without(id atlas.NodeID) Belief {
	return slices.DeleteFunc(slices.Clone(b), func(m Mass) bool { return m.Node == id })
}

// Of returns what the belief says about one facet.
func (b Belief) Of(f atlas.Facet) Belief {
	return slices.DeleteFunc(slices.Clone(b), func(m Mass) bool {
		of, err := m.Node.Facet()
		return err != nil || of != f
	})
}

// Codes of problems; they never change.
const (
	CodeUnknownNode = "unknown-node"     // the atlas has no such node, or it is a root
	CodeTwice       = "said-twice"       // two masses for one node
	CodeShare       = "share-range"      // a mass outside 0 to 10,000
	CodeOverWhole   = "over-whole"       // a facet's masses are more than everything
	CodeOverParent  = "over-parent"      // masses below a node are more than the node's
	CodeZero        = "contradicts-zero" // a node is said impossible, something below it is not
	CodeNothingLeft = "nothing-left"     // all children are said and are less than the node
	CodeExcluded    = "excluded"         // the flight declared that this cannot be
)

// A Problem says what about a belief cannot be.
type Problem struct {
	Code string
	Node atlas.NodeID // the node in question: for sums, the one that they are of
	Said int          // its mass in ten-thousandths
	Sum  int          // what the masses right below it add up to, where that matters
}

func (p *Problem) Error() string {
	text := "guess at " + strconv.Quote(string(p.Node)) + ": " + p.Code + ", said " + strconv.Itoa(p.Said)
	if p.Sum != 0 {
		text += ", below it " + strconv.Itoa(p.Sum)
	}
	return text
}

// Check returns everything about a belief that cannot be under the prior, in
// tree order; none when it can be projected.
func Check(p *atlas.Prior, b Belief) []*Problem {
	_, problems := partition(p.Joint(), b)
	return problems
}
