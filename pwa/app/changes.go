package app

import (
	"strconv"
	"strings"

	"hushcup/pwa/core/evening"
)

// trialSetup is what a brew was or will be set up with, as changes are told.
type trialSetup struct {
	BrewSetup
	Key    string  // of the coffee: its brews have the same
	Code   int     // of the sample, 0 for one's own coffee
	Ground float64 // position on the grinder's own scale
	Set    bool    // whether that is known
}

// changesBetween lists what changed from one setup to a later one; nil when one of them holds what cannot be.
func changesBetween(from, to *trialSetup) *Changes {
	a, b := grindReadings(from, to)
	earlier, later := from.evening(a), to.evening(b)
	d, err := evening.Compare(earlier, later, evening.Usual())
	if err != nil {
		return nil
	}
	return shownChanges(d, from, to)
}

// grindReadings reads two settings where they can be compared. Settings in words are alike or not.
func grindReadings(from, to *trialSetup) (a, b evening.Reading) {
	if from.Set && to.Set {
		return evening.Read(from.Ground), evening.Read(to.Ground)
	}
	one, other := folded(from.Grind), folded(to.Grind)
	a, b = evening.Reading{Known: one != ""}, evening.Reading{Known: other != ""}
	if one != other {
		b.Value = 1
	}
	return a, b
}

func folded(text string) string { return strings.ToLower(strings.Join(strings.Fields(text), " ")) }

// evening is a setup as core/evening compares it. Names count by id where there is one.
func (s *trialSetup) evening(grind evening.Reading) evening.Setup {
	water := s.Water
	if water == 0 {
		water = s.Dose * s.Ratio
	}
	out := evening.Setup{
		Coffee: s.Key, Brewer: idOr(s.BrewerID, s.Brewer, s.Geometry, s.Method), Filter: folded(s.Filter),
		Grinder: idOr(s.GrinderID, s.Grinder), Grind: grind, SinceGrinding: measured(s.SinceGrinding), Scoops: measured(s.Scoops),
		Dose: measured(s.Dose), Water: measured(water), WaterKind: idOr(s.WaterID, s.WaterName), Temperature: measured(s.Kettle),
	}
	for _, d := range doings(s.Steps, s.Ratio) {
		out.Steps = append(out.Steps, d.Doing)
	}
	return out
}

// idOr is an id, or the first name where there is none.
func idOr(id string, names ...string) string {
	for _, name := range names {
		if id == "" {
			id = folded(name)
		}
	}
	return id
}

func measured(value float64) evening.Reading {
	return evening.Reading{Value: value, Known: value > 0}
}

// doing is a step as it is compared, or the wait before the next one; at is the step's place in the timeline.
type doing struct {
	evening.Doing
	at int
}

// doings are a timeline's steps with the waits between them, which recipes need not write down: who pours later waits longer.
func doings(steps []RecipeStep, ratio float64) (out []doing) {
	for i, s := range steps {
		d := doing{evening.Doing{Kind: s.Kind, To: share(s, ratio), Times: measured(float64(s.Times)), Manner: s.Pattern}, i}
		end := max(s.At, s.Until)
		if s.Until > s.At {
			d.Seconds = evening.Read(s.Until - s.At)
		}
		out = append(out, d)
		if i+1 < len(steps) && s.At >= 0 && steps[i+1].At >= end+1 && s.Kind != "wait" {
			out = append(out, doing{evening.Doing{Kind: "wait", Seconds: evening.Read(steps[i+1].At - end)}, i})
		}
	}
	return out
}

// share is the part of the water that a pour reaches.
func share(s RecipeStep, ratio float64) evening.Reading {
	if s.Dose > 0 && ratio > 0 {
		return evening.Read(s.Dose / ratio)
	}
	return measured(s.Water)
}

var changeVerdicts = [...]string{
	evening.Repeated: "repeated", evening.OneChange: "one", evening.Several: "several", evening.NotCertain: "unsure",
}

func shownChanges(d evening.Difference, from, to *trialSetup) *Changes {
	out := &Changes{Verdict: changeVerdicts[d.Verdict], Causes: d.Causes, Mixed: d.Mixed}
	before, after := doings(from.Steps, from.Ratio), doings(to.Steps, to.Ratio)
	for _, c := range d.Changes {
		shown := Change{
			Field: c.Field.String(), Kind: c.Kind.String(), From: c.From.Number, To: c.To.Number,
			FromKnown: c.From.Known, ToKnown: c.To.Known, StepKind: c.StepKind,
		}
		if c.Field >= evening.Step {
			in := after
			if c.Kind == evening.Removed {
				in = before
			}
			shown.Step = in[c.Step].at + 1
			shown.FromName, shown.ToName = c.From.Name, c.To.Name
		} else {
			shown.FromName, shown.ToName = from.named(c.Field), to.named(c.Field)
		}
		if c.Field == evening.Grind && !(from.Set && to.Set) {
			shown.From, shown.To = 0, 0 // only alike or not
		}
		out.List = append(out.List, shown)
	}
	return out
}

// named is what a field is called in a brew; empty for numbers.
func (s *trialSetup) named(f evening.Field) string {
	switch f {
	case evening.Coffee:
		if s.Code != 0 {
			return strconv.Itoa(s.Code)
		}
		return s.Coffee
	case evening.Brewer:
		return s.Brewer
	case evening.Filter:
		return s.Filter
	case evening.Grinder:
		return s.Grinder
	case evening.Grind:
		return s.Grind
	case evening.WaterKind:
		return s.WaterName
	}
	return ""
}
