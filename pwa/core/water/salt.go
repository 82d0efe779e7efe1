package water

// A Salt is a food-grade salt in the hydrate that is stated.
type Salt struct {
	ID      string
	Formula string // with its water
	// PerGram is what one gram brings, in mg of each ion.
	PerGram Water
	// Dissolves is how many grams a litre of cool water surely takes up: solubility at
	// 20 to 25 °C (CRC Handbook of Chemistry and Physics, aqueous solubility of
	// inorganic compounds), as the hydrate and rounded down.
	Dissolves float64
}

// Atomic and ionic masses, IUPAC 2021 abridged.
const (
	massCa, massMg, massNa, massK  = 40.078, 24.305, 22.990, 39.098
	massHCO3, massCl, massSO4      = 61.017, 35.45, 96.06
	massWater                      = 18.015
	massEpsom                      = massMg + massSO4 + 7*massWater
	massMagnesiumChloride          = massMg + 2*massCl + 6*massWater
	massCalciumChloride            = massCa + 2*massCl + 2*massWater
	massGypsum                     = massCa + massSO4 + 2*massWater
	massBicarbonate, massPotassium = massNa + massHCO3, massK + massHCO3
)

// Salts returns the salts that kitchens and pharmacies have, food-grade only.
func Salts() []Salt {
	return []Salt{
		{"magnesium-sulphate", "MgSO4 · 7 H2O", Water{Magnesium: 1000 * massMg / massEpsom, Sulphate: 1000 * massSO4 / massEpsom}, 500},
		{"magnesium-chloride", "MgCl2 · 6 H2O", Water{Magnesium: 1000 * massMg / massMagnesiumChloride, Chloride: 2000 * massCl / massMagnesiumChloride}, 500},
		{"calcium-chloride", "CaCl2 · 2 H2O", Water{Calcium: 1000 * massCa / massCalciumChloride, Chloride: 2000 * massCl / massCalciumChloride}, 500},
		{"calcium-sulphate", "CaSO4 · 2 H2O", Water{Calcium: 1000 * massCa / massGypsum, Sulphate: 1000 * massSO4 / massGypsum}, 2},
		{"sodium-bicarbonate", "NaHCO3", Water{Sodium: 1000 * massNa / massBicarbonate, Bicarbonate: 1000 * massHCO3 / massBicarbonate}, 80},
		{"potassium-bicarbonate", "KHCO3", Water{Potassium: 1000 * massK / massPotassium, Bicarbonate: 1000 * massHCO3 / massPotassium}, 250},
	}
}

// A Concentrate is salts dissolved in a volume of pure water, to be dosed by
// the millilitre and never drunk.
type Concentrate struct {
	Litres float64
	Grams  map[string]float64 // of each salt, by id
}

// PerMillilitre returns what one millilitre of the concentrate brings, in mg.
func (c Concentrate) PerMillilitre() (Water, error) {
	if !(c.Litres > 0 && c.Litres <= 20) {
		return Water{}, &Error{CodeRange, "litres", c.Litres}
	}
	var sum Water
	for _, s := range Salts() {
		grams := c.Grams[s.ID]
		if !(grams >= 0 && grams <= 500*c.Litres) {
			return Water{}, &Error{CodeRange, s.ID, grams}
		}
		sum = sum.Plus(s.PerGram.Times(grams))
	}
	return sum.Times(1 / (1000 * c.Litres)), nil
}
