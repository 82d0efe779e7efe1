package club_test

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var rewrite = flag.Bool("rewrite", false, "write what the scenarios give into their files; read the diff before committing it")

// Scenarios are files of commands, one a line, each with its expected result below a line of dashes:
//
//	# what this shows
//	vega create devices=vega,vega.code
//	----
//	1: taken
//
// A block may hold several commands; blocks are separated by empty lines. The verbs stand in acts_test.go and show_test.go.
func TestCLUB43_Scenarios(t *testing.T) {
	files, err := filepath.Glob("testdata/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no scenarios: %v", err)
	}
	produced := map[string]bool{}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txt"), func(t *testing.T) {
			play(t, file, produced)
		})
	}
	if t.Failed() {
		return
	}
	everyRuleIsProduced(t, produced)
}

// play runs one scenario in a world of its own.
func play(t *testing.T, file string, produced map[string]bool) {
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	w := newWorld(t)
	var got strings.Builder
	for i, block := range strings.Split(strings.TrimSpace(string(text)), "\n\n") {
		if i > 0 {
			got.WriteString("\n")
		}
		commands, _, _ := strings.Cut(block, "\n----")
		got.WriteString(commands + "\n")
		if onlyComments(commands) {
			continue
		}
		got.WriteString("----\n" + w.runAll(commands))
	}
	for code := range w.produced {
		produced[code] = true
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

func onlyComments(block string) bool {
	for _, line := range strings.Split(block, "\n") {
		if !strings.HasPrefix(line, "#") {
			return false
		}
	}
	return true
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
