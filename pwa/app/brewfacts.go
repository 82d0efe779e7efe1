package app

import (
	"hash/fnv"
	"strconv"
	"strings"

	"hushcup/sync/oplog"
)

// facts are what can be learned from a brew, for the index.
func (content *brewContent) facts(sample oplog.SampleID, code int, words []string) brewFacts {
	s := content.Setup.setup()
	o := &content.Outcome
	f := brewFacts{
		Coffee: coffeeKey(&s), Brewer: brewerKey(&s), Grinder: grinderKey(&s), Geometry: s.Geometry, Recipe: plannedKey(&s),
		Grind: content.Kitchen.Grind, GrindSet: content.Kitchen.GrindSet, Dose: s.Dose, Water: s.Water, Kettle: s.Kettle,
		Stirs: content.strokes(), Seconds: content.drawdown(), Beverage: o.Beverage, TDS: o.TDS / 100, TDSOpen: content.open() / 100, Balance: o.Balance,
		Bowl: s.Method == "bowl", Counts: content.Counts && content.State == brewDone, Infused: content.Kitchen.Infused,
		Allergens: content.Kitchen.Allergens, Parent: content.Parent.Doc,
	}
	if sample != (oplog.SampleID{}) {
		f.Coffee = sample.String()
	}
	if y := content.yield(); y != nil {
		f.EY, f.EYLow, f.EYHigh = y.Value/100, y.Low/100, y.High/100
	}
	digits := ""
	if code != 0 {
		digits = decimal(code)
	}
	f.Text = searched(append([]string{digits, s.Coffee, s.Brewer, s.Grinder, s.Recipe, s.WaterName, s.Filter, s.Grind}, words...)...)
	return f
}

// strokes are the stirs and swirls as they were marked, or else as they were planned.
func (content *brewContent) strokes() (sum float64) {
	steps := content.Setup.Steps
	for i, m := range content.Marks {
		if m.Mark != "stir" && m.Mark != "swirl" {
			continue
		}
		times := 1
		if step := content.ofStep(i); step > 0 && step <= len(steps) {
			times = max(steps[step-1].Times, 1)
		}
		sum += float64(times)
	}
	if sum > 0 {
		return sum
	}
	for _, step := range steps {
		if step.Kind == "stir" || step.Kind == "swirl" {
			sum += float64(max(step.Times, 1))
		}
	}
	return sum
}

// plannedKey is equal for brews that were planned alike: all that is set up but the coffee.
func plannedKey(s *BrewSetup) string {
	var b strings.Builder
	number := func(x float64) { b.WriteString(strconv.FormatFloat(x, 'f', 1, 64)); b.WriteByte('|') }
	for _, word := range []string{s.Method, brewerKey(s), grinderKey(s), folded(s.Grind), folded(s.Filter), idOr(s.WaterID, s.WaterName)} {
		b.WriteString(word)
		b.WriteByte('|')
	}
	for _, x := range []float64{s.Dose, s.Water, s.Kettle, s.Scoops} {
		number(x)
	}
	for _, step := range s.Steps {
		b.WriteString(step.Kind)
		for _, x := range []float64{step.At, step.Until, 100 * step.Water, step.Dose, float64(step.Times)} {
			number(x)
		}
		b.WriteString(step.Pattern)
	}
	sum := fnv.New64a()
	sum.Write([]byte(b.String()))
	return strconv.FormatUint(sum.Sum64(), 36)
}

// items are what of the Cupboard a brew used.
func (content *brewContent) items() (out []oplog.DocID) {
	s := &content.Setup
	for _, text := range []string{s.CoffeeID, s.BrewerID, s.GrinderID, s.WaterID, s.RecipeID} {
		if text == "" {
			continue
		}
		out = append(out, itemDoc(text))
	}
	return out
}

// itemDoc is an item's document; a starting recipe, which has none, counts under one of its own.
func itemDoc(text string) oplog.DocID {
	if doc, err := itemID("item", text); err == nil {
		return doc
	}
	return derivedDoc("hushcup/1 starting recipe", []byte(text))
}

// mostSearched bounds what of a brew's words the search looks in: the longest notes that can be saved, and the names before them.
const mostSearched = 10_000

// searched are words as the search looks for them: folded, each with a space before it.
func searched(texts ...string) string {
	var b strings.Builder
	for _, text := range texts {
		for _, word := range strings.Fields(foldLetters(text)) {
			if b.Len()+len(word) >= mostSearched {
				return b.String()
			}
			b.WriteByte(' ')
			b.WriteString(word)
		}
	}
	return b.String()
}

// foldLetters makes letters small and takes the accents of Latin ones off, so that what a phone's keyboard makes hard to type
// is found; what is no letter and no digit parts words.
func foldLetters(text string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(text) {
		plain := plainLetter(r)
		switch {
		case plain != "":
			b.WriteString(plain)
		case strings.ContainsRune(".,;:!?()[]{}\"'/\\|+*=<>-–—«»“”„", r):
			b.WriteByte(' ')
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// plainLetter is what a Latin letter is without its accent, empty for all others.
func plainLetter(r rune) string {
	for at := 0; r >= 0x80 && at < len(accented); at += 2 {
		if strings.ContainsRune(accented[at+1], r) {
			return accented[at]
		}
	}
	return ""
}

var accented = [...]string{
	"a", "áàâäãåāăą", "c", "çćčĉċ", "d", "ďđð", "e", "éèêëēėęěĕ", "g", "ğĝġģ", "h", "ĥħ", "i", "íìîïīįĩĭı", "j", "ĵ", "k", "ķ", "l", "ĺľļł",
	"n", "ñńňņ", "o", "óòôöõōőŏø", "r", "ŕřŗ", "s", "śšşŝș", "t", "ťţțŧ", "u", "úùûüūůűųũŭ", "w", "ŵ", "y", "ýÿŷ", "z", "źžż",
	"ss", "ß", "ae", "æ", "oe", "œ", "th", "þ",
}
