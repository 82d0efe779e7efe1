package app

import (
	"math"

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

func (a *App) hardnessUnit() string { return a.home().Hardness }

// scalePrecision is how far the usual scale may be off, plus or minus, in g: as its owner has it, or as kitchens have them.
func (a *App) scalePrecision() float64 {
	return rounded(float64(a.kitchen().Scale)*math.Sqrt(3), 2)
}

func (a *App) waters() (out []WaterItem) {
	eachItem(a, "water", func(id string, away bool, w Water) {
		w.ID = id
		out = append(out, WaterItem{Water: w, Kept: a.kept("water", id, away), Reads: w.reads()})
	})
	byName(out, func(w WaterItem) (Kept, string) { return w.Kept, w.Water.Name })
	return out
}

func (a *App) concentrates() (out []ConcentrateItem) {
	eachItem(a, "concentrate", func(id string, away bool, c Concentrate) {
		c.ID = id
		out = append(out, ConcentrateItem{Concentrate: c, Kept: a.kept("concentrate", id, away), Reads: c.reads()})
	})
	byName(out, func(c ConcentrateItem) (Kept, string) { return c.Kept, c.Concentrate.Name })
	return out
}

func (a *App) saveWater(w Water) (Saved, *Error) {
	if err := w.check(); err != nil {
		return Saved{}, err
	}
	return a.saveItem("water", w.ID, withoutID(&w, &w.ID))
}

func (a *App) saveConcentrate(c Concentrate) (Saved, *Error) {
	if err := c.check(); err != nil {
		return Saved{}, err
	}
	return a.saveItem("concentrate", c.ID, withoutID(&c, &c.ID))
}
