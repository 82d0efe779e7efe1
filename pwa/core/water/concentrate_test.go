package water

import "testing"

func TestATestCannotTellCalciumFromMagnesium(t *testing.T) {
	w := Tested(120, 80)
	near2(t, "hardness", w.Hardness(), 120, 1e-9)
	near2(t, "alkalinity", w.Alkalinity(), 80, 1e-9)
	if w.Magnesium != 0 {
		t.Errorf("a test knows magnesium: %+v", w)
	}
}

// TestSolubilityStaysBelowThePublished: CRC Handbook, 25 °C, in grams of the
// anhydrous salt to 100 g of water: MgSO4 35.7, MgCl2 56.0, CaCl2 81.3, CaSO4 0.205,
// NaHCO3 10.3, KHCO3 36.2. A litre of solution holds less water than a litre, so
// half of that is on the safe side for the well soluble ones.
func TestSolubilityStaysBelowThePublished(t *testing.T) {
	published := map[string]float64{"magnesium-sulphate": 357, "magnesium-chloride": 560, "calcium-chloride": 813, "calcium-sulphate": 2.05, "sodium-bicarbonate": 103, "potassium-bicarbonate": 362}
	anhydrous := map[string]float64{"magnesium-sulphate": 120.37 / 246.47, "magnesium-chloride": 95.21 / 203.30, "calcium-chloride": 110.98 / 147.01, "calcium-sulphate": 136.14 / 172.17, "sodium-bicarbonate": 1, "potassium-bicarbonate": 1}
	for _, s := range Salts() {
		as := s.Dissolves * anhydrous[s.ID]
		if as <= 0 || as > 0.8*published[s.ID] {
			t.Errorf("%s: %.3g g/L of the anhydrous salt, published %.3g", s.ID, as, published[s.ID])
		}
	}
	if len(published) != len(Salts()) {
		t.Error("a salt without a figure")
	}
}

func TestWhatDoesNotStayDissolved(t *testing.T) {
	for _, c := range []struct {
		name  string
		grams map[string]float64
		want  []Doubt
	}{
		{"one salt", map[string]float64{"sodium-bicarbonate": 8}, nil},
		{"gypsum", map[string]float64{"calcium-sulphate": 8}, []Doubt{{CodeUndissolved, "calcium-sulphate", 1}}},
		{"chalk", map[string]float64{"calcium-chloride": 8, "sodium-bicarbonate": 8}, []Doubt{{Code: CodeFallsOut, Salt: "sodium-bicarbonate"}}},
		{"gypsum from two", map[string]float64{"calcium-chloride": 8, "magnesium-sulphate": 8}, []Doubt{{Code: CodeFallsOut, Salt: "magnesium-sulphate"}}},
		{"two that keep", map[string]float64{"magnesium-sulphate": 8, "potassium-bicarbonate": 8}, nil},
	} {
		got := Concentrate{Litres: 0.5, Grams: c.grams}.Doubts()
		if len(got) != len(c.want) {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
			continue
		}
		for i := range got {
			if got[i] != c.want[i] {
				t.Errorf("%s: %+v, want %+v", c.name, got[i], c.want[i])
			}
		}
	}
}

func TestADoseTooSmallToWeighComesFromAConcentrate(t *testing.T) {
	if Weighable(0.08, 0.1) || !Weighable(2, 0.1) {
		t.Error("a scale of ±0.1 g weighs 2 g within a twentieth, and not 0.08 g")
	}
	for _, s := range Salts() {
		d, ok := Dilute(s, 0.08, 0.1)
		if s.ID == "calcium-sulphate" {
			if ok {
				t.Errorf("gypsum as a concentrate: %+v", d)
			}
			continue
		}
		if !ok || !Weighable(d.Grams, 0.1) {
			t.Errorf("%s: %+v", s.ID, d)
		}
		near2(t, s.ID+": grams to the litre", d.Grams/d.Litres/1000*d.MillilitresPerLitre, 0.08, 1e-12)
	}
}
