package score

import (
	"flag"
	"os"
	"strconv"
	"strings"
	"testing"

	"hushcup/pwa/core/atlas"
	"hushcup/pwa/core/guess"
)

var rewrite = flag.Bool("rewrite", false, "rewrite testdata from what comes out; read the diff before committing it")

// TestScoresAreTheSameEverywhere scores the evening of testdata/evening.txt: who
// said what, and below it the steps. Whoever runs the tests on another
// processor compares with the one on which it was written, to the thousandth
// of a bit and to the ten-thousandth of a belief.
func TestScoresAreTheSameEverywhere(t *testing.T) {
	const file = "testdata/evening.txt"
	script, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	var e evening
	for line := range strings.Lines(string(script)) {
		line = strings.TrimSpace(line)
		if strings.HasPrefix(line, "=") {
			continue
		}
		out.WriteString(line + "\n")
		out.WriteString(e.run(t, line))
	}
	if *rewrite {
		if err := os.WriteFile(file, []byte(out.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if out.String() != string(script) {
		t.Errorf("scores differ from %s:\n%s", file, out.String())
	}
}

// An evening is what the script has declared so far.
type evening struct {
	prior   *atlas.Prior
	truth   Truth
	beliefs []*atlas.Joint
}

func (e *evening) run(t *testing.T, line string) string {
	words := strings.Fields(line)
	if len(words) == 0 || words[0] == "#" {
		return ""
	}
	switch words[0] {
	case "flight":
		*e = evening{prior: atlas.Builtin().Prior()}
		for _, node := range words[1:] {
			var err error
			if e.prior, err = e.prior.Narrow(atlas.NodeID(node)); err != nil {
				t.Fatal(err)
			}
		}
	case "truth":
		e.truth, e.beliefs = nil, nil
		for _, node := range words[1:] {
			e.truth = append(e.truth, fact(atlas.NodeID(node)))
		}
	case "pool":
		return told(Score(everything(), e.prior.Joint(), Linear(e.beliefs), e.truth)) +
			told(Score(everything(), e.prior.Joint(), Logarithmic(e.prior.Joint(), e.beliefs), e.truth))
	default:
		return e.says(t, words[1:])
	}
	return ""
}

// says scores pairs of a node and a mass in ten-thousandths.
func (e *evening) says(t *testing.T, words []string) string {
	var b guess.Belief
	for i := 0; i+1 < len(words); i += 2 {
		share, err := strconv.Atoi(words[i+1])
		if err != nil {
			t.Fatal(err)
		}
		b = append(b, guess.Mass{Node: atlas.NodeID(words[i]), Share: share})
	}
	j := project(t, e.prior, b)
	e.beliefs = append(e.beliefs, j)
	r := Score(everything(), e.prior.Joint(), j, e.truth)
	out := told(r)
	if regret, ok := Costliest(everything(), e.prior, b, e.truth, r); ok {
		out += "= costliest " + regret.Step.Level + " " + string(regret.Node) + " said " + strconv.Itoa(regret.Said) +
			", " + strconv.Itoa(regret.Instead) + " would have been " + strconv.Itoa(int(regret.Bits)) + "\n"
	}
	return out
}

func told(r Result) string {
	out := "= total " + strconv.Itoa(int(r.Total)) + "\n"
	for _, s := range r.InTellingOrder() {
		out += "= " + s.Level + " before " + strconv.Itoa(s.Before) + " gave " + strconv.Itoa(s.Gave) + " bits " + strconv.Itoa(int(s.Bits)) + "\n"
	}
	return out
}
