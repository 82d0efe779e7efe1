package atlas

import (
	"math"
	"sync"
)

// How the embedded facts become a prior. The facts are weak: what was submitted
// for grading, what the world grows and what is said about countries all
// differ from what reaches a tasting club. So each is shrunk towards the
// others, with these strengths, all of them our own judgement.
const (
	// canephoraInClub is how much rarer a bag of canephora is in a tasting club
	// than a bag of arabica.
	canephoraInClub = 1.0 / 20
	// evidenceLimit is the most that declared samples of one country count for.
	evidenceLimit = 20
	// familyStrength and varietyStrength are the samples that general knowledge
	// about a country counts for.
	familyStrength, varietyStrength = 10, 20
	// usualWeight is the part of a country's families that comes from what is
	// usual there; the rest comes from everywhere.
	usualWeight = 0.7
	// restOfCountry and restOfWorld are what the lists of regions and of areas
	// leave out.
	restOfCountry, restOfWorld = 0.15, 0.004
	// altitudeStrength is the samples that the usual range of altitudes counts for.
	altitudeStrength = 10
)

// Kinds of region with rows of their own.
const (
	kindCanephora = "canephora"       // nearly all of it
	kindMixed     = "canephora-mixed" // about half
	kindWetHulled = "wet-hulled"      // mostly
)

// Prior returns the prior that the embedded facts give, for the atlas with its
// additions.
func (a *Atlas) Prior() *Prior {
	p := builtinPrior()
	if len(a.edits) == 0 {
		return p
	}
	return p.extended(a)
}

var builtinPrior = sync.OnceValue(func() *Prior {
	a := Builtin()
	b := builder{atlas: a, prior: &Prior{atlas: a, origin: a.originShares()}}
	b.condition()
	for _, f := range []Facet{Decaf, Roast} {
		b.prior.rows[f] = []row{a.trees[f].fromWeights(a.trees[f].defaults())}
		b.prior.at[f] = make([]int, a.trees[Origin].Leaves())
	}
	return b.prior.sealed()
})

// A builder gives each leaf of the origin tree its rows.
type builder struct {
	atlas *Atlas
	prior *Prior
}

// place is what rows depend on: a country's figures and the kind of region.
type place struct {
	country *Figures
	kind    string
	special bool // the country has regions of another kind
}

func (b *builder) condition() {
	origin := b.atlas.trees[Origin]
	seen := map[place]int{}
	for leaf := range origin.Leaves() {
		where := b.place(origin, origin.Leaf(leaf))
		at, ok := seen[where]
		if !ok {
			at = len(seen)
			seen[where] = at
			b.add(Process, b.atlas.processRow(where))
			b.add(Variety, b.atlas.varietyRow(where))
			b.add(Altitude, b.atlas.altitudeRow(where))
		}
		for _, f := range []Facet{Process, Variety, Altitude} {
			b.prior.at[f] = append(b.prior.at[f], at)
		}
	}
}

func (b *builder) add(f Facet, r row) { b.prior.rows[f] = append(b.prior.rows[f], r) }

// place finds the figures that hold at a leaf: its own for "elsewhere" in an
// area, else its country's, else none.
func (b *builder) place(origin *Tree, leaf int) place {
	node := origin.At(leaf)
	where := place{kind: node.key}
	for at := leaf; at >= 0 && where.country == nil; at = origin.Parent(at) {
		where.country = figures()[origin.At(at).ID]
		for child := range origin.Children(at) {
			where.special = where.special || where.country != nil && origin.At(child).key != ""
		}
	}
	if where.country == nil {
		where.country = nowhere
	}
	return where
}

// nowhere is a place about which nothing is known.
var nowhere = &Figures{Low: 600, High: 1800}

// originShares makes the origin tree's row: areas and countries from half what
// was declared and half what is grown, both by square roots because both are
// weak; regions alike, as there are no figures.
func (a *Atlas) originShares() row {
	t := a.trees[Origin]
	weight := make([]float64, t.Len())
	var declared, grown float64
	for i := range t.nodes {
		if f := figures()[t.nodes[i].ID]; f != nil {
			declared += rootOfDeclared(f)
			grown += rootOfGrown(f)
		}
	}
	for i := range t.nodes {
		f := figures()[t.nodes[i].ID]
		if f == nil {
			continue
		}
		weight[i] = rootOfDeclared(f)/declared/2 + rootOfGrown(f)/grown/2
		if parent := t.nodes[i].parent; parent > 0 {
			weight[parent] += weight[i]
		}
		a.regions(t, i, f, weight)
	}
	rest, _ := t.Index(Origin.Root() + "/elsewhere")
	weight[rest] = restOfWorld
	out := make(row, t.Len())
	out[0] = Whole
	for i := range t.nodes {
		t.share(out, i, weight)
	}
	return out
}

func rootOfDeclared(f *Figures) float64 { return math.Sqrt(float64(f.declared()) + 1) }

func rootOfGrown(f *Figures) float64 {
	return math.Sqrt(f.Arabica + float64(f.Canephora*canephoraInClub) + 10)
}

// regions gives a country's regions equal weights, except that regions of
// canephora share what the country's canephora is worth.
func (a *Atlas) regions(t *Tree, country int, f *Figures, weight []float64) {
	var canephora, others []int
	for child := range t.Children(country) {
		switch n := t.At(child); {
		case n.Rest:
			weight[child] = restOfCountry
		case n.key == kindCanephora:
			canephora = append(canephora, child)
		default:
			others = append(others, child)
		}
	}
	part := 0.0
	if len(canephora) > 0 {
		part = min(max(f.canephoraShare(), 0.03), 0.97)
	}
	if len(others) == 0 {
		part = 1
	}
	for _, region := range canephora {
		weight[region] = float64(part*(1-restOfCountry)) / float64(len(canephora))
	}
	for _, region := range others {
		weight[region] = float64((1-part)*(1-restOfCountry)) / float64(len(others))
	}
}
