package score

import (
	"testing"

	"hushcup/pwa/core/atlas"
	"hushcup/pwa/core/guess"
)

func BenchmarkScore(b *testing.B) {
	p := atlas.Builtin().Prior()
	j := project(b, p, guess.Belief{{Node: "origin/africa/ethiopia", Share: 6600}, {Node: "process/natural", Share: 6100}})
	for b.Loop() {
		Score(everything(), p.Joint(), j, guji)
	}
}
