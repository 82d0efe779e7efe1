package app

import (
	"math"
	"strconv"

	"hushcup/pwa/core/brewing"
)

const mostSteps = 40

// core is a recipe as package brewing has it.
func (r Recipe) core() brewing.Recipe {
	c := brewing.Recipe{
		ID: r.ID, Title: r.Title, Brewer: brewing.Brewer(r.Geometry), Dose: brewing.Grams(r.Dose), Ratio: r.Ratio,
		Kettle: brewing.Celsius(r.Kettle), Grind: brewing.Grind(r.Grind), Filter: r.Filter, Cautions: cautionsOf(r.Geometry),
	}
	for _, s := range r.Steps {
		c.Steps = append(c.Steps, brewing.Step{
			Kind: brewing.StepKind(s.Kind), At: millis(s.At), Until: millis(s.Until), Water: s.Water, Dose: s.Dose,
			Pattern: brewing.Pattern(s.Pattern), Times: s.Times,
		})
	}
	return c
}

func millis(seconds float64) brewing.Millis { return brewing.Millis(math.Round(seconds * 1000)) }

func shownRecipe(c brewing.Recipe) Recipe {
	r := Recipe{
		ID: c.ID, Title: c.Title, Geometry: string(c.Brewer), Dose: float64(c.Dose), Ratio: c.Ratio, Kettle: float64(c.Kettle),
		Grind: string(c.Grind), Filter: c.Filter,
	}
	for _, s := range c.Steps {
		r.Steps = append(r.Steps, RecipeStep{
			Kind: string(s.Kind), At: float64(s.At) / 1000, Until: float64(s.Until) / 1000, Water: s.Water, Dose: s.Dose,
			Pattern: string(s.Pattern), Times: s.Times,
		})
	}
	return r
}

// startingRecipe is one of those that every notebook starts with.
func startingRecipe(id string) (brewing.Recipe, bool) {
	for _, c := range brewing.Recipes() {
		if c.ID == id {
			return c, true
		}
	}
	return brewing.Recipe{}, false
}

// cautionsOf are those of the starting recipe for the same geometry: the brewer scalds, whatever the recipe.
func cautionsOf(geometry string) []brewing.Caution {
	for _, c := range brewing.Recipes() {
		if string(c.Brewer) == geometry {
			return c.Cautions
		}
	}
	return []brewing.Caution{brewing.HotWater, brewing.HotGlass}
}

func cautionWords(cautions []brewing.Caution) (out []string) {
	for _, c := range cautions {
		out = append(out, string(c))
	}
	return out
}

// recipe is a recipe of one's own, or a starting point.
func (a *App) recipe(id string) (r Recipe, ok bool) {
	if c, starting := startingRecipe(id); starting {
		return shownRecipe(c), true
	}
	ok = open(a, "recipe", id, &r)
	r.ID = id
	return r, ok
}

// check refuses a recipe that cannot be, at the field of the step.
func (r *Recipe) check() *Error {
	if r.Geometry == "" {
		r.Geometry = "other"
	}
	err := first(text("title", &r.Title, mostItemName, true), text("note", &r.Note, mostNote, false),
		oneOf("geometry", r.Geometry, "Geometry"), oneOf("grind", r.Grind, "GrindWord"), oneOf("filter", r.Filter, "Filter"),
		tooMany("steps", len(r.Steps), mostSteps), within("dose", r.Dose, 0.1, mostGrams), within("ratio", r.Ratio, 1, 100),
		within("kettle", r.Kettle, 0, 100))
	for i, s := range r.Steps {
		field := "steps." + strconv.Itoa(i)
		err = first(err, oneOf(field, s.Kind, "StepKind"), oneOf(field, s.Pattern, "PourPattern"), within(field, s.At, -3600, 7*24*3600),
			within(field, s.Until, -3600, 7*24*3600), within(field, s.Water, 0, 1), within(field, s.Dose, 0, 20))
	}
	if err != nil {
		return err
	}
	if fault := r.core().Check(); fault != nil {
		return refuse(CodeImpossible, fault.Field, recipeFaults[fault.Code])
	}
	return nil
}

var recipeFaults = map[string]string{
	brewing.CodeOutOfOrder: "this step begins before the one above it",
	brewing.CodeNoWater:    "nothing is ever poured",
	brewing.CodeDrains:     "this pour ends at less than was there before it",
	brewing.CodeWaterLeft:  "the pours are not the whole water",
	brewing.CodeBadStep:    "this step cannot be",
	brewing.CodeTooLittle:  "this is too little",
	brewing.CodeTooMuch:    "this is too much",
}
