package evening

// steps compares two timelines.
func (c *changes) steps(from, to []Doing, within Tolerances) {
	i, j := 0, 0
	for _, m := range matched(from, to) {
		c.unmatched(Removed, from, i, m.from)
		c.unmatched(Added, to, j, m.to)
		c.doing(from[m.from], to[m.to], m.to, within)
		i, j = m.from+1, m.to+1
	}
	c.unmatched(Removed, from, i, len(from))
	c.unmatched(Added, to, j, len(to))
}

// unmatched lists the steps of one side that have no match.
func (c *changes) unmatched(kind Kind, steps []Doing, from, to int) {
	for i := from; i < to; i++ {
		one := Change{Field: Step, Kind: kind, Step: i, StepKind: steps[i].Kind}
		if kind == Added {
			one.To = named(steps[i].Kind)
		} else {
			one.From = named(steps[i].Kind)
		}
		c.add(one)
	}
}

// doing compares two steps of one kind.
func (c *changes) doing(from, to Doing, at int, within Tolerances) {
	before := len(*c)
	c.number(StepTo, from.To, to.To, within.To)
	c.number(StepSeconds, from.Seconds, to.Seconds, within.Seconds)
	c.number(StepTemperature, from.Temperature, to.Temperature, within.Temperature)
	c.number(StepTimes, from.Times, to.Times, within.Times)
	c.name(StepManner, from.Manner, to.Manner)
	for i := before; i < len(*c); i++ {
		(*c)[i].Step, (*c)[i].StepKind = at, to.Kind
	}
}

// A match is a step of one side and its like on the other.
type match struct{ from, to int }

// mostSteps bounds the work of matching; what lies beyond is not matched.
const mostSteps = 200

// matched pairs steps of one kind in order: as many as can be, and of equally many
// those that are most alike.
func matched(from, to []Doing) (out []match) {
	from, to = from[:min(len(from), mostSteps)], to[:min(len(to), mostSteps)]
	if !inOrder(from, to) {
		// Of matches that are equally good the same ones are taken both ways.
		for _, m := range matched(to, from) {
			out = append(out, match{m.to, m.from})
		}
		return out
	}
	// best[i][j] is the worth of matching from i and j on.
	best := make([][]int, len(from)+1)
	for i := range best {
		best[i] = make([]int, len(to)+1)
	}
	for i := len(from) - 1; i >= 0; i-- {
		for j := len(to) - 1; j >= 0; j-- {
			best[i][j] = max(best[i+1][j], best[i][j+1], best[i+1][j+1]+alike(from[i], to[j]))
		}
	}
	for i, j := 0, 0; i < len(from) && j < len(to); {
		worth := alike(from[i], to[j])
		switch {
		case worth > 0 && best[i][j] == best[i+1][j+1]+worth:
			out = append(out, match{i, j})
			i, j = i+1, j+1
		case best[i][j] == best[i+1][j]:
			i++
		default:
			j++
		}
	}
	return out
}

// alike is what a match is worth: nothing between kinds, and so much more for any
// match than for its details that no detail costs one.
func alike(a, b Doing) int {
	if a.Kind != b.Kind {
		return 0
	}
	worth := 5 * mostSteps
	theirs := b.readings()
	for i, mine := range a.readings() {
		if mine == theirs[i] {
			worth++
		}
	}
	return worth
}

// inOrder orders two timelines, in whatever way.
func inOrder(a, b []Doing) bool {
	if len(a) != len(b) {
		return len(a) < len(b)
	}
	for i := range a {
		if a[i] != b[i] {
			return a[i].inOrder(b[i])
		}
	}
	return true
}

func (d Doing) inOrder(other Doing) bool {
	if d.Kind != other.Kind {
		return d.Kind < other.Kind
	}
	if d.Manner != other.Manner {
		return d.Manner < other.Manner
	}
	theirs := other.readings()
	for i, mine := range d.readings() {
		switch {
		case mine.Known != theirs[i].Known:
			return theirs[i].Known
		case mine.Known && mine.Value != theirs[i].Value:
			return mine.Value < theirs[i].Value
		}
	}
	return true
}

// readings are a step's numbers in the order of their fields.
func (d Doing) readings() [4]Reading {
	return [4]Reading{d.To, d.Seconds, d.Temperature, d.Times}
}
