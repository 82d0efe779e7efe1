package app

import "hushcup/pwa/core/brewing"

// BrewTime says how long a running brew has run, where the phone's clock cannot: somebody set it forward, which looks as if the
// phone had slept. The screen that was in sight all the time has counted.
type BrewTime struct {
	Book    string `cbor:"book"`
	Brew    string `cbor:"brew"`
	Elapsed int64  `cbor:"elapsed"` // ms
}

// longestBrew is longer than any brew: a cold steep is timed by its owner.
const longestBrew = 72 * 60 * 60_000.0

// setBrewTime takes a brew's clock as its owner says. Marks that the wrong clock put later are moved by as much as it was wrong.
func (a *App) setBrewTime(args BrewTime) *Error {
	b, err := a.brew(args.Book, args.Brew)
	if err = first(err, within("elapsed", float64(args.Elapsed), 0, longestBrew)); err != nil {
		return err
	}
	if b.content.State != brewGoing || b.content.Ended != 0 {
		return &Error{Code: CodeNotYet, Text: "the clock does not run"}
	}
	clock := a.running(&b)
	wrong := int64(clock.Elapsed) - args.Elapsed
	b.content.Clock, b.content.Began = keptClock(clock.Said(brewing.Millis(args.Elapsed))), a.now-args.Elapsed
	marks := append([]markContent(nil), b.content.Marks...)
	before := int64(0)
	for i := range marks {
		if marks[i].At > args.Elapsed {
			marks[i].At -= wrong
		}
		marks[i].At = max(marks[i].At, before)
		before = marks[i].At
	}
	b.content.Marks = marks
	return a.keepBrew(&b)
}
