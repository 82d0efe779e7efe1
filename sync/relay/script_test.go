package relay_test

import (
	"strings"
	"testing"

	"hushcup/sync/scenariotest"
)

// Scenarios are files of commands, one a line. Below each stands, indented, every frame that a server sent because of it, to
// whom, and nothing else. The verbs stand in world_test.go and acts_test.go.
func TestScenarios(t *testing.T) {
	scenariotest.Play(t, func(t *testing.T, text string) string {
		w := newWorld(t)
		var got strings.Builder
		for line := range strings.SplitSeq(strings.TrimRight(text, "\n"), "\n") {
			switch {
			case strings.HasPrefix(line, "  "): // what was expected
			case line == "" || strings.HasPrefix(line, "#"):
				got.WriteString(line + "\n")
			default:
				got.WriteString(line + "\n" + w.run(line))
			}
		}
		return got.String()
	})
}
