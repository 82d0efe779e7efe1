package app

import (
	"hushcup/pwa/core/water"
)

// waterContent is a Water.
type waterContent struct {
	Name        string  `cbor:"1,keyasint"`
	Source      string  `cbor:"2,keyasint"`
	Calcium     float64 `cbor:"3,keyasint"`
	Magnesium   float64 `cbor:"4,keyasint"`
	Sodium      float64 `cbor:"5,keyasint"`
	Potassium   float64 `cbor:"6,keyasint"`
	Bicarbonate float64 `cbor:"7,keyasint"`
	Chloride    float64 `cbor:"8,keyasint"`
	Sulphate    float64 `cbor:"9,keyasint"`
	Hardness    float64 `cbor:"10,keyasint"`
	Alkalinity  float64 `cbor:"11,keyasint"`
	Note        string  `cbor:"12,keyasint"`
}

func (w *Water) content() waterContent {
	return waterContent{
		Name: w.Name, Source: w.Source, Calcium: w.Calcium, Magnesium: w.Magnesium, Sodium: w.Sodium, Potassium: w.Potassium,
		Bicarbonate: w.Bicarbonate, Chloride: w.Chloride, Sulphate: w.Sulphate, Hardness: w.Hardness, Alkalinity: w.Alkalinity, Note: w.Note,
	}
}

func (c *waterContent) water(id string) Water {
	return Water{
		ID: id, Name: c.Name, Source: c.Source, Calcium: c.Calcium, Magnesium: c.Magnesium, Sodium: c.Sodium, Potassium: c.Potassium,
		Bicarbonate: c.Bicarbonate, Chloride: c.Chloride, Sulphate: c.Sulphate, Hardness: c.Hardness, Alkalinity: c.Alkalinity, Note: c.Note,
	}
}

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
	err := first(text("name", &w.Name, mostTitle, true), text("note", &w.Note, mostNote, false), oneOf("source", w.Source, "WaterSource"))
	if err != nil {
		return err
	}
	return w.checkNumbers()
}

func (w *Water) checkNumbers() *Error {
	if w.Source != "test" {
		w.Hardness, w.Alkalinity = 0, 0
		return impossibleIon(w.core())
	}
	*w = Water{ID: w.ID, Name: w.Name, Source: w.Source, Hardness: w.Hardness, Alkalinity: w.Alkalinity, Note: w.Note}
	return first(between("hardness", w.Hardness, 0, mostCaCO3), between("alkalinity", w.Alkalinity, 0, mostCaCO3))
}

func impossibleIon(w water.Water) *Error {
	for _, f := range w.Check() {
		if f.Impossible {
			return refuse(CodeImpossible, f.Field, "no water has this")
		}
	}
	return nil
}

// between refuses a number outside its bounds, and what is no number.
func between(field string, value, low, high float64) *Error {
	if !(value >= low && value <= high) {
		return refuse(CodeImpossible, field, "this cannot be")
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
