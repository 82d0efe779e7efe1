package score

import (
	"crypto/sha256"
	"strconv"

	"hushcup/pwa/core/atlas"
	"hushcup/pwa/core/guess"
)

// Version is the version of the scoring rule. It rises when any score could
// come out differently.
const Version = 1

// Rules are what a flight may choose: the weight of each facet in hundredths,
// 0 for a question that is not asked.
type Rules struct {
	Weights [atlas.Facets]int
}

// mostWeight bounds a facet's weight.
const mostWeight = 1000

// Standard returns the rules of a flight that chose nothing: origin, process,
// variety and decaf count alike; altitude and roast are not asked.
func Standard() Rules {
	var r Rules
	for _, f := range []atlas.Facet{atlas.Origin, atlas.Process, atlas.Variety, atlas.Decaf} {
		r.Weights[f] = 100
	}
	return r
}

// Asking returns the rules with every one of the facets counting alike and no
// other.
func Asking(facets ...atlas.Facet) Rules {
	var r Rules
	for _, f := range facets {
		r.Weights[f] = 100
	}
	return r
}

// Asks reports whether a facet counts.
func (r Rules) Asks(f atlas.Facet) bool { return r.Weights[f] > 0 }

// A RulesError says which facet's weight cannot be.
type RulesError struct {
	Facet  atlas.Facet
	Weight int
}

func (e *RulesError) Error() string {
	return "weight of " + strconv.Quote(e.Facet.String()) + " is " + strconv.Itoa(e.Weight) + ", not 0 to " + strconv.Itoa(mostWeight)
}

// Check refuses weights outside 0 to 1,000 hundredths.
func (r Rules) Check() error {
	for f, w := range r.Weights {
		if w < 0 || w > mostWeight {
			return &RulesError{atlas.Facet(f), w}
		}
	}
	return nil
}

// Pin identifies the scoring rule and its weights; a flight pins it.
func (r Rules) Pin() [32]byte {
	text := "hushcup/1 scoring\nversion " + strconv.Itoa(Version) +
		"\ndoubt " + strconv.FormatFloat(guess.Doubt, 'f', 4, 64) + "\n"
	for f, w := range r.Weights {
		text += atlas.Facet(f).String() + " " + strconv.Itoa(w) + "\n"
	}
	return sha256.Sum256([]byte(text))
}
