package cup

// A Sight is something that dry beans show to the eye.
type Sight struct {
	ID      string
	Choices []string // ids, from one end to the other where there are ends
	Several bool     // more than one may be chosen
}

// Sights returns what to look for in dry beans. What they may point to is said
// by what a club's own cups have shown, not here.
func Sights() []Sight {
	return []Sight{
		{ID: "size", Choices: []string{"small", "medium", "large", "very-large"}},
		{ID: "shape", Choices: []string{"round", "oval", "long", "peaberry", "split-ends"}, Several: true},
		{ID: "evenness", Choices: []string{"even", "mostly-even", "mixed"}},
		{ID: "colour", Choices: []string{"very-light", "light", "moderately-light", "light-medium", "medium", "moderately-dark", "dark", "very-dark"}},
		{ID: "surface", Choices: []string{"dry", "dull", "a-few-oil-spots", "oily"}},
		{ID: "silverskin", Choices: []string{"pale", "brown", "none"}},
		{ID: "quakers", Choices: []string{"none", "a-few", "many"}},
		{ID: "faults", Choices: []string{"broken", "insect-holes", "black", "shells", "scorched", "foreign"}, Several: true},
	}
}

// A Screen is a sieve by its number, in 64ths of an inch.
type Screen int

// Millimetres returns the diameter of a screen's holes, of numbers 8 to 20.
func (s Screen) Millimetres() (float64, bool) {
	if s < 8 || s > 20 {
		return 0, false
	}
	return float64(s) * 25.4 / 64, true
}
