package club_test

import (
	"strings"
	"testing"

	"hushcup/sync/scenariotest"
)

// Scenarios are files of commands, one a line, each with its expected result below a line of dashes:
//
//	# what this shows
//	vega create devices=vega,vega.code
//	----
//	1: taken
//
// A block may hold several commands; blocks are separated by empty lines. The verbs stand in acts_test.go and show_test.go.
func TestCLUB43_Scenarios(t *testing.T) {
	produced := map[string]bool{}
	scenariotest.Play(t, func(t *testing.T, text string) string {
		w := newWorld(t)
		got := scenariotest.Blocks(text, w.runAll)
		for code := range w.produced {
			produced[code] = true
		}
		return got
	})
	if t.Failed() {
		return
	}
	everyRuleIsProduced(t, produced)
}

// runAll runs a block's commands and gives their results, line by line.
func (w *world) runAll(commands string) string {
	var out strings.Builder
	for _, line := range strings.Split(commands, "\n") {
		if !strings.HasPrefix(line, "#") {
			out.WriteString(strings.TrimRight(w.run(line), "\n") + "\n")
		}
	}
	return out.String()
}
