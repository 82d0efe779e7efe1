package app

import (
	"math"

	"hushcup/pwa/core/brewing"
	"hushcup/pwa/core/water"
)

func (a *App) lookWater(Nothing) (WaterView, *Error) {
	v := WaterView{Waters: a.waters(), Concentrates: a.concentrates(), Clubs: a.clubTargets(), Unit: a.hardnessUnit(), Scale: a.scalePrecision()}
	for _, s := range water.Salts() {
		v.Salts = append(v.Salts, SaltFacts{Salt: s.ID, Formula: s.Formula, Dissolves: s.Dissolves})
	}
	for _, u := range water.Units() {
		v.Units = append(v.Units, UnitFacts{Unit: string(u), Factor: u.From(1)})
	}
	for _, r := range water.Ranges() {
		v.Ranges = append(v.Ranges, WaterRange{
			ID: r.ID, Year: r.Year, HardnessLow: r.HardnessLow, HardnessHigh: r.HardnessHigh, CalciumOnly: r.CalciumOnly,
			AlkalinityLow: r.AlkalinityLow, AlkalinityHigh: r.AlkalinityHigh, Read: r.Basis == "read",
		})
	}
	return v, nil
}

func (a *App) hardnessUnit() string { return string(water.MgPerLitre) }

// scalePrecision is how far the usual scale may be off, plus or minus, in g: as its owner has it, or as kitchens have them.
func (a *App) scalePrecision() float64 {
	return rounded(float64(brewing.Kitchen().Scale)*math.Sqrt(3), 2)
}

func (a *App) waters() []WaterItem { return nil }

func (a *App) concentrates() []ConcentrateItem { return nil }

func (a *App) water(string) (Water, bool) { return Water{}, false }

func (a *App) concentrate(string) (Concentrate, bool) { return Concentrate{}, false }
