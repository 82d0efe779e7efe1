package demo

import (
	"fmt"
	"math"

	"hushcup/pwa/app"
)

// tasting is an evening on which somebody brews one coffee of their own several times.
type tasting struct {
	who    string
	day    int64 // after the club
	coffee int   // of their cupboard
	trials []trial
}

// trial is a brew of an evening: what it changes of an earlier one of it, counted from 1; 0 is the usual setting.
type trial struct {
	of     int
	by     setting
	notes  string
	failed string // why it was given up
}

// tastings come between the club's evenings: most change one thing at a time, and now and then somebody cannot wait.
var tastings = []tasting{
	{"Vega", 7, 0, []trial{
		{notes: "thin, a little sharp; lemon more than orange"},
		{of: 1, by: setting{grind: -2}, notes: "rounder"},
		{of: 2, by: setting{grind: -2}, notes: "sweet in the middle, dry at the end"},
		{of: 2, by: setting{stirs: 1}, notes: "the second one, stirred once more"},
		{of: 3, by: setting{ratio: 0.5, kettle: -2}, notes: "changed two things: no idea which of them it was"},
	}},
	{"Mira", 7, 0, []trial{
		{notes: "strawberry, but it does not last"}, {of: 1, by: setting{grind: -1}, notes: "strawberry jam"},
		{of: 2, by: setting{grind: -1}, notes: "too much of it"}, {of: 2, notes: "once more, to see whether it was luck"},
	}},
	{"Vega", 8, 0, []trial{
		{by: setting{grind: -3}}, {of: 1, notes: "the same again"}, {of: 2, notes: "and again"},
	}},
	{"Vega", 16, 0, []trial{
		{by: setting{grind: -3, dose: 5}, notes: "for two"}, {of: 1, by: setting{grind: 2}, notes: "for two, coarser"},
		{by: setting{grind: -3, dose: -4}, notes: "a small one before the shift"},
		{of: 3, failed: "the filter folded, half of it ran past"},
	}},
	{"Altair", 17, 0, []trial{
		{notes: "blackcurrant, and the bag shows its age"}, {of: 1, by: setting{grind: -2}}, {of: 2, by: setting{ratio: -0.5}, notes: "heavier"},
		{of: 1, notes: "the first again"},
	}},
	{"Lyra", 17, 0, []trial{{notes: "toast"}}},
	{"Vega", 26, 1, []trial{
		{notes: "passion fruit from across the room"}, {of: 1, by: setting{grind: -2}, notes: "louder still"}, {of: 1, by: setting{ratio: 1}, notes: "now it can be drunk"},
	}},
	{"Deneb", 27, 0, []trial{
		{notes: "caramel, a little hollow"}, {of: 1, by: setting{grind: -2}}, {of: 2, by: setting{kettle: 1}, notes: "as hot as it gets here"},
	}},
	{"Mira", 27, 0, []trial{{by: setting{grind: -1}}, {of: 1, by: setting{ratio: -0.5}, notes: "fuller"}, {of: 1}}},
	{"Vega", 33, 0, []trial{
		{by: setting{grind: -3}, notes: "the bag is nearly through, and better than ever"}, {of: 1, by: setting{kettle: -2}, notes: "hardly any different"},
	}},
}

// taste plays the tastings up to a day of the club.
func (c *club) taste(until int64) {
	for ; c.tasted < len(tastings) && tastings[c.tasted].day <= until; c.tasted++ {
		t := &tastings[c.tasted]
		c.advanceTo(max(c.village.Now(), c.evening(t.day)))
		c.tryOut(c.named(t.who), t)
	}
}

// evening is five in the afternoon of a day of the club, in Greenwich.
func (c *club) evening(of int64) int64 { return (c.start/day+of)*day + 17*hour }

func (c *club) tryOut(p *person, t *tasting) {
	var made []app.BrewStarted
	var settings []setting
	for i, trial := range t.trials {
		at := p.usual()
		var parent *app.BrewParams
		if trial.of > 0 {
			at, parent = settings[trial.of-1], &app.BrewParams{Book: made[trial.of-1].Book, Brew: made[trial.of-1].Brew}
		}
		at = at.plus(trial.by)
		brew := do[app.BrewStarted](c, p, app.CmdBrewStart, app.BrewStart{
			Setup: p.setUp(at, p.coffees[t.coffee]), Parent: parent, Run: true, Sure: sure,
		})
		made, settings = append(made, brew), append(settings, at)
		if trial.failed != "" {
			c.village.Advance(70_000)
			do[app.Nothing](c, p, app.CmdBrewAbandon, app.BrewAbandon{Book: brew.Book, Brew: brew.Brew, Why: trial.failed})
			continue
		}
		came := p.brewed(at, p.coffees[t.coffee].Name, fmt.Sprint(t.day, i))
		c.follow(p, brew, at, came.seconds)
		c.keep(p, brew, came, trial.notes)
		c.village.Advance(25 * minute)
	}
}

func (p *person) usual() setting {
	return setting{p.ground, p.setup.Ratio, p.setup.Kettle, p.setup.Dose, usualStirs}
}

func (s setting) plus(by setting) setting {
	return setting{s.grind + by.grind, s.ratio + by.ratio, s.kettle + by.kettle, s.dose + by.dose, s.stirs + by.stirs}
}

// setUp is a setting with one's own things and a coffee of one's own.
func (p *person) setUp(at setting, coffee app.Coffee) app.BrewSetup {
	s := p.setup
	s.CoffeeID, s.Coffee = coffee.ID, coffee.Name
	s.Dose, s.Ratio, s.Kettle, s.Grind = at.dose, at.ratio, at.kettle, p.says(at.grind)
	s.Steps = append([]app.RecipeStep(nil), s.Steps...)
	for i := range s.Steps {
		if s.Steps[i].Kind == "swirl" || s.Steps[i].Kind == "stir" {
			s.Steps[i].Times += at.stirs - usualStirs
			break
		}
	}
	return s
}

// says is a position as the grinder's scale shows it.
func (p *person) says(position float64) string {
	switch kitchens[p.name].grinder.Scale {
	case "turns":
		turn := float64(kitchens[p.name].grinder.PerTurn)
		return fmt.Sprintf("%.0f+%.0f", math.Floor(position/turn), math.Mod(position, turn))
	case "words":
		return p.setup.Grind
	}
	return fmt.Sprint(position)
}

// follow has the clock run through a brew as its recipe says, a little late here and there, until the bed is dry.
func (c *club) follow(p *person, made app.BrewStarted, at setting, seconds float64) {
	began := c.village.Now()
	for i, step := range p.recipe.Steps {
		mark, records := marks[step.Kind]
		if !records || step.At < 0 {
			continue
		}
		late := int64(1000 * (1 + noise(p.name, fmt.Sprint(int(10*seconds)), fmt.Sprint(i))/2))
		c.village.Advance(max(began+int64(1000*step.At)+late-c.village.Now(), 0))
		share := step.Water
		if step.Dose > 0 {
			share = step.Dose / at.ratio
		}
		do[app.Nothing](c, p, app.CmdBrewMark, app.BrewMark{
			Book: made.Book, Brew: made.Brew, Mark: mark, Step: i + 1, Grams: math.Round(share * at.dose * at.ratio),
		})
	}
	c.village.Advance(max(began+int64(1000*seconds)-c.village.Now(), 1000))
	do[app.Nothing](c, p, app.CmdBrewMark, app.BrewMark{Book: made.Book, Brew: made.Brew, Mark: "end", Step: len(p.recipe.Steps)})
}

// marks are the steps that somebody's thumb records.
var marks = map[string]string{"bloom": "bloom", "pour": "pour", "stir": "stir", "swirl": "swirl", "open-valve": "open-valve"}

// keep saves what came of a brew, as far as somebody measures.
func (c *club) keep(p *person, made app.BrewStarted, came cup, notes string) {
	outcome := app.BrewOutcome{Notes: notes, Balance: came.balance}
	if p.meter {
		outcome.Beverage, outcome.TDS = math.Round(came.beverage), math.Round(100*came.tds)/100
	}
	do[app.Nothing](c, p, app.CmdBrewSave, app.BrewSave{Book: made.Book, Brew: made.Brew, Outcome: outcome, Sure: sure})
}
