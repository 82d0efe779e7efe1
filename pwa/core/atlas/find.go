package atlas

import (
	"slices"
	"strings"
)

// Find returns the nodes of a facet whose label, other names or id contain a
// word that begins with what was typed, accents and case aside: first those
// whose label begins so, then the rest, each in tree order. Nothing typed finds
// nothing.
func (a *Atlas) Find(f Facet, typed string) []NodeID {
	want := folded(typed)
	if want == "" {
		return nil
	}
	var first, rest []NodeID
	t := a.trees[f]
	for i := 1; i < t.Len(); i++ {
		n := t.At(i)
		switch {
		case strings.HasPrefix(folded(n.Label), want):
			first = append(first, n.ID)
		case n.Rest:
		case slices.ContainsFunc(append([]string{n.Label, n.ID.Slug()}, n.Aka...), func(name string) bool { return strings.Contains(" "+folded(name), " "+want) }):
			rest = append(rest, n.ID)
		}
	}
	return append(first, rest...)
}

// plain gives letters with marks, as they stand in labels, without them.
var plain = strings.NewReplacer(
	"á", "a", "à", "a", "â", "a", "ã", "a", "ä", "a", "é", "e", "è", "e", "ê", "e", "í", "i",
	"ó", "o", "ô", "o", "õ", "o", "ö", "o", "ồ", "o", "ú", "u", "ü", "u", "ū", "u", "ñ", "n", "ç", "c", "đ", "d", "ơ", "o",
	"ʻ", "", "'", "", "’", "", "-", " ", ",", " ", "/", " ",
)

func folded(text string) string {
	return strings.Join(strings.Fields(plain.Replace(strings.ToLower(text))), " ")
}
