package demo

import (
	"hushcup/pwa/app"
)

// evening is one flight: founded so many days after the club, opened five days later.
type evening struct {
	title, note string
	founded     int64 // days after the club
	questions   []string
	lots        []lot
}

// sealed is a lot in its flight.
type sealed struct {
	lot
	id     string
	keeper *person
}

// play has a flight happen from the first seal to the evening on which it is opened.
func (c *club) play(e evening) {
	c.advanceTo(c.start + e.founded*day + 8*hour)
	flight, samples := c.open(e, 0)
	for _, p := range c.people {
		for i := range samples {
			c.sit(p, &samples[i], 2)
		}
	}
	c.advanceTo(c.start + (e.founded+5)*day + 12*hour)
	do[app.Nothing](c, c.people[0], app.CmdFlightClose, app.FlightClose{Club: c.id, Flight: flight})
	c.village.Advance(10 * minute)
	c.comeLate(samples)
	for i := range samples {
		s := &samples[i]
		do[app.Nothing](c, s.keeper, app.CmdSampleUnseal, app.SampleUnseal{Club: c.id, Samples: []string{s.id}})
		c.village.Advance(4 * minute)
	}
}

// open founds a flight and seals its lots.
func (c *club) open(e evening, closes int64) (flight string, samples []sealed) {
	vega := c.people[0]
	flight = do[app.FlightCreated](c, vega, app.CmdFlightCreate, app.FlightCreate{
		Club: c.id, Title: e.title, Note: e.note, Closes: closes, Questions: e.questions,
	}).Flight
	c.village.Advance(minute)
	for _, l := range e.lots {
		keeper := c.named(l.keeper)
		made := do[app.SampleSealed](c, keeper, app.CmdSampleSeal, app.SampleSeal{
			Club: c.id, Flight: flight, Grams: l.grams, Declared: l.declared, Answer: l.answer(),
		})
		samples = append(samples, sealed{l, made.Sample, keeper})
		c.village.Advance(minute)
	}
	return flight, samples
}

func (c *club) named(name string) *person {
	for _, p := range c.people {
		if p.name == name {
			return p
		}
	}
	return c.people[0]
}

// comeLate has Deneb, whose shift was long, guess the evening's last sample after the close.
func (c *club) comeLate(samples []sealed) {
	deneb, last := c.named("Deneb"), &samples[len(samples)-1]
	if last.keeper == deneb {
		return
	}
	c.guess(deneb, last, false)
	c.village.Advance(minute)
}

// running opens the flight that is under way now: two have sat down with its first samples, and a brew or two is logged.
func (c *club) running() {
	e := present
	c.advanceTo(c.start + e.founded*day + 8*hour)
	now := c.start + began
	_, samples := c.open(e, now+2*day+3*hour)
	for i, p := range c.people {
		if i%2 == 1 {
			c.sit(p, &samples[0], 1)
		}
	}
	c.sit(c.named("Rigel"), &samples[1], 1)
	for _, p := range c.people {
		c.own(p)
	}
}

// sit has a person look, brew, and guess about one sample.
func (c *club) sit(p *person, s *sealed, days int64) {
	if s.keeper == p || c.err != nil {
		return
	}
	if p.skips(s.lot) {
		return // not everybody finds the time
	}
	c.village.Advance(hour / 2)
	if p.dry {
		c.guess(p, s, true)
	}
	c.brew(p, s)
	if !p.late(s.lot) {
		c.guess(p, s, false)
	}
}
