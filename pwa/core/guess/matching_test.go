package guess

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func drawTable(t *rapid.T, n int) [][]int {
	table := make([][]int, n)
	for i := range table {
		table[i] = make([]int, n)
		left := 10000
		for j := range n - 1 {
			if rapid.Bool().Draw(t, "say") {
				table[i][j] = rapid.IntRange(0, left).Draw(t, "share")
				left -= table[i][j]
			}
		}
	}
	return table
}

// assignments lists all orders of n coffees.
func assignments(n int) (out [][]int) {
	var grow func(prefix []int)
	grow = func(prefix []int) {
		if len(prefix) == n {
			out = append(out, append([]int(nil), prefix...))
			return
		}
	next:
		for j := range n {
			for _, used := range prefix {
				if used == j {
					continue next
				}
			}
			grow(append(prefix, j))
		}
	}
	grow(nil)
	return out
}

func TestMatchingIsDoublyStochasticAndItsAssignmentsHaveTheTable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 5).Draw(t, "n")
		m, err := NewMatching(drawTable(t, n))
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		have := make([][]float64, n)
		for i := range have {
			have[i] = make([]float64, n)
		}
		for _, a := range assignments(n) {
			p := m.Of(a)
			sum += p
			for i, j := range a {
				have[i][j] += p
			}
		}
		if math.Abs(sum-1) > 1e-9 {
			t.Fatalf("assignments add up to %v", sum)
		}
		for i, row := range m.Table() {
			rowSum, columnSum := 0.0, 0.0
			for j, x := range row {
				rowSum += x
				columnSum += m.Table()[j][i]
				if math.Abs(have[i][j]-x) > 1e-6 {
					t.Fatalf("row %d, column %d: the assignments have %v, the table %v", i, j, have[i][j], x)
				}
			}
			if math.Abs(rowSum-1) > 1e-9 || math.Abs(columnSum-1) > 1e-9 {
				t.Fatalf("row %v, column %v", rowSum, columnSum)
			}
		}
	})
}

func TestMatchingChancesAddUpOverTheNextCode(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 6).Draw(t, "n")
		m, err := NewMatching(drawTable(t, n))
		if err != nil {
			t.Fatal(err)
		}
		prefix := rapid.SampledFrom(assignments(n)).Draw(t, "assignment")[:rapid.IntRange(0, n-1).Draw(t, "known")]
		sum := 0.0
		for j := range n {
			sum += m.Of(append(append([]int(nil), prefix...), j))
		}
		if math.Abs(sum-m.Of(prefix)) > 1e-9 {
			t.Fatalf("%v of %v", sum, m.Of(prefix))
		}
	})
}

func TestMatchingOfNothingIsChance(t *testing.T) {
	m, err := NewMatching([][]int{{0, 0, 0}, {0, 0, 0}, {0, 0, 0}})
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range assignments(3) {
		if got := m.Of(a); math.Abs(got-1.0/6) > 1e-12 {
			t.Errorf("%v: %v", a, got)
		}
	}
	if m.Of([]int{0, 0}) != 0 || m.Of([]int{3}) != 0 || m.Of([]int{-1}) != 0 || m.Of(nil) != 1 {
		t.Error("what is no assignment has a chance")
	}
}

func TestTwoCodesSaidToBeOneCoffee(t *testing.T) {
	m, err := NewMatching([][]int{{10000, 0, 0}, {10000, 0, 0}, {0, 0, 0}})
	if err != nil {
		t.Fatal(err)
	}
	// Each of the two is about as likely to be it, and the third is not.
	if table := m.Table(); math.Abs(table[0][0]-table[1][0]) > 1e-9 || table[0][0] < 0.45 || table[2][0] > 0.1 {
		t.Errorf("table %v", table)
	}
}

func TestBadTablesAreRefused(t *testing.T) {
	for name, c := range map[string]struct {
		table [][]int
		code  string
	}{
		"one code":          {[][]int{{0}}, CodeShape},
		"ragged":            {[][]int{{0, 0}, {0}}, CodeShape},
		"eleven":            {make([][]int, 11), CodeShape},
		"negative":          {[][]int{{-1, 0}, {0, 0}}, CodeShare},
		"over the whole":    {[][]int{{6000, 5000}, {0, 0}}, CodeOverWhole},
		"less, none left":   {[][]int{{6000, 3000}, {0, 0}}, CodeOverWhole},
		"over ten thousand": {[][]int{{10001, 0}, {0, 0}}, CodeShare},
	} {
		var e *MatchingError
		if _, err := NewMatching(c.table); !errors.As(err, &e) || e.Code != c.code {
			t.Errorf("%s: %v, want %s", name, err, c.code)
		}
	}
}
