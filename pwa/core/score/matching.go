package score

import (
	"hushcup/pwa/core/exact"
	"hushcup/pwa/core/guess"
)

// A MatchingResult is the score of a matching flight.
type MatchingResult struct {
	// Steps are the bits of each code, in order, given the codes before it. The
	// last code follows from the others and is worth nothing.
	Steps []Bits
	// Given is the chance, in ten-thousandths, that the belief's table gives the
	// right coffee of each code.
	Given []int
	Total Bits
	// Right counts the codes whose right coffee was the likeliest of its row.
	Right int
}

// Matching scores a belief about which code is which coffee; truth names the
// coffee of each code. It is log2 P'(truth)/q(truth) over whole assignments,
// with q = 1/n! of chance, told code by code: knowing one of two codes is
// knowing both, and is paid once. It reports false when the truth is no
// assignment.
func Matching(m *guess.Matching, truth []int) (MatchingResult, bool) {
	if len(truth) != m.Len() || m.Of(truth) == 0 {
		return MatchingResult{}, false
	}
	var r MatchingResult
	known, chance := 1.0, 1.0
	for i, coffee := range truth {
		chance /= float64(len(truth) - i)
		next := guess.Soften(m.Of(truth[:i+1]), chance) / chance
		r.Steps = append(r.Steps, bitsOf(exact.Log2(next/known), 100))
		r.Total += r.Steps[i]
		known = next
		row := m.Table()[i]
		r.Given = append(r.Given, exact.Round(float64(row[coffee]*10000)))
		if best(row) == coffee {
			r.Right++
		}
	}
	return r, true
}

// best returns the index of the largest, the first of equal ones, -1 when all
// are equal to the first.
func best(row []float64) int {
	at, equal := 0, true
	for j, x := range row {
		equal = equal && x == row[0]
		if x > row[at] {
			at = j
		}
	}
	if equal {
		return -1
	}
	return at
}
