package app

import "hushcup/pwa/core/brewing"

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

// mostMoisture is what a green coffee has, in percent; a roasted one has a few.
const mostMoisture = 13

func (c *Coffee) check() *Error {
	err := first(named(&c.Name, &c.Note), text("from", &c.From, 120, false), text("batch", &c.Batch, 60, false),
		within("grams", c.Grams, 0, 100_000), within("kept", c.Kept, 0, 100_000), within("moisture", c.Moisture, 0, mostMoisture),
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
