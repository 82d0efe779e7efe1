package demo

import (
	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
)

// person is one of the club with their phone.
type person struct {
	habits
	phone  *village.Phone
	member string
}

// brew has a person brew a sample and write down what they notice.
func (c *club) brew(p *person, s *sealed) {
	setup := p.setup
	setup.Dose = min(p.setup.Dose, s.grams/2-2)
	made := do[app.BrewStarted](c, p, app.CmdBrewStart, app.BrewStart{
		Club: c.id, Sample: s.id, Setup: setup, Run: true, Sure: sure,
	})
	c.pour(p, made, p.words(s.lot))
}

// own has a person brew a coffee of their own.
func (c *club) own(p *person) {
	setup := p.setup
	setup.Coffee = p.coffee
	made := do[app.BrewStarted](c, p, app.CmdBrewStart, app.BrewStart{Setup: setup, Run: true, Sure: sure})
	c.pour(p, made, "")
}

// sure are the numbers of this club that surprise whoever does not live so high up.
var sure = []string{"kettle", "dose", "water", "beverage", "tds", "drawdown"}

// pour has the clock run through a brew: a bloom, pours to the water's weight, the last drop.
func (c *club) pour(p *person, made app.BrewStarted, notes string) {
	water := p.setup.Dose * p.setup.Ratio
	mark := func(word string, part float64) {
		do[app.Nothing](c, p, app.CmdBrewMark, app.BrewMark{Book: made.Book, Brew: made.Brew, Mark: word, Grams: float64(int(water * part))})
	}
	c.village.Advance(4000)
	mark("bloom", 0.2)
	for i := 1; i <= p.pours; i++ {
		c.village.Advance(35_000)
		mark("pour", 0.2+0.8*float64(i)/float64(p.pours))
	}
	c.village.Advance(p.drain)
	mark("end", 0)
	outcome := app.BrewOutcome{Notes: notes}
	if p.meter {
		outcome.Beverage, outcome.TDS = float64(int(water-2*p.setup.Dose)), 1.31
	}
	do[app.Nothing](c, p, app.CmdBrewSave, app.BrewSave{Book: made.Book, Brew: made.Brew, Outcome: outcome, Sure: sure})
	c.village.Advance(3 * minute)
}

// guess has a person say what they think, before brewing or after.
func (c *club) guess(p *person, s *sealed, dry bool) {
	do[app.Nothing](c, p, app.CmdGuessSave, app.GuessSave{Club: c.id, Sample: s.id, First: dry, Facets: p.thinks(s.lot, dry)})
	c.village.Advance(minute)
}
