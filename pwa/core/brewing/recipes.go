package brewing

const (
	second Millis = 1000
	minute        = 60 * second
)

// Recipes returns the recipes that a new notebook starts with: our own, within
// the ranges that the trade teaches (55 to 70 g of coffee to a litre, water of
// 90 to 96 °C, a bloom of two to three times the dose for 30 to 45 s, two and a
// half to four minutes through a bed, a press in two to three; cupping after the 2015 protocol's 8.25 g to 150 mL, crust
// broken at four minutes).
func Recipes() []Recipe {
	return []Recipe{cone(), flatBed(), steepAndDrain(), pressInverted(), pressUpright(), cuppingBowl()}
}

// before puts preparing steps ahead of the clock.
func before(kinds ...StepKind) (out []Step) {
	for _, k := range kinds {
		out = append(out, Step{Kind: k, At: -minute})
	}
	return out
}

func cone() Recipe {
	return Recipe{
		ID: "cone", Title: "Cone, three pours", Brewer: Cone,
		Dose: 15, Ratio: 16, Kettle: 94, Grind: MediumFine, Filter: "paper",
		Steps: append(before(Rinse, Preheat, Add),
			Step{Kind: Bloom, At: 0, Until: 10 * second, Dose: 2.5, Pattern: Spiral},
			Step{Kind: Swirl, At: 10 * second, Times: 2},
			Step{Kind: Wait, At: 12 * second, Until: 40 * second},
			Step{Kind: PourTo, At: 40 * second, Until: 60 * second, Water: 0.6, Pattern: Spiral},
			Step{Kind: Wait, At: minute, Until: 75 * second},
			Step{Kind: PourTo, At: 75 * second, Until: 95 * second, Water: 1, Pattern: Centre},
			Step{Kind: Swirl, At: 95 * second, Times: 1},
			Step{Kind: Drain, At: 100 * second, Until: 3 * minute},
		),
		Cautions: []Caution{HotWater, HotGlass},
	}
}

func flatBed() Recipe {
	return Recipe{
		ID: "flat-bed", Title: "Flat bed, four even pours", Brewer: FlatBed,
		Dose: 18, Ratio: 16, Kettle: 94, Grind: Medium, Filter: "paper",
		Steps: append(before(Rinse, Preheat, Add),
			Step{Kind: Bloom, At: 0, Until: 10 * second, Dose: 2.5, Pattern: Evenly},
			Step{Kind: Wait, At: 10 * second, Until: 40 * second},
			Step{Kind: PourTo, At: 40 * second, Until: 55 * second, Water: 0.45, Pattern: Evenly},
			Step{Kind: PourTo, At: 80 * second, Until: 95 * second, Water: 0.73, Pattern: Evenly},
			Step{Kind: PourTo, At: 2 * minute, Until: 135 * second, Water: 1, Pattern: Evenly},
			Step{Kind: Drain, At: 135 * second, Until: 210 * second},
		),
		Cautions: []Caution{HotWater, HotGlass},
	}
}

func steepAndDrain() Recipe {
	return Recipe{
		ID: "steep-and-drain", Title: "Steep and drain", Brewer: SteepAndDrain,
		Dose: 16, Ratio: 16, Kettle: 95, Grind: Medium, Filter: "paper",
		Steps: append(before(Rinse, Preheat, Add),
			Step{Kind: PourTo, At: 0, Until: 20 * second, Water: 1, Pattern: Evenly},
			Step{Kind: Stir, At: 25 * second, Times: 3},
			Step{Kind: Wait, At: 30 * second, Until: 150 * second},
			Step{Kind: Swirl, At: 150 * second, Times: 1},
			Step{Kind: OpenValve, At: 155 * second},
			Step{Kind: Drain, At: 156 * second, Until: 225 * second},
		),
		Cautions: []Caution{HotWater, ValveDrips},
	}
}

func pressInverted() Recipe {
	return Recipe{
		ID: "press-inverted", Title: "Press, inverted", Brewer: PressInverted,
		Dose: 14, Ratio: 15, Kettle: 90, Grind: MediumFine, Filter: "paper",
		Steps: append(before(Rinse, Preheat, Add),
			Step{Kind: PourTo, At: 0, Until: 15 * second, Water: 1, Pattern: AnyWay},
			Step{Kind: Stir, At: 15 * second, Times: 5},
			Step{Kind: Cap, At: 25 * second},
			Step{Kind: Wait, At: 30 * second, Until: 90 * second},
			Step{Kind: Flip, At: 90 * second},
			Step{Kind: Wait, At: 95 * second, Until: 105 * second},
			Step{Kind: Press, At: 105 * second, Until: 135 * second},
		),
		Cautions: []Caution{HotWater, FlipScalds, PressGently},
	}
}

func pressUpright() Recipe {
	return Recipe{
		ID: "press-upright", Title: "Press, upright, lengthened", Brewer: PressUpright,
		Dose: 16, Ratio: 15, Kettle: 92, Grind: MediumFine, Filter: "paper",
		Steps: append(before(Rinse, Preheat, Add),
			Step{Kind: PourTo, At: 0, Until: 15 * second, Water: 0.75, Pattern: AnyWay},
			Step{Kind: Stir, At: 15 * second, Times: 3},
			Step{Kind: Cap, At: 20 * second},
			Step{Kind: Wait, At: 25 * second, Until: 105 * second},
			Step{Kind: Swirl, At: 105 * second, Times: 1},
			Step{Kind: Press, At: 110 * second, Until: 140 * second},
			Step{Kind: Bypass, At: 145 * second, Water: 0.25},
		),
		Cautions: []Caution{HotWater, PressGently},
	}
}

func cuppingBowl() Recipe {
	return Recipe{
		ID: "cupping-bowl", Title: "Cupping bowl", Brewer: CuppingBowl,
		Dose: 11, Ratio: 18.18, Kettle: 93, Grind: MediumCoarse,
		Steps: append(before(Add),
			Step{Kind: PourTo, At: 0, Until: 10 * second, Water: 1, Pattern: Evenly},
			Step{Kind: Wait, At: 10 * second, Until: 4 * minute},
			Step{Kind: BreakUp, At: 4 * minute, Times: 3},
			Step{Kind: Skim, At: 4*minute + 15*second},
			Step{Kind: Wait, At: 5 * minute, Until: 10 * minute},
			Step{Kind: Taste, At: 10 * minute},
		),
		Cautions: []Caution{HotWater, WaitToTaste},
	}
}
