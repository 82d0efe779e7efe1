package code

import (
	"errors"
	"io"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// seeded is repeatable randomness.
func seeded(seed byte) io.Reader { return rand.NewChaCha8([32]byte{seed}) }

func TestTellTaleCodesAreOut(t *testing.T) {
	for _, c := range []Code{0, 7, 99, 100, 111, 112, 121, 211, 123, 321, 135, 159, 951, 420 - 210, 246, 753, 963, 999, 1000, 1234} {
		if c.Valid() {
			t.Errorf("%d is allowed", c)
		}
	}
	for _, c := range []Code{417, 102, 987 - 5, 305, 890} {
		if !c.Valid() {
			t.Errorf("%d is not allowed", c)
		}
	}
}

func TestAFlightsCodesAreApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		random := seeded(rapid.Byte().Draw(t, "seed"))
		first, err := Deal(random, rapid.IntRange(0, 20).Draw(t, "first"), nil)
		if err != nil {
			t.Fatal(err)
		}
		more, err := Deal(random, rapid.IntRange(0, 20).Draw(t, "more"), first)
		if err != nil {
			t.Fatal(err)
		}
		all := append(slices.Clone(first), more...)
		for i, c := range all {
			if !c.Valid() {
				t.Fatalf("%d is dealt", c)
			}
			for _, other := range all[:i] {
				if c.Confusable(other) {
					t.Fatalf("%d and %d in one flight", c, other)
				}
			}
		}
	})
}

func TestAFlightRunsOut(t *testing.T) {
	random := seeded(1)
	// 120 sets of three digits; 0 1 2 to 7 8 9 and the like lose only orders,
	// so each set can be dealt once.
	all, err := Deal(random, 120, nil)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Draw(random, all); !errors.Is(err, ErrNoneLeft) {
		t.Errorf("a 121st code: %v", err)
	}
	if _, err := Draw(strings.NewReader("x"), nil); err == nil {
		t.Error("a code without randomness")
	}
}

// TestAllCodesAreEquallyLikely is Pearson's chi-squared test against its normal
// approximation (Wilson and Hilferty 1931), with a fixed seed.
func TestAllCodesAreEquallyLikely(t *testing.T) {
	random := seeded(2)
	left := free(nil)
	seen := map[Code]int{}
	const each = 60
	for range each * len(left) {
		c, err := Draw(random, nil)
		if err != nil {
			t.Fatal(err)
		}
		seen[c]++
	}
	squares := 0.0
	for _, c := range left {
		off := float64(seen[c] - each)
		squares += off * off / each
	}
	freedom := float64(len(left) - 1)
	z := (math.Cbrt(squares/freedom) - (1 - 2/(9*freedom))) / math.Sqrt(2/(9*freedom))
	if math.Abs(z) > 4 {
		t.Errorf("chi-squared %v at %v degrees of freedom, %v deviations off", squares, freedom, z)
	}
}

func TestShuffleKeepsTheSet(t *testing.T) {
	codes := []Code{417, 820, 563, 139 + 1}
	positions := map[Code]map[int]int{}
	random := seeded(3)
	for range 4000 {
		out, err := Shuffle(random, codes)
		if err != nil {
			t.Fatal(err)
		}
		for i, c := range out {
			if positions[c] == nil {
				positions[c] = map[int]int{}
			}
			positions[c][i]++
		}
	}
	for _, c := range codes {
		for i := range codes {
			if n := positions[c][i]; n < 850 || n > 1150 {
				t.Errorf("%d stands %d times at %d, not about 1,000", c, n, i)
			}
		}
	}
}

func TestParseAndSpeak(t *testing.T) {
	for _, text := range []string{"417", "4 1 7", "4-1-7"} {
		if c, err := Parse(text); err != nil || c != 417 {
			t.Errorf("%q: %v, %v", text, c, err)
		}
	}
	for _, text := range []string{"", "41", "4170", "0417", "111", "abc", "123", "４１７", "4.17"} {
		if c, err := Parse(text); err == nil {
			t.Errorf("%q is %v", text, c)
		} else if !strings.Contains(err.Error(), "blind code") {
			t.Error(err)
		}
	}
	if Code(417).Spoken() != "4 1 7" || Code(417).String() != "417" || Code(305).Spoken() != "3 0 5" {
		t.Error("a code is not spoken digit by digit")
	}
}
