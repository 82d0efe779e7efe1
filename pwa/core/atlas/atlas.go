package atlas

import (
	"crypto/sha256"
	"strconv"
	"strings"
	"sync"
)

// Version is the version of the embedded facts and of the rules that make
// priors of them. It rises when either changes.
const Version = 1

// An Atlas holds the trees of all facets. It never changes; a club's additions
// make another one.
type Atlas struct {
	trees [Facets]*Tree
	edits []Edit

	hashed sync.Once
	hash   [32]byte
}

// Builtin returns the atlas as embedded.
func Builtin() *Atlas { return builtin() }

var builtin = sync.OnceValue(func() *Atlas {
	a := new(Atlas)
	for f := range Facets {
		a.trees[f] = plant(f)
	}
	return a
})

// Tree returns the tree of a facet.
func (a *Atlas) Tree(f Facet) *Tree { return a.trees[f] }

// Node returns the node of an id, of any facet.
func (a *Atlas) Node(id NodeID) (*Node, error) {
	f, err := id.Facet()
	if err != nil {
		return nil, unknown("node", string(id))
	}
	index, err := a.trees[f].Index(id)
	if err != nil {
		return nil, err
	}
	return a.trees[f].At(index), nil
}

// Hash identifies the atlas by its content: the version and every node's id,
// label and other names in tree order.
func (a *Atlas) Hash() [32]byte {
	a.hashed.Do(func() { a.hash = a.makeHash() })
	return a.hash
}

func (a *Atlas) makeHash() [32]byte {
	var text strings.Builder
	text.WriteString("hushcup/1 atlas\n" + strconv.Itoa(Version) + "\n")
	for _, t := range a.trees {
		for i := range t.nodes {
			n := &t.nodes[i]
			text.WriteString(string(n.ID) + "|" + n.Label + "|" + strings.Join(n.Aka, ";") + "\n")
		}
	}
	return sha256.Sum256([]byte(text.String()))
}
