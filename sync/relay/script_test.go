package relay_test

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var rewrite = flag.Bool("rewrite", false, "write what the scenarios give into their files; read the diff before committing it")

// Scenarios are files of commands, one a line. Below each stands, indented, every frame that a server sent because of it, to
// whom, and nothing else. The verbs stand in world_test.go and acts_test.go.
func TestScenarios(t *testing.T) {
	files, err := filepath.Glob("testdata/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no scenarios: %v", err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txt"), func(t *testing.T) { play(t, file) })
	}
}

func play(t *testing.T, file string) {
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	w := newWorld(t)
	var got strings.Builder
	for line := range strings.SplitSeq(strings.TrimRight(string(text), "\n"), "\n") {
		switch {
		case strings.HasPrefix(line, "  "): // what was expected
		case line == "" || strings.HasPrefix(line, "#"):
			got.WriteString(line + "\n")
		default:
			got.WriteString(line + "\n" + w.run(line))
		}
	}
	if *rewrite {
		if err := os.WriteFile(file, []byte(got.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if got.String() != string(text) {
		t.Errorf("%s gives otherwise than it says; first difference:\n%s", file, firstDifference(string(text), got.String()))
	}
}

func firstDifference(want, got string) string {
	wants, gots := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range wants {
		if i >= len(gots) || wants[i] != gots[i] {
			from := max(0, i-4)
			return "want\n  " + strings.Join(wants[from:min(i+3, len(wants))], "\n  ") +
				"\ngot\n  " + strings.Join(gots[min(from, len(gots)):min(i+3, len(gots))], "\n  ")
		}
	}
	return "more lines than expected:\n" + strings.Join(gots[len(wants):], "\n")
}
