package demo

import (
	"fmt"

	"hushcup/pwa/app"
)

// bowls has Vega set a table: both of her coffees in two bowls each, with one kettle.
func (c *club) bowls() {
	p := c.named("Vega")
	c.advanceTo(c.evening(33) + 3*hour)
	setup := p.setup
	setup.Geometry, setup.Method, setup.Brewer, setup.BrewerID, setup.Filter = "cupping-bowl", "bowl", "", "", ""
	setup.RecipeID, setup.Recipe, setup.Steps = "cupping-bowl", "", nil
	setup.Dose, setup.Ratio, setup.Grind = 11, 18.2, "34"
	start := app.BowlsStart{Setup: setup, Sure: sure}
	for _, coffee := range []int{0, 1, 1, 0} {
		start.Bowls = append(start.Bowls, app.Bowl{Coffee: p.coffees[coffee].Name, CoffeeID: p.coffees[coffee].ID})
	}
	table := do[app.BowlsStarted](c, p, app.CmdBowlsStart, start).Table
	bowls := see[app.TableView](c, p, app.ViewTable, app.TableParams{Table: table}).Bowls
	c.all(p, bowls, "start", 12_000)
	c.village.Advance(4*minute - int64(len(bowls))*12_000)
	c.all(p, bowls, "break", 15_000)
	c.all(p, bowls, "skim", 10_000)
	c.village.Advance(5 * minute)
	c.all(p, bowls, "taste", 20_000)
	for i, b := range bowls {
		came := p.brewed(setting{p.ground, p.setup.Ratio, p.setup.Kettle, p.setup.Dose, usualStirs}, b.Setup.Coffee, fmt.Sprint("bowl", i))
		do[app.Nothing](c, p, app.CmdBrewSave, app.BrewSave{Book: b.Book, Brew: b.Brew, Outcome: app.BrewOutcome{Balance: came.balance}, Sure: sure})
	}
	c.village.Advance(minute)
}

// all marks one bowl after the other.
func (c *club) all(p *person, bowls []app.BrewView, mark string, pace int64) {
	for _, b := range bowls {
		do[app.Nothing](c, p, app.CmdBrewMark, app.BrewMark{Book: b.Book, Brew: b.Brew, Mark: mark})
		c.village.Advance(pace)
	}
}
