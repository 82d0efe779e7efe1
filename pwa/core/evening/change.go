package evening

import "math"

// A Kind is how a field changed.
type Kind uint8

const (
	Changed  Kind = iota
	Unknown       // known on one side only: it may have changed
	Added         // a step that was not there
	Removed       // a step that is no longer there
	Followed      // it had to, because of another change
)

// String returns a stable name.
func (k Kind) String() string {
	return [...]string{"changed", "unknown", "added", "removed", "followed"}[k]
}

// A Value is what a field was: a name, or a number.
type Value struct {
	Name   string
	Number float64
	Known  bool
}

// A Change is one field that differs between two setups.
type Change struct {
	Field    Field
	Kind     Kind
	From, To Value
	By       float64 // numbers: To less From; 0 when one is not known
	Step     int     // steps: which one, counted in the later setup, for Removed in the earlier one
	StepKind string
}

// A Verdict is whether a cause can be read.
type Verdict uint8

const (
	Repeated   Verdict = iota // nothing changed: it tells how equal brews are
	OneChange                 // its effect can be read
	Several                   // no cause can be read
	NotCertain                // at most one thing changed that is known, but not all is known
)

// String returns a stable name.
func (v Verdict) String() string {
	return [...]string{"repeated", "one-change", "several-changes", "not-certain"}[v]
}

// A Difference is all that changed between two setups.
type Difference struct {
	Verdict Verdict
	Changes []Change
	Causes  int  // how many moves of the hand
	Mixed   bool // one move that changed two things: dose and ratio
}

// Compare lists what changed from one setup to a later one, in the order of the
// fields. It refuses a setup that cannot be.
func Compare(from, to Setup, within Tolerances) (Difference, error) {
	for _, s := range []Setup{from, to} {
		if err := s.Check(); err != nil {
			return Difference{}, err
		}
	}
	return compare(from, to, within), nil
}

func compare(from, to Setup, within Tolerances) Difference {
	var c changes
	c.name(Coffee, from.Coffee, to.Coffee)
	c.name(Brewer, from.Brewer, to.Brewer)
	c.name(Filter, from.Filter, to.Filter)
	c.grind(from, to, within)
	c.number(SinceGrinding, from.SinceGrinding, to.SinceGrinding, within.SinceGrinding)
	c.scoops(from, to, within)
	mixed := c.amounts(from, to, within)
	c.name(WaterKind, from.WaterKind, to.WaterKind)
	c.number(Temperature, from.Temperature, to.Temperature, within.Temperature)
	c.steps(from.Steps, to.Steps, within)
	return c.judge(mixed)
}

type changes []Change

func (c *changes) judge(mixed bool) Difference {
	out := Difference{Changes: *c, Mixed: mixed}
	unknown := false
	for _, change := range *c {
		switch change.Kind {
		case Unknown:
			unknown = true
		case Followed:
		default:
			out.Causes++
		}
	}
	switch {
	case out.Causes > 1:
		out.Verdict = Several
	case unknown:
		out.Verdict = NotCertain
	case out.Causes == 1:
		out.Verdict = OneChange
	}
	return out
}

func named(name string) Value     { return Value{Name: name, Known: name != ""} }
func numbered(r Reading) Value    { return Value{Number: r.Value, Known: r.Known} }
func (c *changes) add(one Change) { *c = append(*c, one) }

// name compares two names.
func (c *changes) name(f Field, from, to string) {
	if from != to {
		c.add(Change{Field: f, Kind: known(from != "", to != ""), From: named(from), To: named(to)})
	}
}

// known is the kind of a change of which these sides are known.
func known(from, to bool) Kind {
	if from && to {
		return Changed
	}
	return Unknown
}

// differ reports whether two readings differ by more than a tolerance, or one of
// them is missing.
func differ(from, to Reading, within float64) bool {
	return from.Known != to.Known || from.Known && math.Abs(to.Value-from.Value) > within
}

// number compares two numbers.
func (c *changes) number(f Field, from, to Reading, within float64) {
	if differ(from, to, within) {
		c.add(numberChange(f, known(from.Known, to.Known), from, to))
	}
}

func numberChange(f Field, kind Kind, from, to Reading) Change {
	out := Change{Field: f, Kind: kind, From: numbered(from), To: numbered(to)}
	if from.Known && to.Known {
		out.By = to.Value - from.Value
	}
	return out
}

// grind compares grinders and settings: another grinder has another scale, so its
// setting follows.
func (c *changes) grind(from, to Setup, within Tolerances) {
	before := len(*c)
	c.name(Grinder, from.Grinder, to.Grinder)
	other := len(*c) > before && (*c)[before].Kind == Changed
	if !differ(from.Grind, to.Grind, within.Grind) {
		return
	}
	kind := known(from.Grind.Known, to.Grind.Known)
	if other {
		kind = Followed
	}
	change := numberChange(Grind, kind, from.Grind, to.Grind)
	if other {
		change.By = 0 // two scales have no difference
	}
	c.add(change)
}

// scoops compares what was counted where nothing was weighed. A dose that was weighed counts before them, so they follow it.
func (c *changes) scoops(from, to Setup, within Tolerances) {
	weighed := from.Dose.Known && to.Dose.Known
	kind := known(from.Scoops.Known, to.Scoops.Known)
	if !differ(from.Scoops, to.Scoops, within.Scoops) || weighed && kind == Unknown {
		return
	}
	if weighed && differ(from.Dose, to.Dose, within.Dose) {
		kind = Followed
	}
	c.add(numberChange(Scoops, kind, from.Scoops, to.Scoops))
}

// amounts compares dose, ratio and water. It reports whether one move of the hand
// changed both dose and ratio.
func (c *changes) amounts(from, to Setup, within Tolerances) (mixed bool) {
	dose := differ(from.Dose, to.Dose, within.Dose)
	water := differ(from.Water, to.Water, within.Water)
	if !from.Dose.Known || !to.Dose.Known || !from.Water.Known || !to.Water.Known {
		c.number(Dose, from.Dose, to.Dose, within.Dose)
		c.number(Water, from.Water, to.Water, within.Water)
		return false
	}
	a, b := from.ratio(), to.ratio()
	ratio := differ(a, b, ratioTolerance(from, within)+ratioTolerance(to, within))
	if dose {
		c.add(numberChange(Dose, Changed, from.Dose, to.Dose))
	}
	switch {
	case dose && ratio && !water:
		c.add(numberChange(Ratio, Followed, a, b))
		return true
	case ratio:
		c.add(numberChange(Ratio, Changed, a, b))
	}
	if water && (dose || ratio) {
		c.add(numberChange(Water, Followed, from.Water, to.Water))
	}
	return false
}

// ratioTolerance is how far a ratio may be off when dose and water are each off by
// half their tolerance.
func ratioTolerance(s Setup, within Tolerances) float64 {
	return s.ratio().Value / 2 * (within.Dose/s.Dose.Value + within.Water/s.Water.Value)
}
