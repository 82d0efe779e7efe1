package app

// clocks are the brews whose clock runs since this App was started. A brew's times are what the steady clock says, so a
// wall clock that is put right in the middle of a pour does no harm; what only the wall clock saw (the phone slept, or the
// app was started anew) is taken from it as long as it can be true, and marked as an absence.
type clocks struct {
	running map[brewRef]brewClock
}

// brewClock is a moment of a running brew at which both clocks are known.
type brewClock struct {
	elapsed int64   // since the start, in milliseconds
	wall    int64   // this phone's clock then
	mono    float64 // the steady clock then
	absent  bool    // since the start nobody watched for a while
}

const (
	clocksAgree = 2_000     // milliseconds by which the clocks may differ without anything having happened
	longestBrew = 24 * hour // a cold steep over night; longer is a clock that was set
)

func (c *clocks) start(ref brewRef, now int64, mono float64) {
	if c.running == nil {
		c.running = map[brewRef]brewClock{}
	}
	c.running[ref] = brewClock{wall: now, mono: mono}
}

func (c *clocks) forget(ref brewRef) { delete(c.running, ref) }

// elapsed is how long a brew has run, in milliseconds.
func (a *App) elapsed(b *openBrew) int64 { return a.clock(b).elapsed }

// absent says whether nobody watched a running brew for a while.
func (a *App) absent(b *openBrew) bool {
	return b.content.State == brewGoing && b.content.Ended == 0 && a.clock(b).absent
}

// clock brings a brew's clock to this moment.
func (a *App) clock(b *openBrew) brewClock {
	c, ok := a.clocks.running[b.brewRef]
	if !ok {
		c = resumed(&b.content, a.now)
	} else {
		c = c.at(a.now, a.mono)
	}
	c.wall, c.mono = a.now, a.mono
	if a.clocks.running == nil {
		a.clocks.running = map[brewRef]brewClock{}
	}
	a.clocks.running[b.brewRef] = c
	return c
}

// resumed is the clock of a brew that ran when the app was started anew: the wall clock is all there is.
func resumed(content *brewContent, now int64) brewClock {
	last := int64(0)
	if len(content.Marks) > 0 {
		last = content.Marks[len(content.Marks)-1].At
	}
	c := brewClock{elapsed: now - content.Began, absent: true}
	if c.elapsed < last || c.elapsed > longestBrew {
		c.elapsed = last
	}
	return c
}

// at is the clock at a later moment.
func (c brewClock) at(now int64, mono float64) brewClock {
	steady, wall := int64(mono-c.mono), now-c.wall
	step := steady
	if wall > steady+clocksAgree && wall <= longestBrew {
		step, c.absent = wall, true
	}
	c.elapsed += max(step, 0)
	return c
}

// began is where a running brew's start lies by this phone's clock as it stands now, moved only when it has to be.
func (a *App) began(b *openBrew) int64 {
	began := a.now - a.elapsed(b)
	if off := began - b.content.Began; off > -clocksAgree/2 && off < clocksAgree/2 {
		return b.content.Began
	}
	return began
}
