package grinder

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func line(x, y []float64) (out []point) {
	for i := range x {
		out = append(out, point{x: x[i], y: y[i]})
	}
	return out
}

// cloudSeeding is example 9.1 of Hollander, Wolfe and Chicken, Nonparametric
// Statistical Methods, 3rd edition: the double ratio of rain over five years.
var cloudSeeding = line([]float64{1, 2, 3, 4, 5}, []float64{1.26, 1.27, 1.12, 1.16, 1.03})

// TestTheil: C = -6 with P = 0.117, and the slope is the median of ten.
func TestTheil(t *testing.T) {
	sorted := slopes(cloudSeeding)
	rising := 0
	for _, s := range sorted {
		if s > 0 {
			rising++
		}
	}
	if c := rising - (len(sorted) - rising); c != -6 {
		t.Errorf("C = %d, want -6", c)
	}
	tail := 0.0
	for _, chance := range inversions(cloudSeeding)[:rising+1] {
		tail += chance
	}
	if math.Abs(tail-0.117) > 0.0005 {
		t.Errorf("P = %.4f, want 0.117", tail)
	}
	if got := median(sorted); math.Abs(got+0.05625) > 1e-12 {
		t.Errorf("slope %v, want -0.05625", got)
	}
}

// TestInversions: the numbers of permutations by inversions are OEIS A008302; row
// 5 is 1, 4, 9, 15, 20, 22, 20, 15, 9, 4, 1.
func TestInversions(t *testing.T) {
	got := inversions(cloudSeeding)
	for i, want := range []float64{1, 4, 9, 15, 20, 22, 20, 15, 9, 4, 1} {
		if math.Abs(got[i]*120-want) > 1e-9 {
			t.Errorf("%d inversions: %v of 120, want %v", i, got[i]*120, want)
		}
	}
}

// TestInversionsWithTies: three groups of two tied are Jonckheere's statistic;
// Hollander, Wolfe and Chicken's table for 2, 2, 2 has P(J >= 12) = 0.0111,
// P(J >= 11) = 0.0333 and P(J >= 10) = 0.0889.
func TestInversionsWithTies(t *testing.T) {
	got := inversions(line([]float64{1, 1, 2, 2, 3, 3}, make([]float64, 6)))
	if len(got) != 13 {
		t.Fatalf("%d counts, want 0 to 12", len(got))
	}
	tail := 0.0
	for i, want := range []float64{0.0111, 0.0333, 0.0889} {
		tail += got[i]
		if math.Abs(tail-want) > 0.00005 {
			t.Errorf("P(J >= %d) = %.4f, want %.4f", 12-i, tail, want)
		}
	}
}

// TestInversionsByCounting goes through all orders of y for small groups.
func TestInversionsByCounting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.SliceOfN(rapid.IntRange(0, 3), 1, 6).Draw(t, "x")
		var points []point
		for _, v := range x {
			points = append(points, point{x: float64(v)})
		}
		got := inversions(points)
		want := make([]float64, len(got))
		orders := 0.0
		permute(len(points), func(order []int) {
			below := 0
			for i := range points {
				for j := range i {
					if points[i].x != points[j].x && (points[i].x > points[j].x) != (order[i] > order[j]) {
						below++
					}
				}
			}
			want[below]++
			orders++
		})
		for i := range got {
			if math.Abs(got[i]-want[i]/orders) > 1e-9 {
				t.Fatalf("x %v: %d inversions %v, counted %v", x, i, got[i], want[i]/orders)
			}
		}
	})
}

func permute(n int, each func([]int)) {
	order := make([]int, 0, n)
	var extend func()
	extend = func() {
		if len(order) == n {
			each(order)
			return
		}
		for v := range n {
			if !slices.Contains(order, v) {
				order = append(order, v)
				extend()
				order = order[:len(order)-1]
			}
		}
	}
	extend()
}

// TestManyBrewsStayChances: sixty brews with ties lose no digits.
func TestManyBrewsStayChances(t *testing.T) {
	var points []point
	for i := range mostBrews {
		points = append(points, point{x: float64(i % 7), group: "cone"})
	}
	sum := 0.0
	for _, chance := range inversions(points) {
		if chance < 0 {
			t.Fatalf("a chance of %v", chance)
		}
		sum += chance
	}
	if math.Abs(sum-1) > 1e-12 {
		t.Errorf("chances add up to %v", sum)
	}
}

// TestDeviation: the factor makes the median absolute deviation of a normal
// sample the standard deviation (1.4826; Rousseeuw and Croux 1993).
func TestDeviation(t *testing.T) {
	if got := deviation([]float64{-2, -1, 0, 1, 2}); math.Abs(got-1.206*1.4826) > 1e-12 {
		t.Errorf("got %v", got)
	}
	if got := deviation([]float64{3}); got != 0 {
		t.Errorf("one value deviates by %v", got)
	}
}
