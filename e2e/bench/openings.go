package main

import (
	"fmt"
	"slices"
)

const (
	fewBrews   = 5
	openRounds = 15
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
	for range openRounds {
		var round opening
		if round.full, err = onePair(full); err == nil {
			round.few, err = onePair(few)
		}
		if err != nil {
			return nil, err
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

// openFigure is the median of what the rounds say, each in itself. Between the
// fourth and the twelfth of fifteen lies the true one in 96 of 100 such runs.
func openFigure(name string, rounds []opening, of func(pair) float64, note string) figure {
	var ratios, full, few []float64
	for _, round := range rounds {
		ratios = append(ratios, of(round.full)/of(round.few))
		full, few = append(full, of(round.full)), append(few, of(round.few))
	}
	for _, list := range [][]float64{ratios, full, few} {
		slices.Sort(list)
	}
	const low, middle, high = 3, openRounds / 2, openRounds - 4
	return figure{
		name: name, measured: fmt.Sprintf("%.2f", ratios[middle]), budget: fmt.Sprintf("<= %.2f", openBudget), within: ratios[middle] <= openBudget,
		note: fmt.Sprintf("%.2f to %.2f; %s; medians %.0f and %.0f ms of %d", ratios[low], ratios[high], note, full[middle], few[middle], openRounds),
	}
}
