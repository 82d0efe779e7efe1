package water

import "math"

// Codes of what is wrong with a concentrate.
const (
	CodeUndissolved = "undissolved" // more of a salt than the water takes up
	CodeFallsOut    = "falls-out"   // calcium meets bicarbonate or sulphate and comes out as chalk or gypsum
)

// A Doubt is something that will not work in a bottle.
type Doubt struct {
	Code string
	Salt string // that it is about
	Most float64
}

// Doubts returns what will not stay dissolved: more of a salt than water takes up
// (Most is the grams that this volume takes), and calcium that falls out with what
// another salt brings. The product of solubility of gypsum, and that of chalk all
// the more, is exceeded as soon as both stand there in the strength of a
// concentrate, so no strength is asked for: they belong into two bottles.
func (c Concentrate) Doubts() []Doubt {
	var out []Doubt
	calcium, soluble := c.calcium()
	for _, s := range Salts() {
		grams := c.Grams[s.ID]
		if !(grams > 0) {
			continue
		}
		if most := s.Dissolves * c.Litres; grams > most {
			out = append(out, Doubt{CodeUndissolved, s.ID, most})
		}
		if calcium && s.PerGram.Bicarbonate > 0 || soluble && s.PerGram.Sulphate > 0 && s.PerGram.Calcium == 0 {
			out = append(out, Doubt{Code: CodeFallsOut, Salt: s.ID})
		}
	}
	return out
}

// calcium reports whether a salt brings calcium, and whether a well soluble one does.
func (c Concentrate) calcium() (some, soluble bool) {
	for _, s := range Salts() {
		if s.PerGram.Calcium > 0 && c.Grams[s.ID] > 0 {
			some, soluble = true, soluble || s.PerGram.Sulphate == 0
		}
	}
	return some, soluble
}

// fine is how far a weighed dose of a salt may be off, as a part of it.
const fine = 0.05

// Weighable reports whether a scale that shows a mass plus or minus a precision
// weighs this much well enough: within a twentieth.
func Weighable(grams, precision float64) bool { return precision <= fine*grams }

// A Dilution is a concentrate of one salt for a dose that is too small to weigh.
type Dilution struct {
	Grams, Litres       float64 // of the salt, in so much pure water
	MillilitresPerLitre float64 // of the concentrate, to the litre of the blend
}

// Dilute returns the smallest concentrate in a quarter of a litre that this scale
// can weigh, in steps of half a gram, and how much of it brings the wanted grams to
// the litre. False: the salt does not dissolve well enough to be kept that way.
func Dilute(s Salt, gramsPerLitre, precision float64) (Dilution, bool) {
	const litres = 0.25
	grams := math.Max(math.Ceil(precision/fine*2-1e-9)/2, 0.5)
	if !(gramsPerLitre > 0) || grams > s.Dissolves*litres {
		return Dilution{}, false
	}
	return Dilution{Grams: grams, Litres: litres, MillilitresPerLitre: gramsPerLitre / grams * litres * 1000}, true
}
