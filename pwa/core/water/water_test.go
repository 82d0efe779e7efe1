package water

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func near2(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// TestUnitsAgainstPublishedTable compares with the conversion table of DIN
// 38409-6: 1 °dH = 17.8 mg/L CaCO3 = 1.78 °fH = 1.253 °Clark = 1.043 gpg (US)
// = 0.1783 mmol/L.
func TestUnitsAgainstPublishedTable(t *testing.T) {
	one := GermanDegree.From(1)
	for unit, want := range map[Unit]float64{MgPerLitre: 17.8, FrenchDegree: 1.78, ClarkDegree: 1.253, GrainsPerUS: 1.043, MillimolPerL: 0.1783} {
		near2(t, string(unit), unit.In(one), want, 0.003*want)
	}
	for _, u := range Units() {
		near2(t, "back and forth in "+string(u), u.In(u.From(7.5)), 7.5, 1e-12)
	}
}

// TestFactorsAgainstEquivalentWeights: 50.04 g of CaCO3 to an equivalent, 20.04
// of calcium, 12.15 of magnesium, 61.02 of bicarbonate (Standard Methods for the
// Examination of Water and Wastewater, 2340 B).
func TestFactorsAgainstEquivalentWeights(t *testing.T) {
	near2(t, "calcium", Water{Calcium: 20.04}.Hardness(), 50.04, 0.01)
	near2(t, "magnesium", Water{Magnesium: 12.15}.Hardness(), 50.04, 0.02)
	near2(t, "bicarbonate", Water{Bicarbonate: 61.02}.Alkalinity(), 50.04, 0.01)
}

// TestSaltsAgainstStoichiometry: 2.465 g of MgSO4·7H2O or 1.470 g of CaCl2·2H2O
// in a litre are 10 mmol, which are 1,000.9 mg/L as CaCO3 (molar mass 100.09);
// 1.680 g of NaHCO3 are 20 mmol, which are as much alkalinity.
func TestSaltsAgainstStoichiometry(t *testing.T) {
	grams := map[string]float64{"magnesium-sulphate": 2.4648, "magnesium-chloride": 2.0330, "calcium-chloride": 1.4701, "calcium-sulphate": 1.7217, "sodium-bicarbonate": 1.6801, "potassium-bicarbonate": 2.0023}
	for _, s := range Salts() {
		w := s.PerGram.Times(grams[s.ID])
		near2(t, s.ID, w.Hardness()+w.Alkalinity(), 1000.9, 1.5)
		charge := 0.0
		for _, i := range w.ions() {
			charge += i.mg * i.charge
		}
		near2(t, s.ID+": charge", charge, 0, 0.01)
	}
	if len(grams) != len(Salts()) {
		t.Error("a salt without a check")
	}
}

func TestConcentrate(t *testing.T) {
	ml, err := Concentrate{Litres: 0.5, Grams: map[string]float64{"sodium-bicarbonate": 0.84}}.PerMillilitre()
	if err != nil {
		t.Fatal(err)
	}
	near2(t, "alkalinity of a millilitre to the litre", ml.Alkalinity(), 1.0009, 0.002)
	for name, c := range map[string]Concentrate{
		"no volume": {Grams: map[string]float64{"sodium-bicarbonate": 1}},
		"negative":  {Litres: 1, Grams: map[string]float64{"sodium-bicarbonate": -1}},
		"a brick":   {Litres: 1, Grams: map[string]float64{"sodium-bicarbonate": 900}},
	} {
		var e *Error
		if _, err := c.PerMillilitre(); !errors.As(err, &e) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestLabelsAreChecked(t *testing.T) {
	// Balanced: 80 Ca (4.0 meq), 24.3 Mg (2.0), 23 Na (1.0); 305 HCO3 (5.0), 35.5 Cl (1.0), 48 SO4 (1.0).
	good := Water{Calcium: 80.2, Magnesium: 24.3, Sodium: 23, Bicarbonate: 305, Chloride: 35.5, Sulphate: 48}
	if found := good.Check(); found != nil {
		t.Errorf("a balanced label: %v", found)
	}
	off, ok := good.Imbalance()
	if !ok || math.Abs(off) > 0.005 {
		t.Errorf("imbalance %v", off)
	}
	good.Bicarbonate = 30.5 // a digit lost
	if found := good.Check(); len(found) != 1 || found[0].Impossible || found[0].Field != "balance" {
		t.Errorf("a lost digit: %v", found)
	}
	good.Calcium = -1
	if found := good.Check(); len(found) != 1 || !found[0].Impossible || found[0].Field != "calcium" {
		t.Errorf("negative calcium: %v", found)
	}
	if found := (Water{Calcium: math.NaN()}).Check(); len(found) != 1 || !found[0].Impossible {
		t.Errorf("no number: %v", found)
	}
	if found := (Water{}).Check(); found != nil {
		t.Errorf("nothing stated: %v", found)
	}
}

func TestRangesAreBothRevisions(t *testing.T) {
	soft := Water{Calcium: 19, Bicarbonate: 50} // 47 hardness, 41 alkalinity
	want := map[int][2]bool{2018: {false, true}, 2009: {true, true}}
	for i, r := range Ranges() {
		hardness, alkalinity := r.Has(soft)
		if got := [2]bool{hardness, alkalinity}; got != want[r.Year] {
			t.Errorf("%d: %v", r.Year, got)
		}
		if i > 0 && r.Year >= Ranges()[i-1].Year {
			t.Error("not newest first")
		}
	}
	if len(Ranges()) != len(want) {
		t.Error("not both revisions")
	}
}

func TestTwoWatersMeetInTheMiddle(t *testing.T) {
	hard := Water{Calcium: 100, Magnesium: 20, Bicarbonate: 330}
	sources := []Source{{Name: "tap", Water: hard}, {Name: "pure"}}
	m, err := Blend(sources, Target{Hardness: hard.Hardness() / 4, Alkalinity: hard.Alkalinity() / 4, Magnesium: -1})
	if err != nil {
		t.Fatal(err)
	}
	near2(t, "tap", m.Parts[0], 0.25, 1e-4)
	near2(t, "pure", m.Parts[1], 0.75, 1e-4)
	if m.Misses != nil {
		t.Errorf("misses %v", m.Misses)
	}
}

func TestSaltsReachATargetFromPureWater(t *testing.T) {
	sources := []Source{{Name: "pure"}}
	for _, s := range Salts() {
		sources = append(sources, Source{Name: s.ID, Water: s.PerGram, Dosed: true})
	}
	m, err := Blend(sources, Target{Hardness: 70, Alkalinity: 40, Magnesium: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	near2(t, "hardness", m.Gives.Hardness(), 70, 0.01)
	near2(t, "alkalinity", m.Gives.Alkalinity(), 40, 0.01)
	near2(t, "magnesium", m.Gives.Magnesium*4.118, 35, 0.01)
	near2(t, "pure water", m.Parts[0], 1, 1e-9)
	for j, p := range m.Parts[1:] {
		if p < 0 || p > 0.2 {
			t.Errorf("%v g of %s to a litre", p, sources[j+1].Name)
		}
	}
}

func TestWhatCannotBeReachedIsExplained(t *testing.T) {
	hard := Source{Name: "tap", Water: Water{Calcium: 120, Bicarbonate: 360}}
	m, err := Blend([]Source{hard}, Target{Hardness: 70, Alkalinity: 40, Magnesium: -1})
	if err != nil {
		t.Fatal(err)
	}
	if len(m.Misses) != 2 || !m.Misses[0].TooMuch || m.Misses[0].Quantity != "hardness" || m.Misses[1].Quantity != "alkalinity" {
		t.Errorf("hard water alone: %+v", m.Misses)
	}
	m, _ = Blend([]Source{{Name: "pure"}}, Target{Hardness: 70, Alkalinity: 0, Magnesium: -1})
	if len(m.Misses) != 1 || m.Misses[0].TooMuch || m.Misses[0].Want != 70 {
		t.Errorf("pure water alone: %+v", m.Misses)
	}
	for name, c := range map[string]struct {
		sources []Source
		target  Target
	}{
		"no water":  {[]Source{{Dosed: true}}, Target{}},
		"no target": {[]Source{hard}, Target{Hardness: math.NaN()}},
		"negative":  {[]Source{hard}, Target{Alkalinity: -1}},
		"bad label": {[]Source{{Water: Water{Sodium: -2}}}, Target{}},
	} {
		var e *Error
		if _, err := Blend(c.sources, c.target); !errors.As(err, &e) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestNonNegativeLeastSquaresIsOptimal checks the conditions of Karush, Kuhn and
// Tucker, which a least squares solution under x >= 0 meets and no other point.
func TestNonNegativeLeastSquaresIsOptimal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows, columns := rapid.IntRange(1, 5).Draw(t, "rows"), rapid.IntRange(1, 5).Draw(t, "columns")
		a, b := make([][]float64, rows), make([]float64, rows)
		for i := range a {
			// Eighths, so that sources are alike or not, but never almost alike.
			for _, eighths := range rapid.SliceOfN(rapid.IntRange(-16, 16), columns, columns).Draw(t, "row") {
				a[i] = append(a[i], float64(eighths)/8)
			}
			b[i] = float64(rapid.IntRange(-24, 24).Draw(t, "b")) / 8
		}
		x := nonNegative(a, b)
		for j, g := range descent(a, b, x) {
			switch {
			case x[j] < 0:
				t.Fatalf("x[%d] is %v", j, x[j])
			case g > 1e-6:
				t.Fatalf("more of %d would come nearer by %v", j, g)
			case x[j] > 1e-6 && math.Abs(g) > 1e-5:
				t.Fatalf("x[%d] is %v and its gradient %v", j, x[j], g)
			}
		}
	})
}

func TestBlendsArePartsOfAWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var sources []Source
		for range rapid.IntRange(1, 4).Draw(t, "sources") {
			sources = append(sources, Source{Water: Water{
				Calcium: rapid.Float64Range(0, 200).Draw(t, "calcium"), Magnesium: rapid.Float64Range(0, 60).Draw(t, "magnesium"), Bicarbonate: rapid.Float64Range(0, 500).Draw(t, "bicarbonate"),
			}})
		}
		m, err := Blend(sources, Target{Hardness: rapid.Float64Range(0, 200).Draw(t, "hardness"), Alkalinity: rapid.Float64Range(0, 100).Draw(t, "alkalinity"), Magnesium: -1})
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for _, p := range m.Parts {
			if p < 0 {
				t.Fatalf("part %v", p)
			}
			sum += p
		}
		if math.Abs(sum-1) > 1e-9 {
			t.Fatalf("parts add up to %v", sum)
		}
	})
}
