package exact

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestLog2AgainstPublishedDigits(t *testing.T) {
	// Binary logarithms of small whole numbers: OEIS A020857 (3), A020858 (5),
	// A020860 (7), A020862 (11), to sixteen digits.
	for x, want := range map[float64]float64{
		1: 0, 2: 1, 0.25: -2, 1024: 10,
		3: 1.584962500721156, 5: 2.321928094887362, 7: 2.807354922057604, 11: 3.459431618637297,
	} {
		if got := Log2(x); math.Abs(got-want) > 1e-15*math.Max(1, math.Abs(want)) {
			t.Errorf("Log2(%v) = %.17g, want %.17g", x, got, want)
		}
	}
}

func TestLog2AgainstTheStandardLibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(1e-300, 1e300).Draw(t, "x")
		want := math.Log2(x)
		if got := Log2(x); math.Abs(got-want) > 1e-15*math.Max(1, math.Abs(want)) {
			t.Fatalf("Log2(%v) = %.17g, want %.17g", x, got, want)
		}
	})
}

func TestExp2AgainstTheStandardLibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-1000, 1000).Draw(t, "x")
		want := math.Exp2(x)
		if got := Exp2(x); math.Abs(got-want) > 1e-15*want {
			t.Fatalf("Exp2(%v) = %.17g, want %.17g", x, got, want)
		}
	})
}

func TestEdges(t *testing.T) {
	if !math.IsInf(Log2(0), -1) || !math.IsNaN(Log2(-1)) || !math.IsInf(Log2(math.Inf(1)), 1) || !math.IsNaN(Log2(math.NaN())) {
		t.Error("Log2 at its edges")
	}
	if Exp2(2000) != math.Inf(1) || Exp2(-2000) != 0 || !math.IsNaN(Exp2(math.NaN())) || Exp2(0) != 1 {
		t.Error("Exp2 at its edges")
	}
	if Pow(0, 0) != 1 || Pow(0, 2) != 0 || Pow(3, 1) != 3 || math.Abs(Pow(2, 0.5)-math.Sqrt2) > 1e-15 {
		t.Error("Pow at its edges")
	}
	for x, want := range map[float64]int{0: 0, 0.5: 1, -0.5: 0, -0.51: -1, 2.49: 2} {
		if got := Round(x); got != want {
			t.Errorf("Round(%v) = %d, want %d", x, got, want)
		}
	}
}
