package guess

import (
	"math"
	"strconv"
)

// MostMatched is the largest matching that can be computed: it takes work of
// n times two to the n.
const MostMatched = 10

// A Matching is a belief about which code is which coffee, when n named coffees
// are served under n codes and each is used once.
//
// What is said is a table: a row for each code, a share for each coffee. Since
// each coffee is used once its columns must add up too, so the table is made
// doubly stochastic by Sinkhorn's scaling (Sinkhorn, Annals of Mathematical
// Statistics 35, 1964), after a little of chance is mixed in, without which two
// codes both said to be surely the same coffee could not be scaled. The belief
// is then the distribution over all n! assignments that has this table and is
// otherwise nearest to chance: a product of weights, found by proportional
// fitting, whose sums over assignments are taken over subsets of coffees.
type Matching struct {
	n      int
	table  [][]float64
	weight [][]float64
	total  float64 // over all assignments
}

// A MatchingError names the cell of a table that cannot be.
type MatchingError struct {
	Code        string // CodeShare, CodeOverWhole, or CodeShape
	Row, Column int
}

// CodeShape says that a table is not square, or too small or too large.
const CodeShape = "shape"

func (e *MatchingError) Error() string {
	return "matching's row " + strconv.Itoa(e.Row) + ", column " + strconv.Itoa(e.Column) + ": " + e.Code
}

// NewMatching makes the belief of a table of shares in ten-thousandths. In each
// row, what is not said is spread evenly over the coffees that have nothing; a
// row without anything is chance.
func NewMatching(said [][]int) (*Matching, error) {
	table, err := stated(said)
	if err != nil {
		return nil, err
	}
	m := &Matching{n: len(said), table: table}
	sinkhorn(table)
	m.fit()
	return m, nil
}

// stated turns what was said into a positive table with rows that add up to one.
func stated(said [][]int) ([][]float64, error) {
	n := len(said)
	if n < 2 || n > MostMatched {
		return nil, &MatchingError{Code: CodeShape}
	}
	table := make([][]float64, n)
	for i, row := range said {
		if len(row) != n {
			return nil, &MatchingError{Code: CodeShape, Row: i}
		}
		left, silent := 10000, 0
		for j, share := range row {
			if share < 0 || share > 10000 {
				return nil, &MatchingError{CodeShare, i, j}
			}
			left -= share
			if share == 0 {
				silent++
			}
		}
		if left < 0 || left > 0 && silent == 0 {
			return nil, &MatchingError{Code: CodeOverWhole, Row: i}
		}
		table[i] = make([]float64, n)
		for j, share := range row {
			mass := float64(share) / 10000
			if share == 0 && silent > 0 {
				mass = float64(left) / 10000 / float64(silent)
			}
			table[i][j] = Soften(mass, 1/float64(n))
		}
	}
	return table, nil
}

// sinkhorn scales rows and columns in turn until both add up to one.
func sinkhorn(table [][]float64) {
	for range mostSweeps {
		off := 0.0
		for j := range table {
			sum := 0.0
			for i := range table {
				sum += table[i][j]
			}
			off = max(off, math.Abs(sum-1))
			for i := range table {
				table[i][j] /= sum
			}
		}
		for _, row := range table {
			sum := 0.0
			for _, x := range row {
				sum += x
			}
			off = max(off, math.Abs(sum-1))
			for j := range row {
				row[j] /= sum
			}
		}
		if off <= settled {
			return
		}
	}
}

// fit finds weights whose assignments have the table, a row at a time.
func (m *Matching) fit() {
	m.weight = make([][]float64, m.n)
	for i, row := range m.table {
		m.weight[i] = append([]float64(nil), row...)
	}
	for range mostSweeps {
		moved := 0.0
		for i := range m.weight {
			have := m.row(i)
			for j, target := range m.table[i] {
				moved = max(moved, math.Abs(target-have[j]))
				m.weight[i][j] *= target / have[j]
			}
		}
		if moved <= 1e-10 {
			break
		}
	}
	m.total = m.over(0, 0)
}

// row returns the chances of the coffees for one code under the weights.
func (m *Matching) row(code int) []float64 {
	before, after := m.before(code), m.after(code+1)
	out := make([]float64, m.n)
	sum := 0.0
	for used, mass := range before {
		if mass == 0 {
			continue
		}
		for j, w := range m.weight[code] {
			if used>>j&1 == 0 {
				out[j] += float64(float64(mass*w) * after[used|1<<j])
			}
		}
	}
	for _, x := range out {
		sum += x
	}
	for j := range out {
		out[j] /= sum
	}
	return out
}

// before sums, for every set of coffees, the ways in which the codes before one
// use just that set.
func (m *Matching) before(code int) []float64 {
	out := make([]float64, 1<<m.n)
	out[0] = 1
	for i := range code {
		next := make([]float64, 1<<m.n)
		for used, mass := range out {
			if mass == 0 {
				continue
			}
			for j, w := range m.weight[i] {
				if used>>j&1 == 0 {
					next[used|1<<j] += float64(mass * w)
				}
			}
		}
		out = next
	}
	return out
}

// after sums, for every set of coffees used, the ways in which the codes from
// one on use the rest.
func (m *Matching) after(code int) []float64 {
	out := make([]float64, 1<<m.n)
	out[len(out)-1] = 1
	for i := m.n - 1; i >= code; i-- {
		next := make([]float64, 1<<m.n)
		for used := range next {
			for j, w := range m.weight[i] {
				if used>>j&1 == 0 {
					next[used] += float64(w * out[used|1<<j])
				}
			}
		}
		out = next
	}
	return out
}

// over sums the assignments of the codes from one on, given the coffees used.
func (m *Matching) over(code, used int) float64 { return m.after(code)[used] }

// Len returns the number of codes.
func (m *Matching) Len() int { return m.n }

// Table returns the belief's table: for each code, the chance of each coffee.
// Rows and columns add up to one.
func (m *Matching) Table() [][]float64 { return m.table }

// Of returns the chance that the first codes are these coffees, in order; 1 for
// none. It is 0 when a coffee is named twice or is not there.
func (m *Matching) Of(coffees []int) float64 {
	mass, used := 1.0, 0
	for i, j := range coffees {
		if i >= m.n || j < 0 || j >= m.n || used>>j&1 == 1 {
			return 0
		}
		mass = float64(mass * m.weight[i][j])
		used |= 1 << j
	}
	return float64(mass*m.over(len(coffees), used)) / m.total
}
