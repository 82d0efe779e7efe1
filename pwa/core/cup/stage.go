package cup

// A Stage is one look, smell or sip.
type Stage string

// Stages, in the order in which a coffee passes them.
const (
	Beans     Stage = "beans"     // dry beans, by eye
	Fragrance Stage = "fragrance" // dry grounds, smelled
	Aroma     Stage = "aroma"     // wet grounds, smelled
	Hot       Stage = "hot"       // the first sips, at about 65 °C
	Warm      Stage = "warm"      // at about 55 to 45 °C
	Cool      Stage = "cool"      // at room temperature
)

// Stages returns all stages in order.
func Stages() []Stage { return []Stage{Beans, Fragrance, Aroma, Hot, Warm, Cool} }

// Tasted reports whether the stage is of the cup, not of beans or grounds.
func (s Stage) Tasted() bool { return s == Hot || s == Warm || s == Cool }

// Valid reports whether there is such a stage.
func (s Stage) Valid() bool {
	for _, known := range Stages() {
		if s == known {
			return true
		}
	}
	return false
}

// A Line is something whose amount is marked on a line from nothing to very
// much.
type Line string

// Lines.
const (
	Strength   Line = "strength"   // of the smell, in the stages that are smelled
	Acidity    Line = "acidity"    // tasted
	Sweetness  Line = "sweetness"  // tasted
	Bitterness Line = "bitterness" // tasted
	Body       Line = "body"       // felt
	Drying     Line = "drying"     // felt: astringency
	Finish     Line = "finish"     // how long it stays
)

// Lines returns the lines of a stage, in the order in which they are asked.
func (s Stage) Lines() []Line {
	switch {
	case s == Fragrance || s == Aroma:
		return []Line{Strength}
	case s.Tasted():
		return []Line{Acidity, Sweetness, Bitterness, Body, Drying, Finish}
	}
	return nil
}

// A Mark is a place on a line, in thousandths of its length, or Untouched.
type Mark int16

// Untouched lines say nothing: neither nothing nor the middle.
const Untouched Mark = -1

// MostMark is the far end of a line.
const MostMark Mark = 1000

// Valid reports whether the mark lies on the line or is untouched.
func (m Mark) Valid() bool { return m >= Untouched && m <= MostMark }
