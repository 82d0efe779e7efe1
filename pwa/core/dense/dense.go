// Package dense solves small systems of linear equations with a symmetric
// positive definite matrix, by its Cholesky factor: enough for regressions and
// Gaussian processes over some dozens of brews, and small enough for a phone.
//
// A is factored as L Lᵀ with L lower triangular (Golub and Van Loan, Matrix
// Computations, 4th edition, section 4.2). Sizes are trusted: a caller that
// mixes them up has a bug, and the runtime's bounds check says so.
package dense

import (
	"errors"
	"math"
)

// ErrNotPositive says that a matrix is not positive definite, so that no
// unique solution can be told from rounding.
var ErrNotPositive = errors.New("matrix is not positive definite")

// A Matrix is square. Its zero value is empty; New makes one of zeros.
type Matrix struct {
	size   int
	values []float64 // row after row
}

// New returns a matrix of zeros.
func New(size int) *Matrix { return &Matrix{size, make([]float64, size*size)} }

// Size returns the number of rows, which is that of columns.
func (m *Matrix) Size() int { return m.size }

// At returns an element.
func (m *Matrix) At(row, column int) float64 { return m.values[row*m.size+column] }

// Add adds to an element.
func (m *Matrix) Add(row, column int, value float64) { m.values[row*m.size+column] += value }

// AddOuter adds weight times the product of a column with itself.
func (m *Matrix) AddOuter(weight float64, v []float64) {
	for i, a := range v {
		if a == 0 {
			continue
		}
		for j, b := range v {
			m.Add(i, j, weight*a*b)
		}
	}
}

// A Factor is the lower triangular Cholesky factor of a matrix.
type Factor struct {
	lower Matrix
}

// Cholesky factors a symmetric matrix, of which it reads the lower triangle. It
// returns ErrNotPositive when a pivot is lost in rounding.
func Cholesky(m *Matrix) (*Factor, error) {
	f := &Factor{*New(m.size)}
	for j := range m.size {
		row := f.row(j)
		pivot := m.At(j, j) - Dot(row[:j], row[:j])
		if !(pivot > tiniest*m.At(j, j)) {
			return nil, ErrNotPositive
		}
		row[j] = math.Sqrt(pivot)
		for i := j + 1; i < m.size; i++ {
			below := f.row(i)
			below[j] = (m.At(i, j) - Dot(below[:j], row[:j])) / row[j]
		}
	}
	return f, nil
}

// tiniest is the share of a diagonal element below which its pivot is rounding.
const tiniest = 1e-14

func (f *Factor) row(i int) []float64 {
	n := f.lower.size
	return f.lower.values[i*n : (i+1)*n]
}

// At returns an element of L.
func (f *Factor) At(row, column int) float64 { return f.lower.At(row, column) }

// Forward returns L⁻¹ b.
func (f *Factor) Forward(b []float64) []float64 {
	x := make([]float64, len(b))
	for i := range x {
		row := f.row(i)
		x[i] = (b[i] - Dot(row[:i], x[:i])) / row[i]
	}
	return x
}

// Solve returns A⁻¹ b.
func (f *Factor) Solve(b []float64) []float64 {
	x := f.Forward(b)
	for i := len(x) - 1; i >= 0; i-- {
		for j := i + 1; j < len(x); j++ {
			x[i] -= f.At(j, i) * x[j]
		}
		x[i] /= f.At(i, i)
	}
	return x
}

// Form returns bᵀ A⁻¹ b, which is never below zero.
func (f *Factor) Form(b []float64) float64 {
	x := f.Forward(b)
	return Dot(x, x)
}

// LogDeterminant returns the natural logarithm of A's determinant.
func (f *Factor) LogDeterminant() (sum float64) {
	for i := range f.lower.size {
		sum += 2 * math.Log(f.At(i, i))
	}
	return sum
}

// Dot returns the inner product of two columns of the same length.
func Dot(a, b []float64) (sum float64) {
	for i, v := range a {
		sum += v * b[i]
	}
	return sum
}
