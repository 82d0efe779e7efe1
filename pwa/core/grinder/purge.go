package grinder

import (
	"math"
	"sort"
)

// A Lot is what matters of a coffee to a grinder.
type Lot struct {
	ID        string
	Infused   bool // flavoured, infused or fermented with something added
	Allergens bool // with any declared allergen
}

// rank is the place in the order of grinding.
func (l Lot) rank() int {
	switch {
	case l.Allergens:
		return 2
	case l.Infused:
		return 1
	}
	return 0
}

// Order returns the lots as they are best ground: plain ones first, infused ones
// last, those with declared allergens at the very end; else as given.
func Order(lots []Lot) []Lot {
	out := append([]Lot(nil), lots...)
	sort.SliceStable(out, func(i, j int) bool { return out[i].rank() < out[j].rank() })
	return out
}

// An Advice is what to grind away before the next coffee, and why.
type Advice struct {
	Grams   float64  // of the next coffee, ground and thrown away
	Reasons []Reason // in the order in which they are told
}

// Codes of reasons for grinding away; they never change.
const (
	ReasonSameCoffee    = "same-coffee"      // nothing to grind away
	ReasonFirst         = "first-coffee"     // it is not known what was ground before
	ReasonChanged       = "coffee-changed"   // about N grams stay in the grinder
	ReasonLittle        = "stays-little"     // so little stays (N grams) that nothing need be ground away
	ReasonGuessed       = "stays-estimated"  // what stays was not measured; N grams are assumed
	ReasonAfterInfused  = "after-infused"    // the last coffee was infused: N times as much care
	ReasonAfterAllergen = "after-allergen"   // grinding away does not make it safe: clean the grinder
	ReasonLast          = "grind-last"       // the next coffee is infused or declares allergens: leave it for last
	ReasonAllergen      = "allergen-grinder" // from now on this grinder carries traces
)

const (
	usualStay    = 1.0   // grams that stay in a grinder nobody measured; our own estimate
	plainShare   = 0.01  // most of a dose that may be the last coffee
	infusedShare = 0.001 // the same after an infused one, tasted at less, and after allergens
)

// Purge advises what to grind away before a dose of the next coffee. What stays in
// the grinder is measured by weighing a dose in and out; 0 for not measured. Last
// is nil when it is not known.
func Purge(stays, dose float64, last *Lot, next Lot) (Advice, error) {
	if !(stays >= 0 && stays <= 100) {
		return Advice{}, badNumber("stays", stays)
	}
	if !(dose > 0 && dose <= 5000) {
		return Advice{}, badNumber("dose", dose)
	}
	var out Advice
	if last == nil || last.ID != next.ID {
		out = purge(stays, dose, last)
	} else {
		out.Reasons = []Reason{{ReasonSameCoffee, 0}}
	}
	if next.rank() > 0 {
		out.Reasons = append(out.Reasons, Reason{ReasonLast, 0})
	}
	if next.Allergens {
		out.Reasons = append(out.Reasons, Reason{ReasonAllergen, 0})
	}
	return out, nil
}

func purge(stays, dose float64, last *Lot) (out Advice) {
	say := func(code string, n float64) { out.Reasons = append(out.Reasons, Reason{code, n}) }
	share := plainShare
	switch {
	case last == nil:
		say(ReasonFirst, 0)
	case last.Allergens:
		say(ReasonAfterAllergen, 0)
	}
	if last != nil && last.rank() > 0 {
		share = infusedShare
	}
	if last != nil && last.Infused {
		say(ReasonAfterInfused, plainShare/infusedShare)
	}
	if stays == 0 {
		stays = usualStay
		say(ReasonGuessed, stays)
	}
	// stays exp(-p/stays) <= share dose
	out.Grams = math.Max(0, stays*math.Log(stays/(share*dose)))
	if out.Grams == 0 {
		say(ReasonLittle, stays)
	} else {
		say(ReasonChanged, stays)
	}
	return out
}
