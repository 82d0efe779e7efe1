package score

import "hushcup/pwa/core/atlas"

// A Source says where an answer has a fact from.
type Source string

// Sources. Only hearsay, and sources that this version does not know, are not
// scored.
const (
	FromLabel    Source = "label"    // printed with the coffee
	FromRoaster  Source = "roaster"  // told by who roasted it
	FromProducer Source = "producer" // told by who grew or traded it
	Measured     Source = "measured" // a meter, a sieve, a laboratory
	Hearsay      Source = "hearsay"  // somebody thinks so
)

func (s Source) scored() bool {
	switch s {
	case FromLabel, FromRoaster, FromProducer, Measured:
		return true
	}
	return false
}

// A Fact is what an answer states about one facet: the nodes, any of which is
// true of some of the coffee.
type Fact struct {
	Nodes  []atlas.NodeID
	Source Source
}

// Truth is an answer as it is scored. Facts about the same facet add up.
type Truth []Fact

// nodes returns the indices of the nodes stated for a facet, and why they are
// not scored when they are not.
func (t Truth) nodes(tree *atlas.Tree) (out []int, why Why) {
	why = NotStated
	for _, fact := range t {
		for _, id := range fact.Nodes {
			f, err := id.Facet()
			if err != nil || f != tree.Facet() {
				continue
			}
			index, err := tree.Index(id)
			switch {
			case err != nil:
				why = max(why, NotInAtlas)
			case index == 0:
			case !fact.Source.scored():
				why = max(why, OnlyHearsay)
			default:
				out = append(out, index)
			}
		}
	}
	if len(out) > 0 {
		return out, Scored
	}
	return nil, why
}

// Why says why a facet is not scored.
type Why int

// Reasons.
const (
	Scored      Why = iota
	NotAsked        // the flight does not ask it
	NotStated       // the answer does not state it
	OnlyHearsay     // the answer has it by hearsay
	NotInAtlas      // the answer names what the flight's atlas does not have
	Outside         // the answer is something that the flight declared impossible
)

// String returns a stable code.
func (w Why) String() string {
	return [...]string{"scored", "not-asked", "not-stated", "hearsay", "not-in-atlas", "outside"}[w]
}
