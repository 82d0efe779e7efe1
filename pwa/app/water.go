package app

import "hushcup/pwa/core/water"

// core is the water as the trade's arithmetic knows it.
func (w *Water) core() water.Water {
	if w.Source == "test" {
		return water.Tested(w.Hardness, w.Alkalinity)
	}
	return water.Water{
		Calcium: w.Calcium, Magnesium: w.Magnesium, Sodium: w.Sodium, Potassium: w.Potassium,
		Bicarbonate: w.Bicarbonate, Chloride: w.Chloride, Sulphate: w.Sulphate,
	}
}

// mostCaCO3 is past any water that somebody brews with, in mg/L as CaCO3.
const mostCaCO3 = 2000.0

// check refuses what cannot be. Numbers that do not belong to the source are dropped: they would contradict the others.
func (w *Water) check() *Error {
	return first(named(&w.Name, &w.Note), oneOf("source", w.Source, "WaterSource"), w.checkNumbers())
}

func (w *Water) checkNumbers() *Error {
	if w.Source != "test" {
		w.Hardness, w.Alkalinity = 0, 0
		return impossibleIon(w.core())
	}
	*w = Water{ID: w.ID, Name: w.Name, Source: w.Source, Hardness: w.Hardness, Alkalinity: w.Alkalinity, Note: w.Note}
	return first(within("hardness", w.Hardness, 0, mostCaCO3), within("alkalinity", w.Alkalinity, 0, mostCaCO3))
}

func impossibleIon(w water.Water) *Error {
	for _, f := range w.Check() {
		if f.Impossible {
			return refuse(CodeImpossible, f.Field, "no water has this")
		}
	}
	return nil
}

// readWater says what a label comes to while it is being typed.
func (a *App) readWater(w Water) (WaterReading, *Error) {
	if err := first(oneOf("source", w.Source, "WaterSource"), w.checkNumbers()); err != nil {
		return WaterReading{}, err
	}
	return WaterReading{Reads: w.reads(), Doubts: w.doubts()}, nil
}

func (w *Water) reads() WaterRead {
	in := w.core()
	r := WaterRead{Hardness: in.Hardness(), Alkalinity: in.Alkalinity(), Balanced: len(w.doubts()) == 0, Split: w.Source != "test"}
	if r.Split {
		r.Calcium = in.CalciumHardness()
	}
	for _, published := range water.Ranges() {
		hardness, alkalinity := published.Has(in)
		r.Ranges = append(r.Ranges, WaterWithin{
			ID: published.ID, Year: published.Year, Hardness: hardness, Alkalinity: alkalinity, Read: published.Basis == "read",
			Known: r.Split || !published.CalciumOnly,
		})
	}
	return r
}

func (w *Water) doubts() (out []WaterDoubt) {
	if w.Source == "test" {
		return nil // hardness and alkalinity alone have no balance
	}
	for _, f := range w.core().Check() {
		if !f.Impossible {
			out = append(out, WaterDoubt{Code: f.Field, Value: f.Value * 100})
		}
	}
	return out
}
