package atlas

// A Joint is a distribution over whole coffees, factored given the origin:
// masses of the origin tree's leaves, and for every other facet some rows of
// leaf masses with the row that each origin leaf has. Callers must not change
// the slices that it returns.
type Joint struct {
	atlas  *Atlas
	origin []float64
	rows   [Facets][][]float64
	at     [Facets][]int
}

// Weights holds a factor for every leaf of every facet; a nil slice stands for
// ones.
type Weights [Facets][]float64

// Atlas returns the atlas that the joint belongs to.
func (j *Joint) Atlas() *Atlas { return j.atlas }

// Origin returns the masses of the origin tree's leaves.
func (j *Joint) Origin() []float64 { return j.origin }

// Rows returns the distinct rows of leaf masses of a facet other than Origin.
func (j *Joint) Rows(f Facet) [][]float64 { return j.rows[f] }

// RowOf returns, for every origin leaf, the number of its row of that facet.
func (j *Joint) RowOf(f Facet) []int { return j.at[f] }

// Reweigh multiplies the chance of every coffee by the weights of its leaves
// and divides by the sum. The weights must leave something.
func (j *Joint) Reweigh(w Weights) *Joint {
	out := &Joint{atlas: j.atlas, rows: j.rows, at: j.at}
	out.origin = append([]float64(nil), j.origin...)
	if w[Origin] != nil {
		scale(out.origin, w[Origin])
	}
	for f := Process; f < Facets; f++ {
		if w[f] == nil {
			continue
		}
		var mass []float64
		out.rows[f], mass = reweighRows(j.rows[f], w[f])
		for leaf := range out.origin {
			out.origin[leaf] *= mass[j.at[f][leaf]]
		}
	}
	Normalise(out.origin)
	return out
}

// reweighRows returns the rows weighed and normalised, and what each weighed.
func reweighRows(rows [][]float64, w []float64) (out [][]float64, mass []float64) {
	for _, r := range rows {
		weighed := append([]float64(nil), r...)
		scale(weighed, w)
		mass = append(mass, Normalise(weighed))
		out = append(out, weighed)
	}
	return out, mass
}

// Like returns a joint with other masses and rows in the shape of j.
func (j *Joint) Like(origin []float64, rows [Facets][][]float64) *Joint {
	return &Joint{atlas: j.atlas, origin: origin, rows: rows, at: j.at}
}

func scale(masses, by []float64) {
	for i := range masses {
		masses[i] *= by[i]
	}
}

// Normalise divides masses by their sum, in place, and returns the sum. Masses
// that are all zero stay zero.
func Normalise(masses []float64) (sum float64) {
	for _, m := range masses {
		sum += m
	}
	if sum == 0 {
		return 0
	}
	for i := range masses {
		masses[i] /= sum
	}
	return sum
}

// RowMass returns the mass of the origin leaves that have each row of a facet.
func (j *Joint) RowMass(f Facet) []float64 {
	out := make([]float64, len(j.rows[f]))
	for leaf, mass := range j.origin {
		out[j.at[f][leaf]] += mass
	}
	return out
}

// Leaves returns the marginal masses of a facet's leaves.
func (j *Joint) Leaves(f Facet) []float64 {
	if f == Origin {
		return j.origin
	}
	out := make([]float64, j.atlas.trees[f].Leaves())
	mass := j.RowMass(f)
	for r, row := range j.rows[f] {
		for leaf, part := range row {
			out[leaf] += float64(mass[r] * part)
		}
	}
	return out
}

// Marginal returns the mass of every node of a facet's tree, by node index.
func (j *Joint) Marginal(f Facet) []float64 {
	return j.atlas.trees[f].perNode(j.Leaves(f))
}

// Mass returns the mass of one node.
func (j *Joint) Mass(id NodeID) (float64, error) {
	e, err := j.atlas.Event(id)
	if err != nil {
		return 0, err
	}
	return j.Of(e), nil
}

// Of returns the mass of an event.
func (j *Joint) Of(e Event) (sum float64) {
	inside := rowSums{joint: j, event: e}
	for leaf, mass := range j.origin {
		if mass == 0 || e.leaves[Origin] != nil && !e.leaves[Origin][leaf] {
			continue
		}
		for f := Process; f < Facets; f++ {
			if e.leaves[f] != nil {
				mass *= inside.of(f, j.at[f][leaf])
			}
		}
		sum += mass
	}
	return sum
}

// rowSums holds what rows have inside an event, summed when first needed: an
// event of one country needs few of the rows.
type rowSums struct {
	joint *Joint
	event Event
	sum   [Facets][]float64
	known [Facets][]bool
}

func (s *rowSums) of(f Facet, r int) float64 {
	if s.known[f] == nil {
		s.sum[f] = make([]float64, len(s.joint.rows[f]))
		s.known[f] = make([]bool, len(s.joint.rows[f]))
	}
	if !s.known[f][r] {
		s.known[f][r] = true
		s.sum[f][r] = sumIn(s.joint.rows[f][r], s.event.leaves[f])
	}
	return s.sum[f][r]
}

func sumIn(masses []float64, in []bool) (sum float64) {
	for i, m := range masses {
		if in[i] {
			sum += m
		}
	}
	return sum
}
