package atlas

import "math"

// A Reason says what one part of a prior's number rests on. The screen has the
// words; these are the figures.
type Reason struct {
	Code  string  // stable, see below
	Basis Basis   // how far it can be trusted
	N     float64 // the figure that the code speaks of
}

// Codes of reasons.
const (
	ReasonGrown     = "grown"      // N thousand bags of 60 kg a year, mean of 2018 to 2020, as counted for a club
	ReasonDeclared  = "declared"   // N samples declared it, of those submitted to public grading, 2010 to 2023
	ReasonUsual     = "usual"      // it is usual there; N is its rank, 1 for the commonest
	ReasonKnown     = "known"      // N percent of the arabica sold by name there
	ReasonAltitude  = "altitude"   // N samples declared an altitude
	ReasonRange     = "range"      // it lies within the altitudes where arabica grows there
	ReasonAlike     = "alike"      // no figures: N siblings have equal shares
	ReasonEstimate  = "estimate"   // our own estimate
	ReasonAdded     = "added"      // the club added it
	ReasonNotListed = "not-listed" // what the list leaves out
)

// Reasons says where the built-in prior's number for a node comes from. For
// process, variety and altitude it says so given a country; where is that
// country or anything in it, and "" asks in general.
func (a *Atlas) Reasons(id, where NodeID) []Reason {
	node, err := a.Node(id)
	if err != nil {
		return nil
	}
	if node.Basis == OfTheClub {
		return []Reason{{ReasonAdded, OfTheClub, 0}}
	}
	f, _ := id.Facet()
	var out []Reason
	switch f {
	case Origin:
		out = a.originReasons(node)
	case Process, Variety:
		out = countReasons(id, figuresOf(where))
	case Altitude:
		out = altitudeReasons(figuresOf(where))
	}
	if node.Rest {
		out = append(out, Reason{ReasonNotListed, Unconfirmed, 0})
	}
	if len(out) == 0 {
		out = []Reason{{ReasonEstimate, Unconfirmed, 0}}
	}
	return out
}

// figuresOf returns the figures of the country that a node is or lies in.
func figuresOf(id NodeID) *Figures {
	for at := id; at != ""; at = at.Parent() {
		if f := figures()[at]; f != nil {
			return f
		}
	}
	return nowhere
}

func (a *Atlas) originReasons(node *Node) []Reason {
	if f := figures()[node.ID]; f != nil {
		var out []Reason
		if f.Produces {
			out = append(out, Reason{ReasonGrown, Read, math.Round(f.Arabica + float64(f.Canephora*canephoraInClub))})
		}
		return append(out, Reason{ReasonDeclared, Read, float64(f.declared())})
	}
	if node.ID.Depth() < 3 || node.Rest {
		return nil
	}
	t := a.trees[Origin]
	index, _ := t.Index(node.ID.Parent())
	siblings := 0
	for child := range t.Children(index) {
		if !t.At(child).Rest {
			siblings++
		}
	}
	return []Reason{{ReasonAlike, Unconfirmed, float64(siblings)}}
}

// countReasons gives what was declared at a node or below, and what is known.
func countReasons(id NodeID, f *Figures) (out []Reason) {
	declared := 0
	for _, counts := range [][]Count{f.Processes, f.Varieties} {
		for _, c := range counts {
			if c.Node.Under(id) {
				declared += c.N
			}
		}
	}
	if declared > 0 {
		out = append(out, Reason{ReasonDeclared, Read, float64(declared)})
	}
	for rank, family := range f.UsualFamilies {
		if family == id {
			out = append(out, Reason{ReasonUsual, Unconfirmed, float64(rank + 1)})
		}
	}
	known := 0
	for _, c := range f.Known {
		if c.Node.Under(id) && id.Depth() > 1 {
			known += c.N
		}
	}
	if known > 0 {
		out = append(out, Reason{ReasonKnown, Unconfirmed, float64(known)})
	}
	return out
}

func altitudeReasons(f *Figures) (out []Reason) {
	if f == nowhere {
		return nil
	}
	if n := f.Quantiles.Samples; n > 0 {
		out = append(out, Reason{ReasonAltitude, Read, float64(n)})
	}
	return append(out, Reason{ReasonRange, Unconfirmed, 0})
}
