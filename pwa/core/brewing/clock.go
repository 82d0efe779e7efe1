package brewing

// Millis are milliseconds, since the brew began unless said otherwise.
type Millis int64

// An Instant is a moment as this device saw it. Nothing here reads a clock.
type Instant struct {
	// Wall is the device's clock, since 1970. It runs while the device sleeps and
	// the app is closed, and people and networks set it.
	Wall Millis
	// Mono is the app's steady clock. Nobody sets it, but it may stand still while
	// the device sleeps, and it starts anew with the app.
	Mono Millis
	// Session names one run of the app: instants of two sessions have no common
	// steady clock. A reload, a killed tab and a reboot all make a new one.
	Session uint64
}

// A Clock tells how long a brew has run. It is a value: keep the newest one with
// the brew, and whatever happened in between, the next reading is computed from
// it. It never runs backwards and has no pause.
//
// Between two instants of one session the steady clock counts. Where the wall
// clock went further than the steady one, the device slept, and the wall clock
// counts as long as it can be true; where it went less far, somebody set it. Over
// two sessions there is only the wall clock. Whatever rests on the wall clock
// alone is Doubtful: the screen asks what happened, and the brew stays out of
// what is learned from times until its owner puts it back.
type Clock struct {
	Last     Instant
	Elapsed  Millis // at Last
	Doubtful bool   // since the start, nobody watched for a while
}

const (
	// clocksAgree is how far two clocks may differ without anything having
	// happened.
	clocksAgree Millis = 2_000
	// longest is the longest absence that the wall clock is believed for: a cold
	// steep; more means that it was set.
	longest Millis = 72 * 3_600_000
)

// Start returns the clock of a brew that begins at this instant.
func Start(now Instant) Clock { return Clock{Last: now} }

// At returns the clock at a later instant.
func (c Clock) At(now Instant) Clock {
	wall := now.Wall - c.Last.Wall
	step, doubtful := wall, true
	if now.Session == c.Last.Session {
		steady := now.Mono - c.Last.Mono
		if wall <= steady+clocksAgree || wall > longest {
			step, doubtful = steady, false
		}
	}
	if step > longest {
		step = 0
	}
	return Clock{Last: now, Elapsed: c.Elapsed + max(step, 0), Doubtful: c.Doubtful || doubtful}
}

// Said returns the clock corrected by what its owner says happened while nobody
// watched: at its last instant the brew had run for so long. A corrected clock
// is not doubtful.
func (c Clock) Said(elapsed Millis) Clock {
	c.Elapsed, c.Doubtful = max(elapsed, 0), false
	return c
}

// A Pour is one pour as it happened.
type Pour struct {
	At    Millis // it began
	Until Millis // it ended; 0 when only the beginning was noted
	To    Grams  // what the scale showed after it, since the first pour
}

// Flow returns the pour's flow in grams a second after the weight before it,
// and false when its end was not noted.
func (p Pour) Flow(before Grams) (float64, bool) {
	if p.Until <= p.At {
		return 0, false
	}
	return float64(p.To-before) / float64(p.Until-p.At) * 1000, true
}

// undoWithin is how long a touch can be taken back.
const undoWithin Millis = 10_000

// CanUndo reports whether a mark made then may be undone now without asking.
func CanUndo(mark, now Millis) bool { return now-mark <= undoWithin }
