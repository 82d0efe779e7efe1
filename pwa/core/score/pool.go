package score

import (
	"hushcup/pwa/core/atlas"
	"hushcup/pwa/core/exact"
	"hushcup/pwa/core/guess"
)

// Linear returns the linear pool of beliefs: the mean of their masses, as if
// one of the table, drawn by lot, spoke for all. It is nil for no beliefs.
func Linear(members []*atlas.Joint) Measure {
	if len(members) == 0 {
		return nil
	}
	return linear(members)
}

type linear []*atlas.Joint

func (l linear) Of(e atlas.Event) (sum float64) {
	for _, m := range l {
		sum += m.Of(e)
	}
	return sum / float64(len(l))
}

// Logarithmic returns the logarithmic pool of beliefs: the geometric mean of
// their masses, normalised, which is sharp where all agree. Each factor of each
// belief is softened towards the prior's, so that one member's "impossible"
// vetoes nothing. It is nil for no beliefs.
func Logarithmic(prior *atlas.Joint, members []*atlas.Joint) *atlas.Joint {
	if len(members) == 0 {
		return nil
	}
	origin := geometric(prior.Origin(), func(m *atlas.Joint) []float64 { return m.Origin() }, members)
	var rows [atlas.Facets][][]float64
	for f := atlas.Process; f < atlas.Facets; f++ {
		left := make([]float64, len(prior.Rows(f)))
		for r, row := range prior.Rows(f) {
			pooled := geometric(row, func(m *atlas.Joint) []float64 { return m.Rows(f)[r] }, members)
			left[r] = atlas.Normalise(pooled)
			rows[f] = append(rows[f], pooled)
		}
		for leaf, at := range prior.RowOf(f) {
			origin[leaf] *= left[at]
		}
	}
	atlas.Normalise(origin)
	return prior.Like(origin, rows)
}

func geometric(prior []float64, of func(*atlas.Joint) []float64, members []*atlas.Joint) []float64 {
	out := make([]float64, len(prior))
	for i, q := range prior {
		if q == 0 {
			continue
		}
		sum := 0.0
		for _, m := range members {
			sum += exact.Log2(guess.Soften(of(m)[i], q))
		}
		out[i] = exact.Exp2(sum / float64(len(members)))
	}
	return out
}
