package app

import (
	"math"
	"slices"

	"hushcup/pwa/core/water"
)

const mostSources = 20

// mixSource is a source with what the arithmetic needs of it.
type mixSource struct {
	MixSource
	name  string
	water water.Source
	salt  water.Salt
	test  bool // its magnesium is not known
}

// mixWater blends waters, concentrates and salts towards a target.
func (a *App) mixWater(args WaterMix) (WaterMixed, *Error) {
	err := first(args.Target.check(), within("litres", args.Litres, 0.05, 200), tooMany("sources", len(args.Sources), mostSources))
	if err != nil {
		return WaterMixed{}, err
	}
	var sources []mixSource
	for i, named := range args.Sources {
		if slices.Contains(args.Sources[:i], named) {
			continue
		}
		s, err := a.mixSource(named)
		if err != nil {
			return WaterMixed{}, withField(err, "sources."+decimal(i))
		}
		sources = append(sources, s)
	}
	return blend(sources, args.Target, args.Litres, a.scalePrecision())
}

func (t *WaterTarget) check() *Error {
	err := first(within("hardness", t.Hardness, 0, mostCaCO3), within("alkalinity", t.Alkalinity, 0, mostCaCO3))
	if err == nil && t.Magnesium != -1 {
		err = within("magnesium", t.Magnesium, 0, 1)
	}
	return err
}

func (a *App) mixSource(named MixSource) (s mixSource, err *Error) {
	s.MixSource = named
	switch named.What {
	case "pure":
	case "water":
		w, ok := a.water(named.ID)
		if !ok {
			return s, unknown("water")
		}
		s.name, s.water.Water, s.test = w.Name, w.core(), w.Source == "test"
	case "concentrate":
		c, ok := a.concentrate(named.ID)
		if !ok {
			return s, unknown("concentrate")
		}
		s.name, s.water.Dosed = c.Name, true
		s.water.Water, _ = c.brings()
	case "salt":
		for _, salt := range water.Salts() {
			if salt.ID == named.ID {
				s.salt, s.water = salt, water.Source{Water: salt.PerGram, Dosed: true}
				return s, nil
			}
		}
		return s, unknown("salt")
	default:
		return s, oneOf("what", named.What, "MixKind")
	}
	return s, nil
}

// blend works a blend out. What would be less than half a per cent of the blend, or brings less than half a mg/L, is left out: nobody
// can measure it.
func blend(sources []mixSource, target WaterTarget, litres, precision float64) (WaterMixed, *Error) {
	mix, err := blendOf(sources, target)
	if err != nil {
		return WaterMixed{}, err
	}
	var used []mixSource
	for i, s := range sources {
		if !s.negligible(mix.Parts[i]) {
			used = append(used, s)
		}
	}
	if len(used) < len(sources) && len(used) > 0 {
		if mix, err = blendOf(used, target); err != nil {
			return WaterMixed{}, err
		}
	}
	out := WaterMixed{Gives: mixedWater(mix.Gives)}
	for i, s := range used {
		out.Parts = append(out.Parts, s.part(mix.Parts[i], litres, precision))
		out.Unsure = out.Unsure || s.test && target.Magnesium >= 0
	}
	for _, m := range mix.Misses {
		out.Misses = append(out.Misses, MixMiss(m))
	}
	out.Reads = out.Gives.reads()
	return out, nil
}

func blendOf(sources []mixSource, target WaterTarget) (water.Mix, *Error) {
	var in []water.Source
	for _, s := range sources {
		in = append(in, s.water)
	}
	mix, fault := water.Blend(in, water.Target{Hardness: target.Hardness, Alkalinity: target.Alkalinity, Magnesium: target.Magnesium})
	if fault != nil {
		return mix, refuse(CodeRequired, "sources", "choose a water to begin with; pure water is one too")
	}
	return mix, nil
}

func (s *mixSource) negligible(part float64) bool {
	if !s.water.Dosed {
		return part < 0.005
	}
	brings := s.water.Water.Times(part)
	return brings.Hardness() < 0.5 && brings.Alkalinity() < 0.5
}

func (s *mixSource) part(part, litres, precision float64) MixPart {
	out := MixPart{What: s.What, ID: s.ID, Name: s.name}
	switch s.What {
	case "concentrate":
		out.Millilitres = rounded(part*litres, 2)
	case "salt":
		out.Grams = rounded(part*litres, 4)
		out.TooFine = !water.Weighable(part*litres, precision)
		if d, ok := water.Dilute(s.salt, part, precision); out.TooFine && ok {
			out.Instead = &MixDilution{Grams: d.Grams, Litres: d.Litres, Millilitres: rounded(d.MillilitresPerLitre*litres, 1)}
		}
	default:
		out.Share, out.Litres = rounded(part, 4), rounded(part*litres, 4)
	}
	return out
}

// mixedWater is a blend as a water of the Cupboard has it, to a hundredth of a mg/L.
func mixedWater(w water.Water) Water {
	return Water{
		Source: "mixed", Calcium: rounded(w.Calcium, 2), Magnesium: rounded(w.Magnesium, 2), Sodium: rounded(w.Sodium, 2), Potassium: rounded(w.Potassium, 2),
		Bicarbonate: rounded(w.Bicarbonate, 2), Chloride: rounded(w.Chloride, 2), Sulphate: rounded(w.Sulphate, 2),
	}
}

func rounded(x float64, decimals int) float64 {
	unit := math.Pow10(decimals)
	return math.Round(x*unit) / unit
}
