package app

// keptSetup is a setup as a brew keeps it, and setup the way back.
func keptSetup(s BrewSetup) setupContent {
	return setupContent{
		Coffee: s.Coffee, Method: s.Method, Brewer: s.Brewer, Dose: s.Dose, Water: s.Water, Ratio: s.Ratio, Kettle: s.Kettle,
		Grinder: s.Grinder, Grind: s.Grind, Filter: s.Filter,
		CoffeeID: s.CoffeeID, BrewerID: s.BrewerID, GrinderID: s.GrinderID, WaterID: s.WaterID, RecipeID: s.RecipeID,
		Geometry: s.Geometry, WaterName: s.WaterName, Recipe: s.Recipe, Steps: keptSteps(s.Steps),
		Scoops: s.Scoops, SinceGrinding: s.SinceGrinding,
	}
}

func (s setupContent) setup() BrewSetup {
	return BrewSetup{
		Coffee: s.Coffee, Method: s.Method, Brewer: s.Brewer, Dose: s.Dose, Water: s.Water, Ratio: s.Ratio, Kettle: s.Kettle,
		Grinder: s.Grinder, Grind: s.Grind, Filter: s.Filter,
		CoffeeID: s.CoffeeID, BrewerID: s.BrewerID, GrinderID: s.GrinderID, WaterID: s.WaterID, RecipeID: s.RecipeID,
		Geometry: s.Geometry, WaterName: s.WaterName, Recipe: s.Recipe, Steps: shownSteps(s.Steps),
		Scoops: s.Scoops, SinceGrinding: s.SinceGrinding,
	}
}

func keptSteps(steps []RecipeStep) (out []stepContent) {
	for _, s := range steps {
		out = append(out, stepContent{Kind: s.Kind, At: s.At, Until: s.Until, Water: s.Water, Dose: s.Dose, Pattern: s.Pattern, Times: s.Times})
	}
	return out
}

func shownSteps(steps []stepContent) (out []RecipeStep) {
	for _, s := range steps {
		out = append(out, RecipeStep{Kind: s.Kind, At: s.At, Until: s.Until, Water: s.Water, Dose: s.Dose, Pattern: s.Pattern, Times: s.Times})
	}
	return out
}
