package app

import (
	"hushcup/sync/club"
	"hushcup/sync/oplog"
)

// coolingTime is how long a cup is followed after its brew was done.
const coolingTime = 45 * minute

// shownRecent leaves a phone room for the way to the log below them, and a start little to paint.
const shownRecent = 5

func (a *App) lookBench(Nothing) (BenchView, *Error) {
	v := BenchView{Last: a.index.bench.Last.setup(), Going: a.going(), Brews: a.index.count(), Samples: a.brewable()}
	for _, l := range a.index.recent[:min(len(a.index.recent), shownRecent)] {
		v.Recent = append(v.Recent, l.made.Digest)
	}
	return v, nil
}

// brewable are the samples that this person has and that are not open yet, then those opened with something left to taste
// again.
func (a *App) brewable() (out []SampleChoice) {
	var opened []SampleChoice
	for _, c := range a.clubs() {
		if !c.in() {
			continue
		}
		flights := c.State.Flights()
		for _, f := range flights[max(len(flights)-3, 0):] {
			for _, s := range c.State.Samples(f.ID) {
				choice := a.sampleChoice(&c, f.ID, s)
				switch {
				case choice.Left <= 0:
				case s.UnsealedPos != 0:
					choice.Opened = true
					opened = append(opened, choice)
				default:
					out = append(out, choice)
				}
			}
		}
	}
	return append(out, opened...)
}

func (a *App) sampleChoice(c *clubBook, flight oplog.FlightID, s club.SampleInfo) SampleChoice {
	words, _ := a.flightWords(c, flight)
	choice := SampleChoice{
		Club: c.ID.String(), Sample: s.Body.ID.String(), Code: int(s.Body.Code), Title: words.Title,
		Left: left(grams(s), a.sampleBrews(c, s.Body.ID)),
	}
	choice.Declared, _ = a.declared(c, s.Body.ID)
	return choice
}

const mostPage = 200
