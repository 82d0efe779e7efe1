package atlas

import (
	"slices"
	"sort"
	"strings"
)

// How many samples the atlas counts for when a club's own samples move it; our
// judgement.
const (
	originStrength = 12 // at every inner node of the origin tree
	facetStrength  = 20 // about a process or variety, over all origins
	rowStrength    = 8  // about it in one country, once all origins are counted
)

// A Sample is an unsealed coffee that the club has drunk: the nodes that its
// answer states, of any facets. Several nodes of one facet share the coffee.
type Sample []NodeID

// Learn returns the prior moved by what the club has drunk. Shares move as
// those of a Dirichlet distribution over each node's children do: towards how
// often each was met, the more the oftener. In the facets that depend on the
// origin, what the club met more than its origins explain moves every origin,
// and then what it met in one country moves that country. The order of the
// samples does not matter; samples that name unknown nodes count as far as they
// are known.
func (p *Prior) Learn(samples []Sample) *Prior {
	if len(samples) == 0 {
		return p
	}
	l := learner{prior: p.copied(), known: p.withoutNarrowing().Joint()}
	sorted := slices.Clone(samples)
	sort.SliceStable(sorted, func(i, j int) bool { return sorted[i].text() < sorted[j].text() })
	for _, s := range sorted {
		l.observe(s)
	}
	l.originTree()
	for f := Process; f < Facets; f++ {
		if len(l.prior.rows[f]) > 1 {
			l.everywhere(f)
		}
		l.perRow(f)
	}
	return l.prior.sealed()
}

func (p *Prior) withoutNarrowing() *Prior {
	out := p.copied()
	out.narrow = [Facets][]int{}
	return out.sealed()
}

func (s Sample) text() string {
	ids := make([]string, len(s))
	for i, id := range s {
		ids[i] = string(id)
	}
	sort.Strings(ids)
	return strings.Join(ids, " ")
}

// A learner counts how often each node was met, by row of its facet.
type learner struct {
	prior *Prior
	known *Joint // before learning, nothing narrowed away
	met   [Facets][][]float64
}

// observe counts a sample: each node and all above it, in every row by how
// likely the sample's origin has that row.
func (l *learner) observe(s Sample) {
	atlas := l.prior.atlas
	var from Event
	var stated [Facets][]int
	for _, id := range s {
		f, err := id.Facet()
		if err != nil {
			continue
		}
		index, err := atlas.trees[f].Index(id)
		if err != nil {
			continue
		}
		stated[f] = append(stated[f], index)
		if f == Origin {
			from = from.With(atlas.trees[f], index)
		}
	}
	l.count(Origin, 0, stated[Origin], 1)
	for f := Process; f < Facets; f++ {
		for r, part := range l.rowParts(f, from) {
			l.count(f, r, stated[f], part)
		}
	}
}

// rowParts returns how likely each row of a facet holds for coffees from there.
func (l *learner) rowParts(f Facet, from Event) []float64 {
	out := make([]float64, len(l.prior.rows[f]))
	for leaf, mass := range l.known.origin {
		if from.leaves[Origin] == nil || from.leaves[Origin][leaf] {
			out[l.prior.at[f][leaf]] += mass
		}
	}
	Normalise(out)
	return out
}

func (l *learner) count(f Facet, r int, nodes []int, part float64) {
	t := l.prior.atlas.trees[f]
	if l.met[f] == nil {
		l.met[f] = make([][]float64, max(1, len(l.prior.rows[f])))
		for i := range l.met[f] {
			l.met[f][i] = make([]float64, t.Len())
		}
	}
	for _, n := range nodes {
		for at := n; at >= 0; at = t.Parent(at) {
			l.met[f][r][at] += part / float64(len(nodes))
		}
	}
}

func (l *learner) originTree() {
	t := l.prior.atlas.trees[Origin]
	t.move(l.prior.origin, l.met[Origin], originStrength)
}

// move gives a node's children shares between what the row says, counted as
// strength samples, and what was met.
func (t *Tree) move(r row, met [][]float64, strength float64) {
	if met == nil {
		return
	}
	weight := make([]float64, t.Len())
	for i := range r {
		weight[i] = float64(strength*float64(r[i])/Whole) + met[0][i]
	}
	for i := range r {
		if met[0][i] > 0 {
			t.share(r, i, weight)
		}
	}
}

// everywhere multiplies a node's shares in all rows by how much oftener it was
// met than the origins of the samples explain.
func (l *learner) everywhere(f Facet) {
	t := l.prior.atlas.trees[f]
	met, explained, usual := l.totals(f)
	factor := make([]float64, t.Len())
	for i := 1; i < t.Len(); i++ {
		strength := float64(facetStrength * usual[i])
		factor[i] = (strength + met[i]) / (strength + explained[i])
	}
	for _, r := range l.prior.rows[f] {
		weight := make([]float64, t.Len())
		for i := range r {
			weight[i] = float64(float64(r[i]) * factor[i])
		}
		for i := range r {
			if met[i] > 0 {
				t.share(r, i, weight)
			}
		}
	}
}

// totals returns, for each node over all rows: how often it was met, how often
// its share in the rows where its parent was met explains, and its mean share.
func (l *learner) totals(f Facet) (met, explained, usual []float64) {
	t := l.prior.atlas.trees[f]
	met, explained, usual = make([]float64, t.Len()), make([]float64, t.Len()), make([]float64, t.Len())
	rowMass := l.known.RowMass(f)
	for number, r := range l.prior.rows[f] {
		seen := l.met[f][number]
		for i := 1; i < t.Len(); i++ {
			share := float64(r[i]) / Whole
			met[i] += seen[i]
			explained[i] += float64(share * t.below(seen, t.Parent(i)))
			usual[i] += float64(share * rowMass[number])
		}
	}
	met[0] = met[0] + l.sumOfRoots(f)
	return met, explained, usual
}

func (l *learner) sumOfRoots(f Facet) (sum float64) {
	for _, seen := range l.met[f] {
		sum += seen[0]
	}
	return sum
}

// below returns how often a child of the node was met.
func (t *Tree) below(met []float64, index int) (sum float64) {
	for child := range t.Children(index) {
		sum += met[child]
	}
	return sum
}

func (l *learner) perRow(f Facet) {
	t := l.prior.atlas.trees[f]
	for number, r := range l.prior.rows[f] {
		strength := float64(rowStrength)
		if len(l.prior.rows[f]) == 1 {
			strength = facetStrength
		}
		if l.met[f] != nil {
			t.move(r, l.met[f][number:number+1], strength)
		}
	}
}
