package app

import (
	"hushcup/pwa/core/grinder"
	"hushcup/pwa/core/scaling"
)

// hintGrind says which setting would take the recipe's time at this dose; without a recipe, the time that the last brew in this
// brewer took with whatever grinder. It is nil where the clock decides the time, and without a grinder that counts.
func (a *App) hintGrind(s *BrewSetup, _ *Prediction) *GrindHint {
	to, ok := a.timed(s)
	_, scale, known := a.grinderScale(s.GrinderID)
	if !ok || !known || to.Shape == scaling.Immersion {
		return nil
	}
	model, err := scaling.Fit(a.timedBrews(s), to)
	if err != nil {
		return nil
	}
	suggestion, ok := a.suggest(s, to, model, (*entry).brewerFor)
	if ok && !suggestion.Known { // of this recipe too little is known: what other recipes took in this brewer is near enough
		suggestion, ok = a.suggest(s, to, model, anyRecipe)
	}
	if !ok {
		return nil
	}
	return shownHint(suggestion, scale)
}

// brewerOf says which brewer a brew counts for.
type brewerOf func(e *entry, s *BrewSetup) string

func anyRecipe(e *entry, _ *BrewSetup) string { return e.Facts.Brewer }

func (a *App) suggest(s *BrewSetup, to scaling.Setup, model *scaling.Model, of brewerOf) (out grinder.Suggestion, ok bool) {
	curve, err := a.curve(grinder.Place{Grinder: to.Grinder, Brewer: to.Brewer, Dose: to.Dose}, s, model, of)
	if err != nil {
		return out, false
	}
	if from, seconds := a.plannedTime(s, to); seconds > 0 {
		p, err := model.Rescale(seconds, from, to)
		if err != nil {
			return out, false
		}
		out, err = curve.Setting(p.Seconds.Value)
		return out, err == nil
	}
	last := a.lastGround(func(e *entry) bool {
		return e.Facts.Counts && e.Facts.Brewer == to.Brewer && e.Facts.GrindSet && !steeped(e)
	})
	if last == nil {
		return out, false
	}
	f := &last.Facts
	there, err := a.curve(grinder.Place{Grinder: f.Grinder, Brewer: f.Brewer, Dose: f.Dose}, s, model, anyRecipe)
	if err != nil {
		return out, false
	}
	out, err = grinder.Transfer(there, grinder.Position(f.Grind), curve)
	return out, err == nil
}

// curve is what one's brews tell of a grinder in a place. A model of times brings them to one dose; without one geometry does.
func (a *App) curve(place grinder.Place, s *BrewSetup, model *scaling.Model, of brewerOf) (*grinder.Curve, error) {
	brews, _ := a.brewed(func(e *entry) bool { return e.Facts.GrindSet && e.Facts.Grinder == place.Grinder && !steeped(e) })
	var out []grinder.Brew
	for _, e := range brews {
		f := &e.Facts
		shape, _ := shapeOf(f.Geometry, e.Digest.Method)
		b := grinder.Brew{
			Grinder: f.Grinder, Brewer: of(e, s), Position: grinder.Position(f.Grind), Dose: f.Dose, Seconds: f.Seconds,
			Exponent: exponentOf(shape, model),
		}
		if b.Check() == nil {
			out = append(out, b)
		}
	}
	return grinder.Fit(out, place)
}

// steeped reports that the clock decided a brew's time: it says nothing about its grind.
func steeped(e *entry) bool {
	shape, ok := shapeOf(e.Facts.Geometry, e.Digest.Method)
	return !ok || shape == scaling.Immersion
}

func exponentOf(shape scaling.Shape, model *scaling.Model) float64 {
	if model == nil {
		return shape.Exponent()
	}
	p, err := model.Time(scaling.Setup{Shape: shape, Dose: 15, Water: 240})
	if err != nil {
		return shape.Exponent()
	}
	return p.Exponent.Value
}

// grinderScale is a grinder of the Cupboard with its scale; false when there is none that counts.
func (a *App) grinderScale(id string) (Grinder, grinder.Scale, bool) {
	item, ok := a.grinder(id)
	if !ok {
		return item, grinder.Scale{}, false
	}
	scale, known := item.core()
	return item, scale, known
}

// position reads a setting on a grinder's scale.
func (a *App) position(grinderID, setting string) (float64, bool) {
	_, scale, known := a.grinderScale(grinderID)
	if !known || setting == "" {
		return 0, false
	}
	p, err := scale.Parse(setting)
	return float64(p), err == nil
}

// grindName is a position as the grinder's scale says it.
func (a *App) grindName(grinderID string, position float64) string {
	_, scale, known := a.grinderScale(grinderID)
	if !known {
		return ""
	}
	return scale.Format(scale.Nearest(grinder.Position(position)))
}

func shownHint(s grinder.Suggestion, scale grinder.Scale) *GrindHint {
	nearest, s := s.On(scale)
	out := &GrindHint{Known: s.Known}
	for _, r := range s.Reasons {
		out.Reasons = append(out.Reasons, Reason{Code: r.Code, N: r.N})
	}
	if !s.Known {
		return out
	}
	name := func(p float64) string { return scale.Format(scale.Nearest(grinder.Position(p))) }
	out.Setting, out.Low, out.High = scale.Format(nearest), name(s.Position.Low), name(s.Position.High)
	out.Seconds = Interval(s.Seconds)
	return out
}
