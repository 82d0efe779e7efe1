package main

import (
	"bytes"
	"fmt"
	"math"
	"os/exec"
	"strconv"
	"strings"
)

const (
	heldAim  = 90.0 // of a hundred intervals
	heldSlip = 5.0
)

// response prints what the advice on the next change is worth, by seeded tasters whose optimum is planted and not told: how
// many brews they need to a recipe near agreement, against changing one variable in turn, and how often the intervals hold.
// The tasters live in the tests of core/response, so its benchmarks are run.
func response() ([]figure, error) {
	found, err := benchmarks("./pwa/core/response", "Guided|InTurn|Intervals")
	if err != nil {
		return nil, err
	}
	guided, turn, held := found["BenchmarkGuided"], found["BenchmarkInTurn"], found["BenchmarkIntervals"]
	if guided["brews"] == 0 || turn["brews"] == 0 || held["%-readings-held"] == 0 {
		return nil, fmt.Errorf("the benchmarks told %v", found)
	}
	near := func(name string) string {
		return fmt.Sprintf("%.0f %% / %.0f %%", guided[name], turn[name])
	}
	return []figure{
		{name: "brews to near agreement, advised", measured: fmt.Sprintf("%.1f", guided["brews"]),
			budget: fmt.Sprintf("< %.1f in turn", turn["brews"]), within: guided["brews"] < turn["brews"],
			note: "mean of 200 tasters, those who never get there counted as 21"},
		{name: "there within 5 brews, advised / in turn", measured: near("%-within-5")},
		{name: "there within 10 brews, advised / in turn", measured: near("%-within-10")},
		interval("90 % intervals of the next cup that held", held["%-readings-held"]),
		interval("90 % intervals of the true change that held", held["%-changes-held"]),
		{name: "advised changes that came nearer", measured: fmt.Sprintf("%.0f %%", held["%-came-nearer"]),
			budget: fmt.Sprintf(">= %.0f %% claimed", held["%-claimed"]), within: held["%-came-nearer"] >= held["%-claimed"]},
	}, nil
}

func interval(name string, held float64) figure {
	return figure{name: name, measured: fmt.Sprintf("%.0f %%", held), budget: fmt.Sprintf("%.0f %% ± %.0f", heldAim, heldSlip),
		within: math.Abs(held-heldAim) <= heldSlip}
}

// benchmarks runs benchmarks of a package once each and returns what they report, by their names and units.
func benchmarks(folder, which string) (map[string]map[string]float64, error) {
	var out, trouble bytes.Buffer
	cmd := exec.Command("go", "test", folder, "-run", "^$", "-bench", "^Benchmark("+which+")$", "-benchtime", "1x")
	cmd.Stdout, cmd.Stderr = &out, &trouble
	if err := cmd.Run(); err != nil {
		return nil, fmt.Errorf("go test -bench: %w: %s%s", err, out.String(), trouble.String())
	}
	found := map[string]map[string]float64{}
	for line := range strings.Lines(out.String()) {
		fields := strings.Fields(line)
		if len(fields) < 4 || !strings.HasPrefix(fields[0], "Benchmark") {
			continue
		}
		name, _, _ := strings.Cut(fields[0], "-")
		found[name] = map[string]float64{}
		for i := 2; i+1 < len(fields); i += 2 {
			if value, err := strconv.ParseFloat(fields[i], 64); err == nil {
				found[name][fields[i+1]] = value
			}
		}
	}
	return found, nil
}
