package atlas

import "slices"

// canephoraShare is canephora's part of what reaches a club from a country.
func (f *Figures) canephoraShare() float64 {
	grown := float64(f.Canephora * canephoraInClub)
	switch {
	case f.Produces && f.Arabica+grown > 0:
		return max(grown/(f.Arabica+grown), 0.002)
	case slices.Contains(f.Species, "canephora"):
		return 0.05
	}
	return 0.004
}

// processRow mixes what is usual in a country with what is common everywhere,
// moves it by what was declared there, and splits families by the defaults.
func (a *Atlas) processRow(where place) row {
	t := a.trees[Process]
	weight := t.perNode(t.defaults())
	out := make(row, t.Len())
	out[0] = Whole
	families := usualFamilies(t, weight, where)
	evidence := 1.0
	if n := where.country.declared(); n > evidenceLimit {
		evidence = evidenceLimit / float64(n)
	}
	for i, share := range families {
		weight[i] = familyStrength * share
	}
	if where.kind == "" {
		for _, c := range where.country.Processes {
			i, _ := t.Index(c.Node)
			weight[i] += float64(float64(c.N) * evidence)
		}
	}
	undeclarable(t, weight)
	for i := range t.nodes {
		t.share(out, i, weight)
	}
	return setShares(t, out, where.country.Shares)
}

// undeclarable gives the families that the forms behind the samples did not
// offer their default shares: that nobody declared them says nothing.
func undeclarable(t *Tree, weight []float64) {
	var sum, asked float64
	unasked := []NodeID{"process/additions", "process/other"}
	for i := range t.Children(0) {
		sum += t.At(i).share
		if !slices.Contains(unasked, t.At(i).ID) {
			asked += weight[i]
		}
	}
	for _, id := range unasked {
		i, _ := t.Index(id)
		weight[i] = asked * t.At(i).share / sum
	}
}

// usualFamilies returns the share of each family by general knowledge.
func usualFamilies(t *Tree, everywhere []float64, where place) map[int]float64 {
	usual := where.country.UsualFamilies
	switch where.kind {
	case kindWetHulled:
		usual = []NodeID{"process/wet-hulled", "process/wet-hulled", "process/washed"}
	case kindCanephora:
		usual = []NodeID{"process/natural", "process/washed"}
	default:
		if where.special && len(usual) > 1 && usual[0] == "process/wet-hulled" {
			usual = []NodeID{"process/washed", "process/natural", "process/wet-hulled"}
		}
	}
	part := [][]float64{nil, {1}, {0.65, 0.35}, {0.5, 0.3, 0.2}}[min(len(usual), 3)]
	out := map[int]float64{}
	for i := range t.Children(0) {
		out[i] = everywhere[i]
		if len(part) > 0 {
			out[i] = float64(everywhere[i] * (1 - usualWeight))
		}
	}
	for k := range part {
		i, _ := t.Index(usual[k])
		out[i] += float64(usualWeight * part[k])
	}
	return out
}

// varietyRow gives species by production, arabica varieties by what is known
// of a country moved by what was declared there, and the rest by the defaults.
func (a *Atlas) varietyRow(where place) row {
	t := a.trees[Variety]
	leaf := t.defaults()
	arabica, _ := t.Index("variety/arabica")
	a.arabica(t, arabica, leaf, where)
	speciesShare := where.species()
	weight := t.perNode(leaf)
	for i := range t.Children(0) {
		if share, ok := speciesShare[t.At(i).ID.Slug()]; ok {
			weight[i] = share
		}
	}
	out := make(row, t.Len())
	out[0] = Whole
	for i := range t.nodes {
		t.share(out, i, weight)
	}
	return setShares(t, out, where.country.Shares)
}

// arabica replaces the leaf masses below arabica; they add up to one.
func (a *Atlas) arabica(t *Tree, arabica int, leaf []float64, where place) {
	low, high := t.LeafRange(arabica)
	known := 0
	for _, c := range where.country.Known {
		known += c.N
	}
	var sum float64
	for _, mass := range leaf[low:high] {
		sum += mass
	}
	for i := low; i < high; i++ {
		leaf[i] = leaf[i] / sum * float64(100-known) / 100
	}
	for _, c := range where.country.Known {
		i, _ := t.Index(c.Node)
		leaf[t.nodes[i].leaf] += float64(c.N) / 100
	}
	declared := total(where.country.Varieties)
	counted := min(declared, evidenceLimit)
	for i := low; i < high; i++ {
		leaf[i] = leaf[i] * varietyStrength / float64(varietyStrength+counted)
	}
	for _, c := range where.country.Varieties {
		i, _ := t.Index(c.Node)
		part := float64(c.N) / float64(declared)
		leaf[t.nodes[i].leaf] += part * float64(counted) / float64(varietyStrength+counted)
	}
}

// species returns the share of each species at a place.
func (p place) species() map[string]float64 {
	canephora := p.country.canephoraShare()
	switch {
	case p.kind == kindCanephora:
		canephora = 0.9
	case p.kind == kindMixed:
		canephora = 0.45
	case p.special && p.country.Arabica > 0:
		canephora = canephora / 5
	}
	liberica := 0.001
	if slices.Contains(p.country.Species, "liberica") {
		liberica = 0.02
	}
	canephora = min(canephora, 0.985)
	return map[string]float64{
		"canephora":   canephora,
		"liberica":    liberica,
		"eugenioides": 0.0004,
		"other":       0.0004,
		"arabica":     max(1-canephora-liberica-0.0008, 0.005),
	}
}

// setShares gives named nodes a share among their siblings and scales the
// siblings to fit.
func setShares(t *Tree, r row, shares []Count) row {
	for _, c := range shares {
		if i, err := t.Index(c.Node); err == nil {
			t.setShare(r, i, c.N)
		}
	}
	return r
}

func (t *Tree) setShare(r row, index, share int) {
	weight := make([]float64, t.Len())
	var others float64
	parent := t.Parent(index)
	for sibling := range t.Children(parent) {
		weight[sibling] = float64(r[sibling])
		if sibling != index {
			others += weight[sibling]
		}
	}
	weight[index] = others * float64(share) / float64(Whole-share)
	t.share(r, parent, weight)
}
