package guess

import (
	"math"

	"hushcup/pwa/core/atlas"
)

const (
	// settled is the largest change of a cell's mass that ends the sweeps.
	settled = 1e-12
	// mostSweeps ends them in any case. Fitting converges geometrically; only
	// beliefs that all but contradict the prior come near it.
	mostSweeps = 1000
)

// Project returns the belief about whole coffees that agrees with what was
// said and is otherwise nearest to the prior. The error is the first *Problem.
func Project(p *atlas.Prior, b Belief) (*atlas.Joint, error) {
	prior := p.Joint()
	parts, problems := partition(prior, b)
	if len(problems) > 0 {
		return nil, problems[0]
	}
	fit := newFit(prior, parts)
	for range mostSweeps {
		if fit.sweep() <= settled {
			break
		}
	}
	return prior.Reweigh(fit.weight), nil
}

// A fit holds the factor of every leaf while they are being found. The belief
// is the prior times the factors of a coffee's leaves.
type fit struct {
	prior  *atlas.Joint
	cells  [atlas.Facets]*cells
	weight atlas.Weights
	// mass is, for every row of a facet, what its factors leave of it; nil for
	// facets without factors.
	mass [atlas.Facets][]float64
}

func newFit(prior *atlas.Joint, parts [atlas.Facets]*cells) *fit {
	fit := &fit{prior: prior, cells: parts}
	for f, c := range parts {
		if c == nil {
			continue
		}
		fit.weight[f] = make([]float64, len(c.of))
		for leaf := range fit.weight[f] {
			fit.weight[f][leaf] = 1
		}
		fit.weighRows(atlas.Facet(f))
	}
	return fit
}

// sweep fits every facet's cells once and returns the largest change of a
// cell's mass.
func (fit *fit) sweep() (moved float64) {
	for f := range atlas.Facets {
		if fit.cells[f] != nil {
			moved = max(moved, fit.facet(f))
		}
	}
	return moved
}

// facet makes one facet's cells have the masses that were said.
func (fit *fit) facet(f atlas.Facet) (moved float64) {
	leaves := fit.leaves(f)
	c := fit.cells[f]
	have := make([]float64, len(c.target))
	for leaf, m := range leaves {
		have[c.of[leaf]] += m
	}
	factor := make([]float64, len(have))
	for i, target := range c.target {
		moved = max(moved, math.Abs(target-have[i]))
		if target > 0 && have[i] > 0 {
			factor[i] = target / have[i]
		}
	}
	for leaf := range fit.weight[f] {
		fit.weight[f][leaf] *= factor[c.of[leaf]]
	}
	fit.weighRows(f)
	return moved
}

// leaves returns the current marginal of a facet.
func (fit *fit) leaves(f atlas.Facet) []float64 {
	origin := fit.origins(f)
	if f == atlas.Origin {
		atlas.Normalise(origin)
		return origin
	}
	rows := fit.prior.Rows(f)
	rowMass := make([]float64, len(rows))
	for leaf, at := range fit.prior.RowOf(f) {
		rowMass[at] += origin[leaf]
	}
	out := make([]float64, len(fit.weight[f]))
	for r, row := range rows {
		for leaf, m := range row {
			out[leaf] += float64(rowMass[r] * m)
		}
	}
	for leaf, w := range fit.weight[f] {
		out[leaf] *= w
	}
	atlas.Normalise(out)
	return out
}

// origins returns, for every origin leaf, its weighed mass times what is left
// of its rows, those of the facet itself left out.
func (fit *fit) origins(except atlas.Facet) []float64 {
	out := append([]float64(nil), fit.prior.Origin()...)
	if w := fit.weight[atlas.Origin]; w != nil {
		for leaf := range out {
			out[leaf] *= w[leaf]
		}
	}
	for f := atlas.Process; f < atlas.Facets; f++ {
		if fit.mass[f] == nil || f == except {
			continue
		}
		for leaf, at := range fit.prior.RowOf(f) {
			out[leaf] *= fit.mass[f][at]
		}
	}
	return out
}

func (fit *fit) weighRows(f atlas.Facet) {
	if f == atlas.Origin {
		return
	}
	rows := fit.prior.Rows(f)
	fit.mass[f] = make([]float64, len(rows))
	for r, row := range rows {
		for leaf, m := range row {
			fit.mass[f][r] += float64(m * fit.weight[f][leaf])
		}
	}
}
