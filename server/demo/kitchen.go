package demo

import (
	"time"

	"hushcup/pwa/app"
)

// kitchen is what stands in somebody's cupboard. What is missing they do not have.
type kitchen struct {
	brewer  app.Brewer
	grinder app.Grinder
	waters  []app.Water
	scale   app.Instrument
	meter   app.Instrument // refractometer
	coffees []bag
	recipe  app.Recipe
	room    float64
}

// bag is a coffee, and how many days before the club's first it was roasted.
type bag struct {
	app.Coffee
	age int64
}

// altitude of the observatory's village, m: water boils at 92 °C there.
const altitude = 2400

var kitchens = map[string]kitchen{
	"Vega": {
		brewer:  app.Brewer{Name: "cone, 60 degrees, spiral ribs", Geometry: "cone", Filter: "paper", Holds: 400},
		grinder: app.Grinder{Name: "conical, 40 clicks a turn", Burr: "conical", Scale: "clicks", Finest: "0", Coarse: "72", Stays: 0.3},
		waters: []app.Water{
			{Name: "village spring", Source: "label", Calcium: 32, Magnesium: 8, Sodium: 6, Potassium: 1, Bicarbonate: 122, Chloride: 5, Sulphate: 14},
			{Name: "kitchen tap", Source: "test", Hardness: 170, Alkalinity: 140},
		},
		scale:   app.Instrument{Name: "flat scale", What: "scale", Precision: 0.1},
		meter:   app.Instrument{Name: "refractometer of the optics lab", What: "refractometer", Precision: 0.03},
		coffees: []bag{terrace, lakeside},
		recipe:  recipe("Two pours for thin air", "cone", 15, 16.5, 92, "medium-fine", 175, 40, 2),
		room:    20,
	},
	"Mira": {
		brewer:  app.Brewer{Name: "flat bed, three holes", Geometry: "flat-bed", Filter: "paper", Holds: 300},
		grinder: app.Grinder{Name: "flat, 30 numbers", Burr: "flat", Scale: "numbers", Step: 0.5, Finest: "1", Coarse: "30", Stays: 0.8},
		waters:  []app.Water{{Name: "filtered", Source: "test", Hardness: 60, Alkalinity: 45}},
		scale:   app.Instrument{Name: "pocket scale", What: "scale", Precision: 0.05},
		coffees: []bag{own("a natural from the roastery by the bridge", "the roastery by the bridge", 250, 4)},
		recipe:  recipe("Three even pours", "flat-bed", 14, 16, 91, "medium", 200, 36, 3),
		room:    22,
	},
	"Lyra": {
		brewer:  app.Brewer{Name: "steep and drain, cone", Geometry: "steep-and-drain", Filter: "paper"},
		grinder: app.Grinder{Name: "conical, 60 clicks a turn", Burr: "conical", Scale: "clicks", Shared: true},
		scale:   app.Instrument{Name: "the canteen's scale", What: "scale", Precision: 1},
		coffees: []bag{{Coffee: app.Coffee{Name: "the breakfast blend of the night shift"}}},
		recipe:  steepRecipe("Lid on, then let go", "steep-and-drain", 13, 16, 92, 150, 215),
	},
	"Altair": {
		brewer:  app.Brewer{Name: "cone, 60 degrees, straight ribs", Geometry: "cone", Filter: "paper"},
		grinder: app.Grinder{Name: "conical, 24 clicks a turn", Burr: "conical", Scale: "turns", PerTurn: 24, Finest: "0", Coarse: "2+12"},
		waters:  []app.Water{{Name: "village spring", Source: "label", Calcium: 32, Magnesium: 8, Bicarbonate: 122}},
		scale:   app.Instrument{Name: "kitchen scale", What: "scale", Precision: 0.5},
		coffees: []bag{own("an old bag of Kenyan", "a friend", 200, 61)},
		recipe:  recipe("Four short pours", "cone", 16, 15.5, 90, "medium-fine", 170, 30, 4),
		room:    19,
	},
	"Rigel": {
		brewer:  app.Brewer{Name: "glass press", Geometry: "other", Filter: "metal"},
		grinder: app.Grinder{Name: "blades, counted to twenty", Burr: "blade", Scale: "words"},
		coffees: []bag{{Coffee: app.Coffee{Name: "whatever the canteen has", Caffeine: "regular"}}},
	},
	"Deneb": {
		brewer:  app.Brewer{Name: "flat bed, one hole", Geometry: "flat-bed", Filter: "paper"},
		grinder: app.Grinder{Name: "conical, 36 clicks a turn", Burr: "conical", Scale: "clicks"},
		scale:   app.Instrument{Name: "letter scale", What: "scale", Precision: 0.2},
		meter:   app.Instrument{Name: "second-hand refractometer", What: "refractometer", Precision: 0.05},
		coffees: []bag{{app.Coffee{Name: "decaffeinated, for after midnight", Caffeine: "decaf", Grams: 250, Declared: nothing}, 9}},
		recipe:  recipe("After midnight", "flat-bed", 12, 16, 91, "medium", 190, 40, 2),
		room:    18,
	},
}

var (
	terrace = bag{app.Coffee{
		Name: "what is left of the valley shop's washed lot", From: "the valley shop", Caffeine: "arabica", Grams: 500, Kept: 20, Declared: nothing,
	}, 6}
	lakeside = bag{app.Coffee{
		Name: "lakeside, fermented with passion fruit", From: "a gift from Lyra", Caffeine: "arabica", Grams: 200, Note: "Grind it last.",
		Declared: app.Declared{Choice: "something", Additives: []string{"fruit", "yeast"}},
	}, -10}
)

func own(name, from string, grams float64, age int64) bag {
	return bag{app.Coffee{Name: name, From: from, Caffeine: "arabica", Grams: grams, Declared: nothing}, age}
}

// recipe is a bloom and so many equal pours, the first after the bloom's wait, then the bed drains.
func recipe(title, geometry string, dose, ratio, kettle float64, grind string, ends, wait float64, pours int) app.Recipe {
	r := app.Recipe{Title: title, Geometry: geometry, Dose: dose, Ratio: ratio, Kettle: kettle, Grind: grind, Filter: "paper"}
	r.Steps = []app.RecipeStep{
		{Kind: "rinse", At: -60}, {Kind: "add", At: -20},
		{Kind: "bloom", At: 0, Until: 8, Dose: 2.5, Pattern: "spiral"},
		{Kind: "swirl", At: 10, Times: 2},
	}
	bloomed := 2.5 / ratio
	for i := range pours {
		at := wait + float64(i)*25
		r.Steps = append(r.Steps, app.RecipeStep{
			Kind: "pour", At: at, Until: at + 15, Water: bloomed + (1-bloomed)*float64(i+1)/float64(pours), Pattern: "centre",
		})
	}
	last := wait + float64(pours-1)*25 + 16
	r.Steps[len(r.Steps)-1].Water = 1
	r.Steps = append(r.Steps, app.RecipeStep{Kind: "swirl", At: last, Times: 1}, app.RecipeStep{Kind: "drain", At: last + 4, Until: ends})
	return r
}

// steepRecipe is one pour, a few strokes, a wait and the valve.
func steepRecipe(title, geometry string, dose, ratio, kettle, opens, ends float64) app.Recipe {
	return app.Recipe{Title: title, Geometry: geometry, Dose: dose, Ratio: ratio, Kettle: kettle, Grind: "medium", Filter: "paper", Steps: []app.RecipeStep{
		{Kind: "rinse", At: -60}, {Kind: "add", At: -20},
		{Kind: "pour", At: 0, Until: 20, Water: 1, Pattern: "evenly"},
		{Kind: "stir", At: 25, Times: 3},
		{Kind: "wait", At: 30, Until: opens},
		{Kind: "open-valve", At: opens}, {Kind: "drain", At: opens + 1, Until: ends},
	}}
}

// equip has everybody fill their cupboard, and brew with what stands in it.
func (c *club) equip() {
	for _, p := range c.people {
		k := kitchens[p.name]
		p.setup.BrewerID = c.saved(p, app.CmdBrewerSave, k.brewer)
		p.setup.Geometry, p.setup.Filter = k.brewer.Geometry, k.brewer.Filter
		p.setup.GrinderID = c.saved(p, app.CmdGrinderSave, k.grinder)
		home := app.Home{Altitude: altitude, Room: k.room, Weight: "g", Temperature: "C", Hardness: "°dH"}
		for i, w := range k.waters {
			id := c.saved(p, app.CmdWaterSave, w)
			if i == 0 {
				home.Water, p.setup.WaterID, p.setup.WaterName = id, id, w.Name
			}
		}
		if k.scale.Name != "" {
			home.Scale = c.saved(p, app.CmdInstrumentSave, k.scale)
		}
		if k.meter.Name != "" {
			home.Refractometer = c.saved(p, app.CmdInstrumentSave, k.meter)
		}
		do[app.Nothing](c, p, app.CmdHomeSave, home)
		c.stock(p, k)
		c.village.Advance(5000)
	}
}

func (c *club) stock(p *person, k kitchen) {
	for _, bag := range k.coffees {
		coffee := bag.Coffee
		if bag.age != 0 {
			coffee.Roasted = time.UnixMilli(c.start - bag.age*day).UTC().Format(time.DateOnly)
		}
		coffee.ID = c.saved(p, app.CmdCoffeeSave, coffee)
		p.coffees = append(p.coffees, coffee)
	}
	if k.recipe.Title == "" {
		return
	}
	p.recipe = k.recipe
	p.recipe.ID = c.saved(p, app.CmdRecipeSave, k.recipe)
	p.setup.RecipeID, p.setup.Recipe, p.setup.Steps = p.recipe.ID, p.recipe.Title, p.recipe.Steps
}

func (c *club) saved(p *person, command string, item any) string {
	return do[app.Saved](c, p, command, item).ID
}
