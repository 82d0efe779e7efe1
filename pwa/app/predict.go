package app

import (
	"slices"

	"hushcup/pwa/core/scaling"
)

// predictTime says how long a setup may take. Where one's own brews know the brewer and the grinder they tell it; else it is the
// recipe's own time, brought to this dose and brewer. It is nil when neither is known.
func (a *App) predictTime(s *BrewSetup) *Prediction {
	to, ok := a.timed(s)
	if !ok {
		return nil
	}
	model, err := scaling.Fit(a.timedBrews(s), to)
	if err != nil {
		return nil
	}
	from, seconds := a.plannedTime(s, to)
	p, err := model.Time(to)
	switch own := err == nil && model.Used() >= leastBrews && !unfamiliar(p); {
	case err == nil && own:
	case seconds > 0:
		p, err = model.Rescale(seconds, from, to)
	case model.Used() == 0:
		return nil
	}
	if err != nil {
		return nil
	}
	out := shownPrediction(p, seconds)
	if a.knowsBrewer(to.Brewer) { // with other recipes only
		out.Reasons = slices.DeleteFunc(out.Reasons, func(r Reason) bool { return r.Code == scaling.ReasonNewBrewer })
	}
	return out
}

func (a *App) knowsBrewer(key string) bool {
	found, _ := a.facts(1, func(e *entry) bool { return e.Facts.Counts && e.Facts.Seconds > 0 && e.Facts.Brewer == key })
	return len(found) > 0
}

const leastBrews = 3

// unfamiliar reports whether a prediction is about a brewer, a grinder or a setting that no brew knows.
func unfamiliar(p scaling.Prediction) bool {
	for _, r := range p.Reasons {
		switch r.Code {
		case scaling.ReasonNewBrewer, scaling.ReasonNewGrinder, scaling.ReasonFarSetting:
			return true
		}
	}
	return false
}

// shownPrediction says beside the time how much coarser the grounds would have to be to keep the recipe's, 0 without a recipe.
func shownPrediction(p scaling.Prediction, planned float64) *Prediction {
	out := &Prediction{Seconds: Interval(p.Seconds), Exponent: Interval(p.Exponent), Enough: p.Enough}
	if planned > 0 {
		by := func(seconds float64) float64 { return scaling.Coarser(seconds / planned) }
		out.Coarser = Interval{by(p.Seconds.Value), by(p.Seconds.Low), by(p.Seconds.High)}
	}
	for _, r := range p.Reasons {
		out.Reasons = append(out.Reasons, Reason{Code: r.Code, N: r.N})
	}
	return out
}

// timed is a setup as time depends on it; false when dose, water or the way of brewing is not known.
func (a *App) timed(s *BrewSetup) (scaling.Setup, bool) {
	shape, ok := shapeOf(s.Geometry, s.Method)
	water := s.Water
	if water == 0 {
		water = s.Dose * s.Ratio
	}
	out := scaling.Setup{Brewer: brewerKey(s), Shape: shape, Grinder: grinderKey(s), Dose: s.Dose, Water: water}
	out.Setting, out.Set = a.position(s.GrinderID, s.Grind)
	return out, ok && out.Check() == nil
}

// timedBrews are the brews that times are learned from, oldest first. Pours by the clock decide much of a brew's time, so a
// brewer counts as another one with other recipes than a setup's.
func (a *App) timedBrews(s *BrewSetup) (out []scaling.Brew) {
	brews, _ := a.brewed(func(e *entry) bool { return e.Facts.Seconds > 0 })
	for _, e := range brews {
		f := &e.Facts
		shape, ok := shapeOf(f.Geometry, e.Digest.Method)
		b := scaling.Brew{Seconds: f.Seconds, Setup: scaling.Setup{
			Brewer: e.brewerFor(s), Shape: shape, Grinder: f.Grinder, Setting: f.Grind, Set: f.GrindSet, Dose: f.Dose, Water: f.Water,
		}}
		if ok && b.Check() == nil {
			out = append(out, b)
		}
	}
	return out
}

// brewerFor is the brewer's key, and another one where the recipe was not a setup's.
func (e *entry) brewerFor(s *BrewSetup) string {
	if s.RecipeID != "" && !slices.Contains(e.Items, itemDoc(s.RecipeID)) {
		return e.Facts.Brewer + otherRecipes
	}
	return e.Facts.Brewer
}

const otherRecipes = "/other recipes"

// plannedTime is how long a setup's recipe takes, and for which setup that was meant: at the recipe's dose, in a brewer of its
// geometry. A recipe that was changed for this brew counts as changed. It is 0 without a recipe.
func (a *App) plannedTime(s *BrewSetup, to scaling.Setup) (from scaling.Setup, seconds float64) {
	from, seconds = to, plannedEnd(s.Steps)
	recipe, ok := a.recipe(s.RecipeID)
	if !ok {
		return from, seconds
	}
	if seconds == 0 {
		seconds = plannedEnd(recipe.Steps)
	}
	if recipe.Dose > 0 && recipe.Ratio > 0 {
		from.Dose, from.Water = recipe.Dose, recipe.Dose*recipe.Ratio
	}
	if shape, known := shapeOf(recipe.Geometry, ""); known && recipe.Geometry != s.Geometry && s.Geometry != "" {
		from.Shape, from.Brewer = shape, "recipe/"+recipe.Geometry
	}
	return from, seconds
}

// plannedEnd is when a timeline's water is through, in seconds from its start.
func plannedEnd(steps []RecipeStep) (end float64) {
	for _, s := range steps {
		if s.Kind != "taste" && s.Kind != "bypass" {
			end = max(end, s.At, s.Until)
		}
	}
	return end
}
