package dense

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

func of(rows ...[]float64) *Matrix {
	m := New(len(rows))
	for i, row := range rows {
		for j, v := range row {
			m.Add(i, j, v)
		}
	}
	return m
}

// TestPublishedFactor is example 4.2.1's kind of matrix as widely printed: A =
// (4 12 -16; 12 37 -43; -16 -43 98) has the factor (2; 6 1; -8 5 3) and the
// determinant 36 (Wikipedia, "Cholesky decomposition", Example).
func TestPublishedFactor(t *testing.T) {
	f, err := Cholesky(of([]float64{4, 12, -16}, []float64{12, 37, -43}, []float64{-16, -43, 98}))
	if err != nil {
		t.Fatal(err)
	}
	for i, row := range [][]float64{{2, 0, 0}, {6, 1, 0}, {-8, 5, 3}} {
		for j, want := range row {
			if got := f.At(i, j); math.Abs(got-want) > 1e-12 {
				t.Errorf("L(%d,%d) = %v, want %v", i, j, got, want)
			}
		}
	}
	if got := f.LogDeterminant(); math.Abs(got-math.Log(36)) > 1e-12 {
		t.Errorf("log determinant %v, want log 36", got)
	}
}

// TestHilbertDeterminants: the determinant of the n-th Hilbert matrix is 1 over
// OEIS A005249(n).
func TestHilbertDeterminants(t *testing.T) {
	for n, want := range map[int]float64{1: 1, 2: 12, 3: 2160, 4: 6048000, 5: 266716800000} {
		m := New(n)
		for i := range n {
			for j := range n {
				m.Add(i, j, 1/float64(i+j+1))
			}
		}
		f, err := Cholesky(m)
		if err != nil {
			t.Fatal(err)
		}
		if got := f.LogDeterminant(); math.Abs(got+math.Log(want)) > 1e-9 {
			t.Errorf("%d: log determinant %v, want %v", n, got, -math.Log(want))
		}
	}
}

func TestAgainstGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "size")
		m, sym := New(n), mat.NewSymDense(n, nil)
		for i := range n {
			m.Add(i, i, 0.1)
		}
		for range n + 2 {
			m.AddOuter(1, rapid.SliceOfN(rapid.Float64Range(-3, 3), n, n).Draw(t, "column"))
		}
		for i := range n {
			for j := range n {
				sym.SetSym(i, j, m.At(i, j))
			}
		}
		f, err := Cholesky(m)
		var theirs mat.Cholesky
		if ok := theirs.Factorize(sym); !ok || err != nil {
			t.Fatalf("theirs %v, ours %v", ok, err)
		}
		b := rapid.SliceOfN(rapid.Float64Range(-10, 10), n, n).Draw(t, "b")
		var want mat.VecDense
		if err := theirs.SolveVecTo(&want, mat.NewVecDense(n, b)); err != nil {
			t.Fatal(err)
		}
		got := f.Solve(b)
		for i, v := range got {
			if math.Abs(v-want.AtVec(i)) > 1e-6*(1+math.Abs(want.AtVec(i))) {
				t.Fatalf("x[%d] = %v, want %v", i, v, want.AtVec(i))
			}
		}
		if form := f.Form(b); math.Abs(form-Dot(b, got)) > 1e-6*(1+form) {
			t.Fatalf("form %v, want %v", form, Dot(b, got))
		}
		if math.Abs(f.LogDeterminant()-theirs.LogDet()) > 1e-8*(1+math.Abs(theirs.LogDet())) {
			t.Fatalf("log determinant %v, want %v", f.LogDeterminant(), theirs.LogDet())
		}
	})
}

func TestNotPositive(t *testing.T) {
	for _, m := range []*Matrix{
		of([]float64{1, 2}, []float64{2, 1}),
		of([]float64{1, 1}, []float64{1, 1}),
		of([]float64{0}),
		of([]float64{math.NaN()}),
	} {
		if _, err := Cholesky(m); err != ErrNotPositive {
			t.Errorf("got %v", err)
		}
	}
}
