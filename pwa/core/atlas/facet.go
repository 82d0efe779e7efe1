package atlas

// A Facet is one question about a coffee. Facets are numbered in the order in
// which a score tells them.
type Facet uint8

// The facets.
const (
	Origin Facet = iota
	Process
	Variety
	Decaf
	Altitude
	Roast
	Facets // how many there are
)

var facetNames = [Facets]string{"origin", "process", "variety", "decaf", "altitude", "roast"}

// String returns the facet's name, which is also the id of its tree's root.
func (f Facet) String() string {
	if f >= Facets {
		return "unknown"
	}
	return facetNames[f]
}

// Root returns the id of the root of the facet's tree.
func (f Facet) Root() NodeID { return NodeID(f.String()) }

// ParseFacet returns the facet of that name.
func ParseFacet(name string) (Facet, error) {
	for f := range Facets {
		if facetNames[f] == name {
			return f, nil
		}
	}
	return 0, unknown("facet", name)
}

// Ordered reports whether the facet's nodes are bands from low to high.
func (f Facet) Ordered() bool { return f == Altitude || f == Roast }

// GivenOrigin reports whether the facet's prior depends on the origin.
func (f Facet) GivenOrigin() bool { return f == Process || f == Variety || f == Altitude }

// restSlug is the last path element of the leaf for what is not listed.
func (f Facet) restSlug() string {
	if f == Origin {
		return "elsewhere"
	}
	return "other"
}

// exhaustive reports whether the root's children leave nothing out.
func (f Facet) exhaustive() bool { return f == Decaf || f.Ordered() }

// levels names the levels of the tree below its root, for those that have names.
func (f Facet) levels() []string {
	switch f {
	case Origin:
		return []string{"area", "country", "region"}
	case Process:
		return []string{"family", "process", "detail"}
	case Variety:
		return []string{"species", "group", "variety"}
	case Decaf:
		return []string{"decaf", "method"}
	}
	return []string{"band"}
}

// Level names the level of a depth below the root, counted from 1: "country"
// for depth 2 of Origin. Depths past the last name have the last name.
func (f Facet) Level(depth int) string {
	names := f.levels()
	return names[min(max(depth, 1), len(names))-1]
}
