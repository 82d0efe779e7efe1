package atlas

import "strings"

// A NodeID is a node's path from its facet's root: "process/natural/closed".
// The root's id is the facet's name.
type NodeID string

// Facet returns the facet that the id belongs to by its first element.
func (id NodeID) Facet() (Facet, error) {
	name, _, _ := strings.Cut(string(id), "/")
	return ParseFacet(name)
}

// Parent returns the id one level up, and "" for a root.
func (id NodeID) Parent() NodeID {
	at := strings.LastIndexByte(string(id), '/')
	if at < 0 {
		return ""
	}
	return id[:at]
}

// Slug returns the last element of the path.
func (id NodeID) Slug() string {
	return string(id[strings.LastIndexByte(string(id), '/')+1:])
}

// Depth returns how far below its root the node is: 0 for a root.
func (id NodeID) Depth() int { return strings.Count(string(id), "/") }

// Under reports whether the id is above or lies below it.
func (id NodeID) Under(above NodeID) bool {
	return id == above || strings.HasPrefix(string(id), string(above)+"/")
}

// A Basis says how far a fact can be trusted.
type Basis string

// Bases.
const (
	Read        Basis = "read"        // read in a source
	Unconfirmed Basis = "unconfirmed" // general knowledge or our estimate
	OfTheClub   Basis = "club"        // added by a club
)

// A Node is one possible answer.
type Node struct {
	ID    NodeID
	Label string   // for people, in English
	Aka   []string // other names, for searching
	Note  string   // what a learner should know: "origin disputed"
	Basis Basis
	Rest  bool // the leaf for what its siblings do not list

	key    string  // the fourth column of the facts file
	share  float64 // default share among siblings, in 1/10,000
	parent int     // index, -1 for the root
	end    int     // index past the last node of the subtree
	leaf   int     // how many leaves stand before this node in tree order
	leaves int     // how many leaves the subtree has
}

// validSlug reports whether s may be an element of a path.
func validSlug(s string) bool {
	for _, c := range []byte(s) {
		if !(c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '-') {
			return false
		}
	}
	return s != "" && len(s) <= 40
}
