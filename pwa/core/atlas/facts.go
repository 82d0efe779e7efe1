package atlas

import (
	_ "embed"
	"sort"
	"strconv"
	"strings"
)

// Strings rather than an embed.FS: a file system costs the core 40 KB.
var (
	//go:embed facts/origin.txt
	originFacts string
	//go:embed facts/process.txt
	processFacts string
	//go:embed facts/variety.txt
	varietyFacts string
	//go:embed facts/decaf.txt
	decafFacts string
	//go:embed facts/altitude.txt
	altitudeFacts string
	//go:embed facts/roast.txt
	roastFacts string
	//go:embed facts/countries.txt
	countryFacts string
)

func treeFacts(f Facet) string {
	return [Facets]string{originFacts, processFacts, varietyFacts, decafFacts, altitudeFacts, roastFacts}[f]
}

// lines returns the lines of a facts file, without remarks.
func lines(text string) []string {
	var out []string
	for line := range strings.SplitSeq(text, "\n") {
		if line != "" && line[0] != '#' {
			out = append(out, line)
		}
	}
	return out
}

// plant reads the tree of a facet: one node a line, one space of indent a
// level, slug|label|other names|share or kind|note.
func plant(f Facet) *Tree {
	root := &sprout{node: Node{Label: f.String(), Basis: Unconfirmed}}
	path := []*sprout{root}
	for _, line := range lines(treeFacts(f)) {
		text := strings.TrimLeft(line, " ")
		depth := len(line) - len(text)
		path = append(path[:depth+1], path[depth].add(plantOne(text)))
	}
	finish(f, root, f.exhaustive())
	return grow(f, root)
}

func plantOne(text string) (slug string, n Node) {
	column := append(strings.Split(text, "|"), "", "", "", "")
	n = Node{Label: column[1], Basis: Unconfirmed, key: column[3], Note: column[4]}
	if column[2] != "" {
		n.Aka = strings.Split(column[2], ";")
	}
	if share, err := strconv.Atoi(column[3]); err == nil {
		n.share = float64(share)
	}
	return column[0], n
}

// finish adds the leaf for what is not listed and sorts siblings, at every
// inner node.
func finish(f Facet, s *sprout, exhaustive bool) {
	if len(s.children) == 0 {
		return
	}
	for _, child := range s.children {
		finish(f, child, false)
	}
	if !exhaustive {
		addRest(f, s)
	}
	if !f.Ordered() {
		sortSiblings(s)
	}
}

func addRest(f Facet, s *sprout) {
	left := 10000.0
	for _, child := range s.children {
		left -= child.node.share
	}
	rest := Node{Label: "other", Basis: Unconfirmed, Rest: true, share: left}
	if f == Origin {
		rest.Label = "elsewhere there"
		if s.node.Label == Origin.String() {
			rest.Label = "elsewhere"
		}
	}
	s.add(f.restSlug(), rest)
}

func sortSiblings(s *sprout) {
	sort.SliceStable(s.children, func(i, j int) bool { return s.children[i].slug < s.children[j].slug })
}
