package atlas

// An Event is a set of coffees: those whose leaf lies in a set, for each facet
// that the event restricts. The zero Event is every coffee.
type Event struct {
	leaves [Facets][]bool
}

// Event returns the coffees that lie under any of the nodes; nodes of
// different facets restrict each other, nodes of one facet add up.
func (a *Atlas) Event(nodes ...NodeID) (Event, error) {
	var e Event
	for _, id := range nodes {
		f, err := id.Facet()
		if err != nil {
			return Event{}, unknown("node", string(id))
		}
		index, err := a.trees[f].Index(id)
		if err != nil {
			return Event{}, err
		}
		e = e.With(a.trees[f], index)
	}
	return e, nil
}

// With returns the event with a node added to what its facet allows.
func (e Event) With(t *Tree, index int) Event {
	old := e.leaves[t.facet]
	in := make([]bool, t.Leaves())
	copy(in, old)
	low, high := t.LeafRange(index)
	for leaf := low; leaf < high; leaf++ {
		in[leaf] = true
	}
	e.leaves[t.facet] = in
	return e
}

// Only returns the event with its facet restricted to just these leaves, marked
// by leaf number.
func (e Event) Only(f Facet, leaves []bool) Event {
	e.leaves[f] = leaves
	return e
}

// Leaves returns the leaves of a facet that the event allows, nil for all.
func (e Event) Leaves(f Facet) []bool { return e.leaves[f] }

// Without returns the coffees of e whose facet's leaf is not under the node.
func (e Event) Without(t *Tree, index int) Event {
	in := make([]bool, t.Leaves())
	low, high := t.LeafRange(index)
	for leaf := range in {
		allowed := e.leaves[t.facet] == nil || e.leaves[t.facet][leaf]
		in[leaf] = allowed && (leaf < low || leaf >= high)
	}
	e.leaves[t.facet] = in
	return e
}
