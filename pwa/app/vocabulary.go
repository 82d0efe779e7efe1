package app

import "hushcup/pwa/core/atlas"

func (a *App) lookAtlas(Nothing) (AtlasView, *Error) {
	v := AtlasView{
		Allergens: words("Allergen"), Additives: words("Additive"), Sources: words("Source"), Methods: words("Method"), Marks: words("Mark"),
	}
	for f := range atlas.Facets {
		v.Facets = append(v.Facets, atlasFacet(f))
	}
	return v, nil
}

func words(set string) []string {
	for _, s := range wordSets {
		if s.Name == set {
			return s.Words
		}
	}
	return nil
}

func atlasFacet(f atlas.Facet) AtlasFacet {
	out := AtlasFacet{Facet: f.String(), Ordered: f.Ordered()}
	tree := atlas.Builtin().Tree(f)
	for i := 1; i < tree.Len(); i++ {
		node := tree.At(i)
		out.Nodes = append(out.Nodes, AtlasNode{
			Node: string(node.ID), Name: node.Label, Also: node.Aka, Parent: parentOf(node.ID), Depth: node.ID.Depth() - 1, Leaf: tree.IsLeaf(i),
		})
	}
	return out
}
