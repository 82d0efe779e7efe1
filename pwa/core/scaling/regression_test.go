package scaling

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// TestNorris: with a prior that says nothing the regression is ordinary least
// squares, and meets the certified values of NIST's Statistical Reference
// Datasets, linear regression, Norris.
func TestNorris(t *testing.T) {
	y := []float64{0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9, 10.8, 557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2}
	x := []float64{0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0, 447.5, 11.6, 556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5}
	var rows [][]float64
	for _, v := range x {
		rows = append(rows, []float64{1, v})
	}
	// The flat prior 1/variance is the limit with freedom -2 and no scale.
	p := prior{mean: []float64{0, 0}, spread: []float64{1e9, 1e9}, freedom: -2}
	fit, err := p.update(rows, y)
	if err != nil {
		t.Fatal(err)
	}
	near := func(what string, got, want float64) {
		if math.Abs(got-want) > 1e-8*math.Abs(want) {
			t.Errorf("%s = %.15g, want %.15g", what, got, want)
		}
	}
	near("B0", fit.mean[0], -0.262323073774029)
	near("B1", fit.mean[1], 1.00211681802045)
	near("residual standard deviation", math.Sqrt(fit.variance), 0.884796396144373)
	near("standard deviation of B0", math.Sqrt(fit.variance*fit.precision.Form([]float64{1, 0})), 0.232818234301152)
	near("standard deviation of B1", math.Sqrt(fit.variance*fit.precision.Form([]float64{0, 1})), 0.429796848199937e-03)
	if fit.freedom != 34 {
		t.Errorf("%v degrees of freedom, want 34", fit.freedom)
	}
}

// TestPriorIsRows: a prior is worth additional rows of data; gonum's least squares
// over data and those rows judges the mean.
func TestPriorIsRows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 8).Draw(t, "rows")
		number := rapid.Float64Range(-3, 3)
		p := prior{
			mean:   rapid.SliceOfN(number, 3, 3).Draw(t, "mean"),
			spread: rapid.SliceOfN(rapid.Float64Range(0.2, 4), 3, 3).Draw(t, "spread"),
			noise:  0.5, freedom: 4,
		}
		all, y := mat.NewDense(n+3, 3, nil), mat.NewVecDense(n+3, nil)
		var rows [][]float64
		var values []float64
		for i := range n {
			rows = append(rows, rapid.SliceOfN(number, 3, 3).Draw(t, "row"))
			values = append(values, number.Draw(t, "y"))
			all.SetRow(i, rows[i])
			y.SetVec(i, values[i])
		}
		for j, s := range p.spread {
			all.Set(n+j, j, 1/s)
			y.SetVec(n+j, p.mean[j]/s)
		}
		fit, err := p.update(rows, values)
		if err != nil {
			t.Fatal(err)
		}
		var want mat.VecDense
		if err := want.SolveVec(all, y); err != nil {
			t.Fatal(err)
		}
		for j, got := range fit.mean {
			if math.Abs(got-want.AtVec(j)) > 1e-7 {
				t.Fatalf("coefficient %d is %v, want %v", j, got, want.AtVec(j))
			}
		}
	})
}
