package grinder

import (
	"math"
	"sort"
)

// A point is one brew in a group whose level is common.
type point struct {
	x, y  float64
	group string
}

// slopes returns the slopes of all pairs of one group at different x, ascending.
func slopes(points []point) (out []float64) {
	for i, a := range points {
		for _, b := range points[:i] {
			if a.group == b.group && a.x != b.x {
				out = append(out, (a.y-b.y)/(a.x-b.x))
			}
		}
	}
	sort.Float64s(out)
	return out
}

// median of ascending values.
func median(sorted []float64) float64 {
	n := len(sorted)
	return (sorted[(n-1)/2] + sorted[n/2]) / 2
}

// interval returns the slopes that bound the true one in at least 90 of 100
// cases: those that so many pairs are below, or above, as chance makes at most
// five times in a hundred. It is unbounded when there are too few pairs.
func interval(points []point, sorted []float64) (low, high float64) {
	const tail = 0.05
	below, total := -1, 0.0
	for count, chance := range inversions(points) {
		total += chance
		if total > tail+1e-9 {
			break
		}
		below = count
	}
	if below < 0 {
		return math.Inf(-1), math.Inf(1)
	}
	return sorted[below], sorted[len(sorted)-1-below]
}

// inversions returns the chance of each number of pairs below the true slope
// (Kendall, Biometrika 30, 81-93, 1938). Brews at one position have no pairs, so
// the count is Jonckheere's statistic (Biometrika 41, 133-145, 1954): the sum of
// independent counts of each position's brews against all those before it.
func inversions(points []point) []float64 {
	chances := []float64{1}
	before, ties := map[string]int{}, map[point]int{}
	var places []point
	for _, p := range points {
		place := point{x: p.x, group: p.group}
		if ties[place]++; ties[place] == 1 {
			places = append(places, place)
		}
	}
	for _, place := range places {
		chances = sum(chances, against(ties[place], before[place.group]))
		before[place.group] += ties[place]
	}
	return chances
}

// against returns the chance of each number of pairs, of m values with n others,
// that stand the other way round (Mann and Whitney, Annals of Mathematical
// Statistics 18, 50-60, 1947): the largest of all is one of the m, and then
// stands right with all n, or one of the n.
func against(m, n int) []float64 {
	row := make([][]float64, n+1) // for i of the m, by j of the n
	for j := range row {
		row[j] = []float64{1}
	}
	for i := 1; i <= m; i++ {
		row[0] = []float64{1}
		for j := 1; j <= n; j++ {
			next := make([]float64, i*j+1)
			share := float64(i) / float64(i+j)
			for u, chance := range row[j] {
				next[u] += share * chance
			}
			for u, chance := range row[j-1] {
				next[u+i] += (1 - share) * chance
			}
			row[j] = next
		}
	}
	return row[n]
}

// sum returns the chances of the sum of two independent counts.
func sum(a, b []float64) []float64 {
	out := make([]float64, len(a)+len(b)-1)
	for i, x := range a {
		for j, y := range b {
			out[i+j] += x * y
		}
	}
	return out
}

// deviation is the standard deviation that the median absolute residual stands
// for. Croux and Rousseeuw (1992) give the factors for few values.
func deviation(residuals []float64) float64 {
	n := len(residuals)
	if n < 2 {
		return 0
	}
	sizes := make([]float64, n)
	for i, r := range residuals {
		sizes[i] = math.Abs(r)
	}
	sort.Float64s(sizes)
	few := [...]float64{2: 1.196, 3: 1.495, 4: 1.363, 5: 1.206, 6: 1.200, 7: 1.140, 8: 1.129, 9: 1.107}
	factor := float64(n) / (float64(n) - 0.8)
	if n < len(few) {
		factor = few[n]
	}
	return factor * 1.4826 * median(sizes)
}
