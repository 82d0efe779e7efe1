package water

// nonNegative returns x >= 0 that makes A x nearest to b by least squares, after
// Lawson and Hanson, Solving Least Squares Problems (1974), chapter 23. A has
// rows; it is small.
func nonNegative(a [][]float64, b []float64) []float64 {
	n := len(a[0])
	x, free := make([]float64, n), make([]bool, n)
	for range 30 * n {
		gradient := descent(a, b, x)
		enter := -1
		for j := range n {
			if !free[j] && gradient[j] > 1e-9 && (enter < 0 || gradient[j] > gradient[enter]) {
				enter = j
			}
		}
		if enter < 0 {
			return x
		}
		free[enter] = true
		settle(a, b, x, free)
	}
	return x
}

// settle moves x to the least squares solution over the free variables, and
// fixes those at zero that would go below it.
func settle(a [][]float64, b, x []float64, free []bool) {
	for {
		z := leastSquares(a, b, free)
		step, blocks := 1.0, false
		for j, f := range free {
			if f && z[j] <= 0 {
				step, blocks = min(step, x[j]/(x[j]-z[j])), true
			}
		}
		for j := range x {
			if free[j] {
				x[j] += step * (z[j] - x[j])
			}
		}
		if !blocks {
			return
		}
		for j := range x {
			if free[j] && x[j] <= 1e-14 {
				x[j], free[j] = 0, false
			}
		}
	}
}

// descent returns minus the gradient of half the squared distance.
func descent(a [][]float64, b, x []float64) []float64 {
	out := make([]float64, len(x))
	for i, row := range a {
		off := b[i]
		for j, v := range row {
			off -= v * x[j]
		}
		for j, v := range row {
			out[j] += v * off
		}
	}
	return out
}

// leastSquares solves the normal equations over the free variables; a tiny ridge
// keeps alike sources from making them singular.
func leastSquares(a [][]float64, b []float64, free []bool) []float64 {
	var index []int
	for j, f := range free {
		if f {
			index = append(index, j)
		}
	}
	n := len(index)
	m := make([][]float64, n)
	for r := range m {
		m[r] = make([]float64, n+1)
		for i, row := range a {
			for c := range index {
				m[r][c] += row[index[r]] * row[index[c]]
			}
			m[r][n] += row[index[r]] * b[i]
		}
		m[r][r] += 1e-12 * (1 + m[r][r])
	}
	eliminate(m)
	out := make([]float64, len(free))
	for r, j := range index {
		out[j] = m[r][n]
	}
	return out
}

// eliminate solves a positive definite system in place; the last column becomes
// the solution.
func eliminate(m [][]float64) {
	for c := range m {
		for r := range m {
			if r == c {
				continue
			}
			factor := m[r][c] / m[c][c]
			for k := c; k < len(m[r]); k++ {
				m[r][k] -= factor * m[c][k]
			}
		}
	}
	for r := range m {
		m[r][len(m)] /= m[r][r]
	}
}
