package app

import (
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

// fill takes names, geometry and filter from what of the Cupboard a setup names, and gives a copy of it all. What stands in the
// setup of an item that is gone, or put away since, stays.
func (a *App) fill(s *BrewSetup) (used BrewUsed) {
	if c, ok := a.coffee(s.CoffeeID); ok {
		s.Coffee, c.Note = c.Name, ""
		used.Coffee = &c
	}
	if b, ok := a.brewer(s.BrewerID); ok {
		s.Brewer, s.Geometry, b.Note = b.Name, b.Geometry, ""
		if s.Filter == "" {
			s.Filter = b.Filter
		}
		used.Brewer = &b
	}
	if g, ok := a.grinder(s.GrinderID); ok {
		s.Grinder, g.Note = g.Name, ""
		used.Grinder = &g
	}
	if w, ok := a.water(s.WaterID); ok {
		s.WaterName, w.Note = w.Name, ""
		used.Water = &w
	}
	if r, ok := a.recipe(s.RecipeID); ok {
		s.Recipe = r.Title
		if len(s.Steps) == 0 {
			s.Steps = r.Steps
		}
		if s.Geometry == "" {
			s.Geometry = r.Geometry
		}
	}
	if s.Geometry != "" && s.Geometry != "other" {
		s.Method = methodOf(s.Geometry)
	}
	a.fillHome(&used)
	return used
}

func (a *App) fillHome(used *BrewUsed) {
	home := a.home()
	used.Altitude = home.Altitude
	if i, ok := a.instrument(home.Scale); ok {
		i.Note = ""
		used.Scale = &i
	}
	if i, ok := a.instrument(home.Refractometer); ok {
		i.Note = ""
		used.Refractometer = &i
	}
}

// kitchenOf is what numbers of a brew depend on.
func (a *App) kitchenOf(s *BrewSetup, used *BrewUsed, declared *Declared) (k kitchenContent) {
	k.Altitude = used.Altitude
	if used.Scale != nil {
		k.Scale = used.Scale.Precision
	}
	if used.Refractometer != nil {
		k.Meter = used.Refractometer.Precision
	}
	if used.Coffee != nil {
		k.Moisture = used.Coffee.Moisture
	}
	k.Retained = a.retainedBy(used.Brewer)
	if used.Grinder != nil {
		k.Grind, k.GrindSet = used.Grinder.position(s.Grind)
	}
	if declared != nil {
		k.Infused, k.Allergens = len(declared.Additives) > 0, len(declared.Allergens) > 0
	}
	return k
}

// retainedBy is what a brewer keeps, as far as is known; 0 is as the geometry has it.
func (a *App) retainedBy(b *Brewer) float64 {
	if b == nil {
		return 0
	}
	learned, _ := a.retained(b)
	return learned.Value
}

// position reads a setting on the grinder's own scale; false where it is in words.
func (g *Grinder) position(setting string) (float64, bool) {
	scale, ok := g.core()
	if !ok {
		return 0, false
	}
	p, err := scale.Parse(setting)
	return float64(p), err == nil
}

// declaredOf is what is declared of the coffee of a brew; nil when nobody knows.
func (a *App) declaredOf(book oplog.BookID, sample *oplog.SampleID, used *BrewUsed) *Declared {
	if sample == nil {
		if used.Coffee == nil {
			return nil
		}
		return &used.Coffee.Declared
	}
	info, ok := a.bookInfo(book)
	if !ok {
		return nil
	}
	c := a.withState(info)
	declared, ok := a.declared(&c, *sample)
	if !ok {
		return nil
	}
	return &declared
}

// keepUsed writes the copy of what a brew was made with.
func (a *App) keepUsed(b *openBrew, used BrewUsed) *Error {
	return a.write(b.book, b.doc, partBrewUsed, b.under(), usedContent{&used})
}

// usedContent is a BrewUsed as it is kept: with the words of the bridge, like the items themselves.
type usedContent struct {
	Used *BrewUsed `cbor:"1,keyasint"`
}

// usedOf is what a brew was made with; nothing where an older version wrote it.
func (a *App) usedOf(b *openBrew) BrewUsed {
	var content usedContent
	if a.read(b.book, a.mine(b.book, b.doc, partBrewUsed), &content) != replica.BodyReady || content.Used == nil {
		return BrewUsed{}
	}
	return *content.Used
}

// follow takes over from the Cupboard what a corrected setup names and the brew did not name before.
func (u *BrewUsed) follow(fresh *BrewUsed, before, after *BrewSetup) {
	if after.CoffeeID != before.CoffeeID {
		u.Coffee = fresh.Coffee
	}
	if after.BrewerID != before.BrewerID {
		u.Brewer = fresh.Brewer
	}
	if after.GrinderID != before.GrinderID {
		u.Grinder = fresh.Grinder
	}
	if after.WaterID != before.WaterID {
		u.Water = fresh.Water
	}
}

func (s *BrewSetup) follow(fresh, before *BrewSetup) {
	if s.CoffeeID != before.CoffeeID {
		s.Coffee = fresh.Coffee
	}
	if s.BrewerID != before.BrewerID {
		s.Brewer, s.Geometry, s.Method, s.Filter = fresh.Brewer, fresh.Geometry, fresh.Method, fresh.Filter
	}
	if s.GrinderID != before.GrinderID {
		s.Grinder = fresh.Grinder
	}
	if s.WaterID != before.WaterID {
		s.WaterName = fresh.WaterName
	}
	if s.RecipeID != before.RecipeID {
		s.Recipe, s.Steps = fresh.Recipe, fresh.Steps
	}
}
