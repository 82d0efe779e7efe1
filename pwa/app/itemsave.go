package app

import (
	"hushcup/pwa/core/brewing"
	"hushcup/pwa/core/grinder"
)

const mostItemName = 80

// named checks what every item has.
func named(name, note *string) *Error {
	return first(text("name", name, mostItemName, true), text("note", note, mostNote, false))
}

func (a *App) coffee(id string) (c Coffee, ok bool) {
	ok = open(a, "coffee", id, &c)
	c.ID = id
	return c, ok
}
func (a *App) brewer(id string) (b Brewer, ok bool) {
	ok = open(a, "brewer", id, &b)
	b.ID = id
	return b, ok
}
func (a *App) grinder(id string) (g Grinder, ok bool) {
	ok = open(a, "grinder", id, &g)
	g.ID = id
	return g, ok
}
func (a *App) water(id string) (w Water, ok bool) {
	ok = open(a, "water", id, &w)
	w.ID = id
	return w, ok
}
func (a *App) instrument(id string) (i Instrument, ok bool) {
	ok = open(a, "instrument", id, &i)
	i.ID = id
	return i, ok
}

func (a *App) concentrate(id string) (c Concentrate, ok bool) {
	ok = open(a, "concentrate", id, &c)
	c.ID = id
	return c, ok
}

func (c *Coffee) check() *Error {
	err := first(named(&c.Name, &c.Note), text("from", &c.From, 120, false), text("batch", &c.Batch, 60, false),
		within("grams", c.Grams, 0, 100_000), within("kept", c.Kept, 0, 100_000),
		calendarDay("roasted", c.Roasted), calendarDay("frozen", c.Frozen), calendarDay("thawed", c.Thawed))
	switch {
	case err != nil:
		return err
	case c.Grams > 0 && c.Kept > c.Grams:
		return refuse(CodeImpossible, "kept", "more is kept than is in the bag")
	case c.Frozen != "" && c.Roasted != "" && c.Frozen < c.Roasted:
		return refuse(CodeImpossible, "frozen", "it was frozen before it was roasted")
	case c.Thawed != "" && (c.Frozen == "" || c.Thawed < c.Frozen):
		return refuse(CodeImpossible, "thawed", "it was thawed before it was frozen")
	}
	if c.Caffeine == "" {
		c.Caffeine = "regular"
	}
	if c.Declared.Choice == "" {
		c.Declared.Choice = "unknown"
	}
	return first(oneOf("caffeine", c.Caffeine, "CoffeeKind"), c.Declared.check())
}

func (a *App) saveCoffee(c Coffee) (Saved, *Error) {
	if err := c.check(); err != nil {
		return Saved{}, err
	}
	return a.saveItem("coffee", c.ID, withoutID(&c, &c.ID))
}

func (b *Brewer) check() *Error {
	if b.Geometry == "" {
		b.Geometry = "other"
	}
	return first(named(&b.Name, &b.Note), oneOf("geometry", b.Geometry, "Geometry"), oneOf("filter", b.Filter, "Filter"),
		within("holds", b.Holds, 0, 20_000), within("retained", b.Retained, 0, 10))
}

func (a *App) saveBrewer(b Brewer) (Saved, *Error) {
	if err := b.check(); err != nil {
		return Saved{}, err
	}
	return a.saveItem("brewer", b.ID, withoutID(&b, &b.ID))
}

func (g *Grinder) check() *Error {
	if g.Scale == "" {
		g.Scale = "words"
	}
	err := first(named(&g.Name, &g.Note), oneOf("burr", g.Burr, "Burr"), oneOf("scale", g.Scale, "GrinderScale"),
		text("finest", &g.Finest, 20, false), text("coarse", &g.Coarse, 20, false), within("stays", g.Stays, 0, 50),
		tooMany("marks", len(g.Marks), 60))
	if err != nil {
		return err
	}
	return g.checkScale()
}

func (a *App) saveGrinder(g Grinder) (Saved, *Error) {
	if err := g.check(); err != nil {
		return Saved{}, err
	}
	return a.saveItem("grinder", g.ID, withoutID(&g, &g.ID))
}

// checkScale refuses a scale that nobody could read, and stops that are no settings of it.
func (g Grinder) checkScale() *Error {
	if g.Scale == "words" {
		return nil
	}
	scale, _ := g.plainScale()
	if err := scale.Check(); err != nil {
		return badScale(err)
	}
	stops := [2]grinder.Position{}
	for i, stop := range []struct{ field, text string }{{"finest", g.Finest}, {"coarse", g.Coarse}} {
		if stop.text == "" {
			continue
		}
		position, err := scale.Parse(stop.text)
		if err != nil {
			return refuse(CodeImpossible, stop.field, "this is not a setting of that scale")
		}
		stops[i] = position
	}
	if g.Finest != "" && g.Coarse != "" && stops[0] == stops[1] {
		return refuse(CodeImpossible, "coarse", "both stops are the same")
	}
	return nil
}

var scaleFields = map[string]string{"per turn": "perTurn", "kind": "scale", "stops": "coarse"}

func badScale(err error) *Error {
	field := "scale"
	if own, ok := err.(*grinder.Error); ok {
		field = own.Field
		if named, ok := scaleFields[field]; ok {
			field = named
		}
	}
	return refuse(CodeImpossible, field, "nobody could read this scale")
}

var scaleKinds = map[string]grinder.Kind{
	"clicks": grinder.Clicks, "turns": grinder.Turns, "numbers": grinder.Numbers, "letters": grinder.Letters,
}

func (g Grinder) plainScale() (grinder.Scale, bool) {
	kind, ok := scaleKinds[g.Scale]
	return grinder.Scale{Kind: kind, PerTurn: g.PerTurn, Step: g.Step, Marks: g.Marks}, ok
}

// core is the grinder's scale with its stops; false where settings are in its owner's words.
func (g Grinder) core() (grinder.Scale, bool) {
	scale, ok := g.plainScale()
	if !ok {
		return scale, false
	}
	low, lowErr := scale.Parse(g.Finest)
	high, highErr := scale.Parse(g.Coarse)
	if g.Finest != "" && g.Coarse != "" && lowErr == nil && highErr == nil {
		scale.Low, scale.High = min(low, high), max(low, high)
	}
	return scale, scale.Check() == nil
}

func (i *Instrument) check() *Error {
	return first(named(&i.Name, &i.Note), oneOf("what", i.What, "InstrumentKind"), within("precision", i.Precision, 0, 20))
}

func (a *App) saveInstrument(i Instrument) (Saved, *Error) {
	if err := i.check(); err != nil {
		return Saved{}, err
	}
	return a.saveItem("instrument", i.ID, withoutID(&i, &i.ID))
}

func (a *App) saveRecipe(r Recipe) (Saved, *Error) {
	if err := r.check(); err != nil {
		return Saved{}, err
	}
	if _, starting := startingRecipe(r.ID); starting {
		r.ID = "" // a changed starting point is a recipe of one's own
	}
	return a.saveItem("recipe", r.ID, withoutID(&r, &r.ID))
}

// withoutID is what of an item is kept: its document has the id.
func withoutID[T any](item *T, id *string) T {
	before := *id
	*id = ""
	bare := *item
	*id = before
	return bare
}

// calendarDay refuses what is not a day of the calendar, as 2026-11-03.
func calendarDay(field, text string) *Error {
	if text == "" {
		return nil
	}
	if _, ok := dayNumber(text); !ok {
		return refuse(CodeImpossible, field, "write the day as 2026-11-03")
	}
	return nil
}

// usual instruments are those of the home, unless nothing is known of them.
func (a *App) kitchen() brewing.Instruments {
	k, home := brewing.Kitchen(), a.home()
	if scale, ok := a.instrument(home.Scale); ok && scale.Precision > 0 {
		k.Scale = brewing.Grams(rectangular(scale.Precision))
	}
	if meter, ok := a.instrument(home.Refractometer); ok && meter.Precision > 0 {
		k.TDS = brewing.Fraction(rectangular(meter.Precision) / 100)
	}
	return k
}
