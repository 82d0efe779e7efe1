// Package scenariotest plays scenarios: files under testdata in which what is done stands above what it gives.
package scenariotest

import (
	"flag"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// Rewrite is the flag that has what is kept under testdata written anew.
var Rewrite = flag.Bool("rewrite", false, "write what the scenarios give into their files; read the diff before committing it")

// Play plays every scenario of a package: play is told what stands in a file, and gives what should.
func Play(t *testing.T, play func(t *testing.T, text string) string) {
	files, err := filepath.Glob("testdata/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no scenarios: %v", err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txt"), func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			got := play(t, string(text))
			switch {
			case *Rewrite:
				if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			case got != string(text):
				t.Errorf("%s gives otherwise than it says; first difference:\n%s", file, Difference(strings.Split(string(text), "\n"), strings.Split(got, "\n")))
			}
		})
	}
}

// Blocks are scenarios of blocks of commands, parted by empty lines, each with what it gives below a line of dashes. A block
// of comments gives nothing.
func Blocks(text string, run func(commands string) string) string {
	var all []string
	for _, block := range strings.Split(strings.TrimSpace(text), "\n\n") {
		commands, _, _ := strings.Cut(block, "\n----")
		if slices.ContainsFunc(strings.Split(commands, "\n"), func(line string) bool { return !strings.HasPrefix(line, "#") }) {
			commands = strings.TrimRight(commands+"\n----\n"+run(commands), "\n")
		}
		all = append(all, commands)
	}
	return strings.Join(all, "\n\n") + "\n"
}

// Difference shows where two texts part.
func Difference(want, got []string) string {
	i := 0
	for i < len(want) && i < len(got) && want[i] == got[i] {
		i++
	}
	around := func(lines []string) string {
		return strings.Join(lines[min(max(0, i-4), len(lines)):min(i+3, len(lines))], "\n  ")
	}
	return "want\n  " + around(want) + "\ngot\n  " + around(got)
}
