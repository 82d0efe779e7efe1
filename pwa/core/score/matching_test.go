package score

import (
	"math"
	"testing"

	"hushcup/pwa/core/exact"
	"hushcup/pwa/core/guess"

	"pgregory.net/rapid"
)

func matching(t failer, said [][]int) *guess.Matching {
	t.Helper()
	m, err := guess.NewMatching(said)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func TestMatchingNothingIsZero(t *testing.T) {
	m := matching(t, [][]int{{0, 0, 0, 0}, {0, 0, 0, 0}, {0, 0, 0, 0}, {0, 0, 0, 0}})
	r, ok := Matching(m, []int{2, 0, 3, 1})
	if !ok || r.Total != 0 || r.Right != 0 {
		t.Errorf("%+v", r)
	}
}

// TestKnowingOneOfTwoIsPaidOnce: two coffees, two codes: there is one bit.
func TestKnowingOneOfTwoIsPaidOnce(t *testing.T) {
	m := matching(t, [][]int{{10000, 0}, {0, 10000}})
	r, ok := Matching(m, []int{0, 1})
	if !ok || r.Total > 1000 || r.Total < 950 || r.Steps[1] != 0 || r.Right != 2 {
		t.Errorf("%+v", r)
	}
	wrong, _ := Matching(m, []int{1, 0})
	if wrong.Total > -4000 || wrong.Right != 0 {
		t.Errorf("%+v", wrong)
	}
}

func TestMatchingAddsUpToTheWholeAssignment(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, truth := drawMatching(t, 4), rapid.Permutation([]int{0, 1, 2, 3}).Draw(t, "truth")
		r, ok := Matching(m, truth)
		if !ok {
			t.Fatal("not scored")
		}
		want := 1000 * exact.Log2(0.98*m.Of(truth)*24+0.02)
		if math.Abs(float64(r.Total)-want) > 2.001 {
			t.Fatalf("%d, want %v", r.Total, want)
		}
	})
}

func drawMatching(t *rapid.T, n int) *guess.Matching {
	table := make([][]int, n)
	for i := range table {
		table[i] = make([]int, n)
		left := 10000
		for j := range n - 1 {
			table[i][j] = rapid.IntRange(0, left).Draw(t, "share")
			left -= table[i][j]
		}
	}
	return matching(t, table)
}

// TestHonestyPaysInMatching counts out the expectation over all assignments.
func TestHonestyPaysInMatching(t *testing.T) {
	all := [][]int{{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}}
	rapid.Check(t, func(t *rapid.T) {
		honest, other := drawMatching(t, 3), drawMatching(t, 3)
		var best, rival float64
		for _, truth := range all {
			weight := guess.Soften(honest.Of(truth), 1.0/6)
			h, _ := Matching(honest, truth)
			o, _ := Matching(other, truth)
			best += weight * float64(h.Total)
			rival += weight * float64(o.Total)
		}
		if rival > best+3 { // thousandths, for rounding
			t.Fatalf("honesty expects %v, another belief %v", best, rival)
		}
	})
}

func TestTruthThatIsNoAssignmentIsNotScored(t *testing.T) {
	m := matching(t, [][]int{{0, 0}, {0, 0}})
	for _, truth := range [][]int{nil, {0}, {0, 0}, {0, 2}, {0, 1, 2}} {
		if _, ok := Matching(m, truth); ok {
			t.Errorf("%v is scored", truth)
		}
	}
}
