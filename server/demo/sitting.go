package demo

import (
	"fmt"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
)

// person is one of the club with their phone.
type person struct {
	habits
	phone   *village.Phone
	member  string
	coffees []app.Coffee
	recipe  app.Recipe
}

// brew has a person brew a sample and write down what they notice.
func (c *club) brew(p *person, s *sealed) {
	at := p.usual()
	at.dose = min(at.dose, s.grams/2-2)
	setup := p.setUp(at, app.Coffee{})
	made := do[app.BrewStarted](c, p, app.CmdBrewStart, app.BrewStart{
		Club: c.id, Sample: s.id, Setup: setup, Run: true, Sure: sure,
	})
	c.pour(p, made, at, s.name, p.words(s.lot))
}

// own has a person brew a coffee of their own.
func (c *club) own(p *person) {
	at := p.usual()
	made := do[app.BrewStarted](c, p, app.CmdBrewStart, app.BrewStart{Setup: p.setUp(at, p.coffees[0]), Run: true, Sure: sure})
	c.pour(p, made, at, p.coffees[0].Name, "")
}

// sure are the numbers of this club that surprise whoever does not live so high up.
var sure = []string{"kettle", "dose", "water", "beverage", "tds", "drawdown"}

// pour has the clock run through a brew to the last drop.
func (c *club) pour(p *person, made app.BrewStarted, at setting, coffee, notes string) {
	came := p.brewed(at, coffee, fmt.Sprint(c.village.Now()-c.start))
	c.follow(p, made, at, came.seconds)
	c.keep(p, made, came, notes)
	c.village.Advance(3 * minute)
}

// guess has a person say what they think, before brewing or after.
func (c *club) guess(p *person, s *sealed, dry bool) {
	do[app.Nothing](c, p, app.CmdGuessSave, app.GuessSave{Club: c.id, Sample: s.id, First: dry, Facets: p.thinks(s.lot, dry)})
	c.village.Advance(minute)
}
