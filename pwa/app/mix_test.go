package app_test

import (
	"math"
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
)

func closeTo(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// TestPureWaterWithSaltsReachesTheMiddleOfARange: a kitchen scale of ±0.3 g weighs within a twentieth from 6 g on, so for the
// less that ten litres want a bottle of concentrate is offered.
func TestPureWaterWithSaltsReachesTheMiddleOfARange(t *testing.T) {
	vega := newVillage().Phone("vega")
	target := app.WaterTarget{Hardness: 112, Alkalinity: 55, Magnesium: -1}
	mixed := do[app.WaterMixed](t, vega, app.CmdWaterMix, app.WaterMix{
		Sources: []app.MixSource{{What: "pure"}, {What: "salt", ID: "magnesium-sulphate"}, {What: "salt", ID: "sodium-bicarbonate"}},
		Target:  target, Litres: 10,
	})
	if len(mixed.Parts) != 3 || len(mixed.Misses) != 0 || mixed.Unsure {
		t.Fatalf("%+v", mixed)
	}
	pure, epsom, soda := mixed.Parts[0], mixed.Parts[1], mixed.Parts[2]
	closeTo(t, "pure water", pure.Litres, 10, 0.001)
	closeTo(t, "share", pure.Share, 1, 0.0001)
	// 246.47 g of MgSO4·7H2O are as much hardness as 100.09 g of CaCO3; two of NaHCO3 (84.01 g) as much alkalinity
	closeTo(t, "magnesium sulphate", epsom.Grams, 1.12/100.09*246.47, 0.01)
	closeTo(t, "sodium bicarbonate", soda.Grams, 0.55/50.04*84.01, 0.01)
	closeTo(t, "hardness", mixed.Reads.Hardness, 112, 0.5)
	closeTo(t, "alkalinity", mixed.Reads.Alkalinity, 55, 0.5)
	for _, part := range mixed.Parts[1:] {
		if !part.TooFine || part.Instead == nil {
			t.Fatalf("%s of %v g on a scale of ±0.3 g: %+v", part.ID, part.Grams, part)
		}
		closeTo(t, part.ID+" from the bottle", part.Instead.Millilitres*part.Instead.Grams/part.Instead.Litres/1000, part.Grams, 0.02*part.Grams)
	}
	if r := mixed.Reads.Ranges[0]; r.ID != "trade-2018" || !r.Hardness || !r.Alkalinity || r.Read {
		t.Errorf("the middle of the newest range: %+v", r)
	}
}

func TestWhatAMixCannotReachIsSaid(t *testing.T) {
	vega := newVillage().Phone("vega")
	mixed := do[app.WaterMixed](t, vega, app.CmdWaterMix, app.WaterMix{
		Sources: []app.MixSource{{What: "pure"}, {What: "salt", ID: "calcium-chloride"}},
		Target:  app.WaterTarget{Hardness: 80, Alkalinity: 40, Magnesium: 0.5}, Litres: 1,
	})
	missed := map[string]bool{}
	for _, m := range mixed.Misses {
		missed[m.Quantity] = !m.TooMuch
	}
	if !missed["alkalinity"] || !missed["magnesium"] {
		t.Errorf("misses %+v", mixed.Misses)
	}
}

func TestAMixIsRefusedAtItsField(t *testing.T) {
	vega := newVillage().Phone("vega")
	pure := []app.MixSource{{What: "pure"}}
	good := app.WaterTarget{Hardness: 80, Alkalinity: 40, Magnesium: -1}
	for field, mix := range map[string]app.WaterMix{
		"litres":     {Sources: pure, Target: good},
		"hardness":   {Sources: pure, Target: app.WaterTarget{Hardness: -1}, Litres: 1},
		"alkalinity": {Sources: pure, Target: app.WaterTarget{Alkalinity: math.NaN()}, Litres: 1},
		"magnesium":  {Sources: pure, Target: app.WaterTarget{Magnesium: 1.5}, Litres: 1},
		"sources":    {Sources: []app.MixSource{{What: "salt", ID: "sodium-bicarbonate"}}, Target: good, Litres: 1},
		"sources.1":  {Sources: []app.MixSource{{What: "pure"}, {What: "salt", ID: "road-salt"}}, Target: good, Litres: 1},
		"sources.0":  {Sources: []app.MixSource{{What: "water", ID: "none"}}, Target: good, Litres: 1},
	} {
		if _, err := village.Do[app.WaterMixed](vega, app.CmdWaterMix, mix); err == nil || err.Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
}

func TestALabelIsReadWhileItIsTyped(t *testing.T) {
	vega := newVillage().Phone("vega")
	label := app.Water{Source: "label", Calcium: 80.2, Magnesium: 24.3, Sodium: 23, Bicarbonate: 305, Chloride: 35.5, Sulphate: 48}
	read := do[app.WaterReading](t, vega, app.CmdWaterRead, label)
	closeTo(t, "hardness", read.Reads.Hardness, 300, 1) // 6.0 meq of 50.04
	closeTo(t, "alkalinity", read.Reads.Alkalinity, 250, 1)
	if !read.Reads.Balanced || !read.Reads.Split || len(read.Doubts) != 0 {
		t.Errorf("a balanced label: %+v", read)
	}
	label.Bicarbonate = 30.5 // a digit lost
	if read = do[app.WaterReading](t, vega, app.CmdWaterRead, label); len(read.Doubts) != 1 || read.Doubts[0].Code != "balance" || read.Reads.Balanced {
		t.Errorf("a lost digit: %+v", read.Doubts)
	}
	label.Magnesium = -3
	if _, err := village.Do[app.WaterReading](vega, app.CmdWaterRead, label); err == nil || err.Field != "magnesium" || err.Code != app.CodeImpossible {
		t.Errorf("negative magnesium: %v", err)
	}
	read = do[app.WaterReading](t, vega, app.CmdWaterRead, app.Water{Source: "test", Hardness: 60, Alkalinity: 40, Calcium: 999})
	closeTo(t, "hardness of a test", read.Reads.Hardness, 60, 1e-9)
	for _, r := range read.Reads.Ranges {
		if r.Known != (r.Year == 2018) {
			t.Errorf("a test does not tell calcium, which the range of 2009 is about: %+v", r)
		}
	}
}

func TestAConcentrateIsReadWhileItIsTyped(t *testing.T) {
	vega := newVillage().Phone("vega")
	typed := app.Concentrate{Litres: 0.5, Salts: []app.SaltGrams{{Salt: "sodium-bicarbonate", Grams: 0.84}}}
	read := do[app.ConcentrateReading](t, vega, app.CmdConcentrateRead, typed)
	closeTo(t, "alkalinity of a millilitre to the litre", read.Alkalinity, 1.0009, 0.002)
	typed.Salts = append(typed.Salts, app.SaltGrams{Salt: "calcium-chloride", Grams: 5})
	if read = do[app.ConcentrateReading](t, vega, app.CmdConcentrateRead, typed); len(read.Doubts) != 1 || read.Doubts[0].Code != "falls-out" {
		t.Errorf("calcium and bicarbonate in one bottle: %+v", read.Doubts)
	}
	typed.Salts[1].Salt = "road-salt"
	if _, err := village.Do[app.ConcentrateReading](vega, app.CmdConcentrateRead, typed); err == nil || err.Field != "salts.1.salt" {
		t.Errorf("an unknown salt: %v", err)
	}
}
