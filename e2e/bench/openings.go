package main

import (
	"fmt"
	"math"
	"slices"
)

const (
	fewBrews   = 5
	openRounds = 24
	openBudget = 1.05 // at a start of a quarter of a second less than a frame of the screen
)

// openings compare an installed start to the Bench with a full notebook against
// one with five brews, one after the other so that a busy machine meets both.
func openings() ([]figure, error) {
	full, err := installed()
	if err != nil {
		return nil, err
	}
	few, err := installWith(fewBrews)
	if err != nil {
		return nil, err
	}
	defer few.remove()
	var rounds []opening
	for i := range openRounds {
		var round opening
		for _, first := range []bool{i%2 == 0, i%2 != 0} { // each is as often the first
			if first {
				round.full, err = onePair(full)
			} else {
				round.few, err = onePair(few)
			}
			if err != nil {
				return nil, err
			}
		}
		rounds = append(rounds, round)
	}
	return []figure{
		openFigure("the Bench opens, 5,000 brews / five", rounds, pair.paintedPlain, "as it was last seen, nothing throttled"),
		openFigure("with the page throttled", rounds, pair.painted, "what throttles it takes one of two processors from the worker"),
		openFigure("the core makes it, 5,000 brews / five", rounds, pair.made, "anew, page throttled, core x4"),
	}, nil
}

// opening is one start with each notebook.
type opening struct{ full, few pair }

func onePair(device *installation) (both pair, err error) {
	if both.plain, err = oneStart(device, 1); err == nil {
		both.slow, err = oneStart(device, slowness)
	}
	return both, err
}

// openFigure is by which factor the rounds, each in itself, differ: the estimate
// of Hodges and Lehmann (Ann. Math. Statist. 34, 1963), and the limits between
// which it lies in 90 of 100 such runs, by Wilcoxon's signed ranks.
func openFigure(name string, rounds []opening, of func(pair) float64, note string) figure {
	var full, few, means []float64
	for i, a := range rounds {
		full, few = append(full, of(a.full)), append(few, of(a.few))
		for _, b := range rounds[i:] {
			means = append(means, math.Sqrt(of(a.full)/of(a.few)*of(b.full)/of(b.few)))
		}
	}
	for _, list := range [][]float64{means, full, few} {
		slices.Sort(list)
	}
	n := float64(len(rounds))
	low := int(n*(n+1)/4 - 1.645*math.Sqrt(n*(n+1)*(2*n+1)/24))
	middle := means[len(means)/2]
	return figure{
		name: name, measured: fmt.Sprintf("%.2f", middle), budget: fmt.Sprintf("<= %.2f", openBudget), within: middle <= openBudget,
		note: fmt.Sprintf("%.2f to %.2f; %s; medians %.0f and %.0f ms of %d", means[low], means[len(means)-1-low], note, full[len(full)/2], few[len(few)/2], len(rounds)),
	}
}
