package water

import (
	"math"
	"strconv"
)

// A Water is what a label or a test states, in mg/L; what it does not state is 0.
type Water struct {
	Calcium, Magnesium, Sodium, Potassium float64
	Bicarbonate, Chloride, Sulphate       float64
}

// Tested is the water of a test that gives hardness and alkalinity only, as CaCO3.
// A test can't tell calcium from magnesium: all of the hardness stands as calcium.
func Tested(hardness, alkalinity float64) Water {
	return Water{Calcium: hardness / calciumFactor, Bicarbonate: alkalinity / bicarbonateFactor}
}

// Factors from mg/L of an ion to mg/L as calcium carbonate.
const (
	calciumFactor     = 2.497
	magnesiumFactor   = 4.118
	bicarbonateFactor = 0.820
)

// Hardness returns the general hardness in mg/L as CaCO3.
func (w Water) Hardness() float64 {
	return w.Calcium*calciumFactor + w.Magnesium*magnesiumFactor
}

// CalciumHardness returns the part of the hardness that is calcium.
func (w Water) CalciumHardness() float64 { return w.Calcium * calciumFactor }

// Alkalinity returns the alkalinity in mg/L as CaCO3, of bicarbonate alone: at
// the pH of drinking water, carbonate is next to nothing.
func (w Water) Alkalinity() float64 { return w.Bicarbonate * bicarbonateFactor }

// Plus adds two waters, ion by ion.
func (w Water) Plus(other Water) Water {
	return w.with(other, func(a, b float64) float64 { return a + b })
}

// Times multiplies all ions.
func (w Water) Times(factor float64) Water {
	return w.with(w, func(a, _ float64) float64 { return a * factor })
}

func (w Water) with(o Water, f func(a, b float64) float64) Water {
	return Water{
		f(w.Calcium, o.Calcium), f(w.Magnesium, o.Magnesium), f(w.Sodium, o.Sodium), f(w.Potassium, o.Potassium),
		f(w.Bicarbonate, o.Bicarbonate), f(w.Chloride, o.Chloride), f(w.Sulphate, o.Sulphate),
	}
}

// A Unit of hardness or alkalinity.
type Unit string

// Units.
const (
	MgPerLitre   Unit = "mg/L"   // as CaCO3; in the trade also "ppm"
	GermanDegree Unit = "°dH"    // 10 mg/L as CaO
	FrenchDegree Unit = "°fH"    // 10 mg/L as CaCO3
	ClarkDegree  Unit = "°Clark" // a grain of CaCO3 to an imperial gallon
	GrainsPerUS  Unit = "gpg"    // a grain of CaCO3 to a US gallon
	MillimolPerL Unit = "mmol/L" // of calcium and magnesium
)

// perUnit is how many mg/L as CaCO3 one unit has.
func (u Unit) perUnit() float64 {
	switch u {
	case GermanDegree:
		return 17.848
	case FrenchDegree:
		return 10
	case ClarkDegree:
		return 14.254
	case GrainsPerUS:
		return 17.118
	case MillimolPerL:
		return 100.087
	}
	return 1
}

// Units returns all units.
func Units() []Unit {
	return []Unit{MgPerLitre, GermanDegree, FrenchDegree, ClarkDegree, GrainsPerUS, MillimolPerL}
}

// In converts mg/L as CaCO3 to a unit.
func (u Unit) In(mgPerLitre float64) float64 { return mgPerLitre / u.perUnit() }

// From converts a number of the unit to mg/L as CaCO3.
func (u Unit) From(x float64) float64 { return x * u.perUnit() }

// A Finding is one number of a label that cannot be, or is hardly meant.
type Finding struct {
	Impossible bool // else surprising
	Field      string
	Value      float64
}

// most is past any drinking water; a mineral water has a few thousand mg/L.
const most = 10_000

// Check refuses negative and absurd ions and questions labels whose ions do not
// balance in charge: something was read wrong or is not stated.
func (w Water) Check() []Finding {
	var out []Finding
	for _, ion := range w.ions() {
		if !(ion.mg >= 0 && ion.mg <= most) {
			out = append(out, Finding{true, ion.name, ion.mg})
		}
	}
	if len(out) > 0 {
		return out
	}
	if off, ok := w.Imbalance(); ok && math.Abs(off) > 0.15 {
		out = append(out, Finding{false, "balance", off})
	}
	return out
}

type ion struct {
	name   string
	mg     float64
	charge float64 // millimol of charge to a milligram
}

func (w Water) ions() []ion {
	return []ion{
		{"calcium", w.Calcium, 2 / 40.078}, {"magnesium", w.Magnesium, 2 / 24.305}, {"sodium", w.Sodium, 1 / 22.990}, {"potassium", w.Potassium, 1 / 39.098},
		{"bicarbonate", w.Bicarbonate, -1 / 61.017}, {"chloride", w.Chloride, -1 / 35.453}, {"sulphate", w.Sulphate, -2 / 96.06},
	}
}

// Imbalance returns cations less anions over their sum, in charge, and false
// when the label states too little of either to tell.
func (w Water) Imbalance() (float64, bool) {
	var cations, anions float64
	for _, i := range w.ions() {
		if c := i.mg * i.charge; c > 0 {
			cations += c
		} else {
			anions -= c
		}
	}
	if cations < 0.2 || anions < 0.2 || w.Bicarbonate == 0 || w.Calcium == 0 {
		return 0, false
	}
	return (cations - anions) / (cations + anions), true
}

// A Range is what the trade published for brewing water, as CaCO3.
type Range struct {
	ID                            string
	Year                          int
	HardnessLow, HardnessHigh     float64
	CalciumOnly                   bool // the hardness is of calcium alone
	AlkalinityLow, AlkalinityHigh float64
	Basis                         string // "read" or "unconfirmed"
}

// Ranges returns both published revisions, newest first. The older one gives
// calcium hardness, and for alkalinity only "at or near 40".
func Ranges() []Range {
	return []Range{
		{ID: "trade-2018", Year: 2018, HardnessLow: 50, HardnessHigh: 175, AlkalinityLow: 40, AlkalinityHigh: 70, Basis: "unconfirmed"},
		{ID: "trade-2009", Year: 2009, HardnessLow: 17, HardnessHigh: 85, CalciumOnly: true, AlkalinityLow: 35, AlkalinityHigh: 45, Basis: "unconfirmed"},
	}
}

// Has reports whether hardness and alkalinity lie within the range.
func (r Range) Has(w Water) (hardness, alkalinity bool) {
	h := w.Hardness()
	if r.CalciumOnly {
		h = w.CalciumHardness()
	}
	a := w.Alkalinity()
	return h >= r.HardnessLow && h <= r.HardnessHigh, a >= r.AlkalinityLow && a <= r.AlkalinityHigh
}

// An Error names the field that was refused.
type Error struct {
	Code  string
	Field string
	Value float64
}

func (e *Error) Error() string {
	return e.Field + " of " + strconv.FormatFloat(e.Value, 'g', 6, 64) + " refused: " + e.Code
}

// Codes of errors.
const (
	CodeRange    = "range"
	CodeNoSource = "no-source" // nothing to blend
)
