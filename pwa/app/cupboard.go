package app

import (
	"sort"
	"strings"

	"hushcup/pwa/core/brewing"
	"hushcup/pwa/core/rationing"
)

func (a *App) lookCupboard(Nothing) (CupboardView, *Error) {
	if !a.index.whole(a) { // which says how often everything was used
		return CupboardView{}, nil
	}
	v := CupboardView{
		Coffees: a.coffees(), Brewers: a.brewers(), Waters: a.waters(), Concentrates: a.concentrates(), Recipes: a.recipes(),
		Home: a.home(), Boiling: a.boiling(),
	}
	eachItem(a, "grinder", func(id string, away bool, g Grinder) {
		g.ID = id
		v.Grinders = append(v.Grinders, GrinderItem{Grinder: g, Kept: a.kept("grinder", id, away)})
	})
	eachItem(a, "instrument", func(id string, away bool, i Instrument) {
		i.ID = id
		v.Instruments = append(v.Instruments, InstrumentItem{Instrument: i, Kept: a.kept("instrument", id, away)})
	})
	byName(v.Grinders, func(g GrinderItem) (Kept, string) { return g.Kept, g.Grinder.Name })
	byName(v.Instruments, func(i InstrumentItem) (Kept, string) { return i.Kept, i.Instrument.Name })
	return v, nil
}

func (a *App) kept(what, id string, away bool) Kept {
	brews, last, _ := a.index.used(a, what, id)
	return Kept{Away: away, Brews: brews, Last: last}
}

// byName sorts items, those that were put away last.
func byName[T any](items []T, of func(T) (Kept, string)) {
	sort.SliceStable(items, func(i, j int) bool {
		first, firstName := of(items[i])
		second, secondName := of(items[j])
		if first.Away != second.Away {
			return second.Away
		}
		return strings.ToLower(firstName) < strings.ToLower(secondName)
	})
}

func (a *App) coffees() (out []CoffeeItem) {
	eachItem(a, "coffee", func(id string, away bool, c Coffee) {
		c.ID = id
		item := CoffeeItem{Coffee: c, Kept: a.kept("coffee", id, away), Left: a.coffeeLeft(&c), Rest: a.rest(&c)}
		out = append(out, item)
	})
	byName(out, func(c CoffeeItem) (Kept, string) { return c.Kept, c.Coffee.Name })
	return out
}

// coffeeLeft is what brews have left in a bag; 0 also when nobody knows what was in it.
func (a *App) coffeeLeft(c *Coffee) float64 {
	if c.Grams == 0 {
		return 0
	}
	_, _, grams := a.index.used(a, "coffee", c.ID)
	return max(tenths(c.Grams-grams), 0)
}

func tenths(x float64) float64 { return rounded(x, 1) }

// rest is the days since roasting that count, -1 when they are not known.
func (a *App) rest(c *Coffee) float64 {
	roasted, known := dayNumber(c.Roasted)
	if !known {
		return -1
	}
	fresh := rationing.Fresh{Roasted: roasted}
	fresh.Frozen, _ = dayNumber(c.Frozen)
	fresh.Thawed, _ = dayNumber(c.Thawed)
	days, ok := fresh.Days(int(a.now / day))
	if !ok {
		return -1
	}
	return days
}

func (a *App) brewers() (out []BrewerItem) {
	eachItem(a, "brewer", func(id string, away bool, b Brewer) {
		b.ID = id
		item := BrewerItem{Brewer: b, Kept: a.kept("brewer", id, away)}
		item.Retained, item.Learned = a.retained(&b)
		out = append(out, item)
	})
	byName(out, func(b BrewerItem) (Kept, string) { return b.Kept, b.Brewer.Name })
	return out
}

// retained is the liquid that a brewer's grounds keep, in g/g: as its owner measured it, or learned from brews at hand.
func (a *App) retained(b *Brewer) (Interval, int) {
	start := b.Retained
	if start == 0 {
		start = brewing.Brewer(b.Geometry).Retained()
	}
	var brews []brewing.Measured
	var scratch entry
	for _, page := range a.index.pages {
		for _, l := range page {
			f := &l.head(&scratch).Facts
			if b.ID != "" && f.Brewer == b.ID && f.Counts && f.Beverage > 0 && f.Water > 0 && f.Dose > 0 {
				brews = append(brews, brewing.Measured{Dose: brewing.Grams(f.Dose), Water: brewing.Grams(f.Water), Beverage: brewing.Grams(f.Beverage)})
			}
		}
	}
	value, uncertainty := brewing.LearnRetained(start, brews)
	return Interval{Value: value, Low: max(value-2*uncertainty, 0), High: value + 2*uncertainty}, len(brews)
}

// recipes are one's own, then the starting points.
func (a *App) recipes() (out []RecipeItem) {
	eachItem(a, "recipe", func(id string, away bool, r Recipe) {
		r.ID = id
		out = append(out, RecipeItem{Recipe: r, Kept: a.kept("recipe", id, away), Cautions: cautionWords(cautionsOf(r.Geometry))})
	})
	byName(out, func(r RecipeItem) (Kept, string) { return r.Kept, r.Recipe.Title })
	for _, c := range brewing.Recipes() {
		out = append(out, RecipeItem{Recipe: shownRecipe(c), Kept: a.kept("recipe", c.ID, false), Starting: true, Cautions: cautionWords(c.Cautions)})
	}
	return out
}
