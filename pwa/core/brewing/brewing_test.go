package brewing

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// TestBoilingPointAgainstPublishedTable compares with "High Altitude Cooking and
// Food Safety" (USDA Food Safety and Inspection Service): boiling temperature of
// water in °F by altitude in feet, stated in whole degrees.
func TestBoilingPointAgainstPublishedTable(t *testing.T) {
	for feet, fahrenheit := range map[float64]float64{0: 212, 2000: 208, 5000: 203, 7500: 198, 10000: 194} {
		got := float64(BoilingPoint(Metres(feet * 0.3048)))
		near(t, "boiling point", got*1.8+32, fahrenheit, 0.75)
	}
}

// TestBoilingPointAgainstSteamTables puts saturation pressures of IAPWS-IF97
// (kPa) through the barometric formula's inverse.
func TestBoilingPointAgainstSteamTables(t *testing.T) {
	for celsius, kPa := range map[float64]float64{85: 57.867, 90: 70.182, 95: 84.609, 99.974: 101.325} {
		altitude := (1 - math.Pow(kPa/101.325, 1/5.25588)) / 2.25577e-5
		near(t, "pressure", Pressure(Metres(altitude)), kPa, 1e-6)
		near(t, "boiling point", float64(BoilingPoint(Metres(altitude))), celsius, 0.15)
	}
}

// TestPressureAgainstStandardAtmosphere compares with the tables of ISO 2533.
func TestPressureAgainstStandardAtmosphere(t *testing.T) {
	for metres, hPa := range map[float64]float64{0: 1013.25, 1000: 898.75, 2000: 794.95, 3000: 701.09, 5000: 540.20} {
		near(t, "pressure", Pressure(Metres(metres))*10, hPa, 0.15)
	}
}

// TestYieldOfTheGoldenCup: the brewing chart as the trade published it (Lockhart
// 1957, SCAA 2015) has 55 g to a litre at 1.15 to 1.35 % and 18 to 22 %. A chart's
// point by hand: 55 g, 1,000 g of water, 2 g/g kept, 1.25 % in 890 g: 20.2 %.
func TestYieldOfTheGoldenCup(t *testing.T) {
	weighed := Measured{Contact: Percolation, Dose: 55, Water: 1000, Beverage: 890, TDS: 0.0125}
	y, ok := Extraction(weighed, Kitchen())
	if !ok {
		t.Fatal("no yield")
	}
	near(t, "EY", float64(y.EY), 0.0125*890/55, 1e-12)
	weighed.Beverage = 0
	unweighed, _ := Extraction(weighed, Kitchen())
	near(t, "EY without the beverage", float64(unweighed.EY), float64(y.EY), 1e-12)
	if unweighed.High-unweighed.Low <= y.High-y.Low {
		t.Error("not weighing the beverage makes the yield no less sure")
	}
	strength, extraction := Ranges()[0].Place(0.0125, Kitchen().TDS, y)
	if within := (Placed{Within, true}); strength != within || extraction != within {
		t.Errorf("%v %v", strength, extraction)
	}
	near(t, "the line of 55 g to a litre", float64(OnLine(Percolation, y.EY, 1000.0/55, 2)), 0.0125, 1e-12)
}

// TestImmersionKeepsItsMass: 12 g in 200 g of water at 1.30 %: the dissolved
// solids S make 1.30 % of 200 g of water plus S.
func TestImmersionKeepsItsMass(t *testing.T) {
	y, ok := Extraction(Measured{Contact: Immersion, Dose: 12, Water: 200, TDS: 0.013}, Kitchen())
	if !ok {
		t.Fatal("no yield")
	}
	solids := float64(y.EY) * 12
	near(t, "TDS", solids/(200+solids), 0.013, 1e-12)
	near(t, "on its line", float64(OnLine(Immersion, y.EY, 200.0/12, 3)), 0.013, 1e-12)
	// A cup lengthened after has the same yield.
	before := 200.0 + solids - 36
	diluted := Measured{Contact: Immersion, Dose: 12, Water: 200, Beverage: Grams(before + 50), Bypass: 50, TDS: Fraction(0.013 * before / (before + 50))}
	long, ok := Extraction(diluted, Kitchen())
	if !ok {
		t.Fatal("no yield of the lengthened cup")
	}
	near(t, "EY lengthened", float64(long.EY), float64(y.EY), 1e-12)
}

func TestPercolationWithBypass(t *testing.T) {
	// 15 g, 200 g through, 170 g of 1.5 %, lengthened by 50 g.
	m := Measured{Contact: Percolation, Dose: 15, Water: 200, Beverage: 220, Bypass: 50, TDS: Fraction(0.015 * 170 / 220)}
	y, _ := Extraction(m, Kitchen())
	near(t, "EY", float64(y.EY), 0.015*170/15, 1e-12)
	m.Beverage = 0
	y, _ = Extraction(m, Kitchen())
	near(t, "EY unweighed", float64(y.EY), 0.015*170/15, 1e-12)
}

func TestDryBasis(t *testing.T) {
	m := Measured{Contact: Percolation, Dose: 20, Beverage: 280, TDS: 0.0135}
	moist, _ := Extraction(m, Kitchen())
	m.Moisture = 0.03
	dry, _ := Extraction(m, Kitchen())
	near(t, "dry basis", float64(dry.EY), float64(moist.EY)/0.97, 1e-12)
}

// TestSmallDosesMakeTheScaleMatter is trade.md's rule: below about 8 g of dose
// the kitchen scale matters as much as the refractometer.
func TestSmallDosesMakeTheScaleMatter(t *testing.T) {
	share := func(dose Grams) Shares {
		y, ok := Extraction(Measured{Contact: Percolation, Dose: dose, Water: dose * 16, Beverage: dose * 14, TDS: 0.0125}, Kitchen())
		if !ok {
			t.Fatal("no yield")
		}
		return y.Share
	}
	if s := share(7); s.Dose < s.TDS {
		t.Errorf("at 7 g the dose has %v of the variance, the refractometer %v", s.Dose, s.TDS)
	}
	if s := share(9); s.Dose > s.TDS {
		t.Errorf("at 9 g the dose has %v of the variance, the refractometer %v", s.Dose, s.TDS)
	}
	s := share(15)
	near(t, "shares", s.TDS+s.Dose+s.Liquid+s.Retained, 1, 1e-12)
}

// TestUncertaintyAgainstSimulation compares the first-order spread with a Monte
// Carlo propagation (JCGM 101:2008) over a deterministic normal grid.
func TestUncertaintyAgainstSimulation(t *testing.T) {
	for _, m := range []Measured{
		{Contact: Percolation, Dose: 15, Water: 240, Beverage: 210, TDS: 0.0135, Retained: 2},
		{Contact: Percolation, Dose: 15, Water: 240, TDS: 0.0135, Retained: 2},
		{Contact: Immersion, Dose: 8, Water: 140, TDS: 0.0125, Retained: 3},
	} {
		with := Kitchen()
		y, _ := Extraction(m, with)
		// Mid-quantiles of the normal distribution, ten of them: their variance is
		// a little low, so they are scaled to one.
		z := []float64{-1.6449, -1.0364, -0.6745, -0.3853, -0.1257, 0.1257, 0.3853, 0.6745, 1.0364, 1.6449}
		scale := 0.0
		for _, x := range z {
			scale += x * x / 10
		}
		scale = math.Sqrt(scale)
		var sum, squares, n float64
		for _, a := range z {
			for _, b := range z {
				for _, c := range z {
					for _, d := range z {
						x := m
						x.TDS += Fraction(a/scale) * with.TDS
						x.Dose += Grams(b/scale) * with.Scale
						if x.Beverage > 0 {
							x.Beverage += Grams(c/scale) * with.Scale
						} else {
							x.Water += Grams(c/scale) * with.Scale
						}
						x.Retained += d / scale * with.Retained
						got, _ := Extraction(x, with)
						sum, squares, n = sum+float64(got.EY), squares+float64(got.EY*got.EY), n+1
					}
				}
			}
		}
		mean := sum / n
		spread := 2 * math.Sqrt(squares/n-mean*mean)
		near(t, "interval", float64(y.High-y.EY), spread, 0.03*spread)
	}
}

func TestMissingNumbersGiveNoYield(t *testing.T) {
	for _, m := range []Measured{
		{}, {Contact: Percolation, Dose: 15, Water: 240}, {Contact: Percolation, TDS: 0.0135, Beverage: 200},
		{Contact: Percolation, Dose: 15, Water: 20, TDS: 0.0135}, {Contact: Immersion, Dose: 12, TDS: 0.0135},
		{Dose: 15, Water: 240, Beverage: 210, TDS: 0.0135}, {Contact: Immersion, Dose: 12, Water: 200, Beverage: 40, Bypass: 50, TDS: 0.013},
	} {
		if y, ok := Extraction(m, Kitchen()); ok {
			t.Errorf("%+v yields %v", m, y.EY)
		}
	}
}

func TestRetainedIsLearned(t *testing.T) {
	start, unsure := LearnRetained(RetainedDrip, nil)
	if start != RetainedDrip {
		t.Errorf("starts at %v", start)
	}
	var brews []Measured
	for range 20 {
		brews = append(brews, Measured{Dose: 15, Water: 240, Beverage: 204})
	}
	brews = append(brews, Measured{Dose: 15, Water: 240, Beverage: 300}, Measured{Water: 240, Beverage: 200})
	learned, sure := LearnRetained(RetainedDrip, brews)
	near(t, "retained", learned, (20*2.4+2*2)/22, 1e-12)
	if sure >= unsure {
		t.Errorf("unsure by %v after twenty brews, %v before", sure, unsure)
	}
}

func TestRatioDoseWater(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dose := Grams(rapid.Float64Range(1, 100).Draw(t, "dose"))
		ratio := rapid.Float64Range(5, 25).Draw(t, "ratio")
		water := Water(dose, ratio)
		if math.Abs(Ratio(dose, water)-ratio) > 1e-9 || math.Abs(float64(Dose(water, ratio)-dose)) > 1e-9 {
			t.Fatal("not each other's inverse")
		}
		if b := Beverage(dose, water, 10, 2); math.Abs(float64(b-(water-2*dose+10))) > 1e-9 {
			t.Fatalf("beverage %v", b)
		}
	})
	if Ratio(0, 100) != 0 || Dose(100, 0) != 0 || Beverage(50, 60, 10, 2) != 10 {
		t.Error("edges")
	}
}

func TestImpossibleIsRefusedSurprisingIsQuestioned(t *testing.T) {
	fine := Entry{Dose: 15, Water: 240, Beverage: 208, TDS: 0.0135, Contact: Percolation, Kettle: 92, Home: 0, Total: 180_000, Pours: []Pour{{At: 0, To: 40}, {At: 40_000, Until: 60_000, To: 150}, {At: 75_000, To: 240}}}
	if found := Check(fine); found != nil {
		t.Fatalf("a usual brew: %v", found)
	}
	if found := Check(Entry{}); found != nil {
		t.Fatalf("nothing measured: %v", found)
	}
	for name, c := range map[string]struct {
		change func(*Entry)
		kind   Kind
		field  string
		code   string
	}{
		"negative dose":           {func(e *Entry) { e.Dose = -15 }, Impossible, "dose", CodeTooLittle},
		"dose that is no number":  {func(e *Entry) { e.Dose = Grams(math.NaN()) }, Impossible, "dose", CodeNotANumber},
		"150 g of dose":           {func(e *Entry) { e.Dose, e.Water, e.Beverage, e.TDS = 150, 2400, 0, 0 }, Surprising, "dose", CodeTooMuch},
		"endless water":           {func(e *Entry) { e.Water = Grams(math.Inf(1)) }, Impossible, "water", CodeNotANumber},
		"a ratio of one to forty": {func(e *Entry) { e.Water, e.Beverage, e.TDS = 600, 0, 0 }, Surprising, "ratio", CodeTooMuch},
		"more out than in":        {func(e *Entry) { e.Beverage = 400 }, Impossible, "beverage", CodeMoreThanIn},
		"a little more out":       {func(e *Entry) { e.Beverage = 243 }, Surprising, "beverage", CodeMoreThanIn},
		"TDS of 14 %":             {func(e *Entry) { e.TDS, e.Contact = 0.14, "" }, Surprising, "tds", CodeTooMuch},
		"TDS of 14 %, meant 1.4":  {func(e *Entry) { e.TDS = 0.14 }, Impossible, "extraction", CodeTooMuch},
		"TDS of 40 %":             {func(e *Entry) { e.TDS = 0.4 }, Impossible, "tds", CodeTooMuch},
		"negative TDS":            {func(e *Entry) { e.TDS = -0.01 }, Impossible, "tds", CodeTooLittle},
		"EY of 30 %":              {func(e *Entry) { e.TDS = 0.0216 }, Surprising, "extraction", CodeTooMuch},
		"kettle at 105 °C":        {func(e *Entry) { e.Kettle = 105 }, Impossible, "kettle", CodeAboveBoiling},
		"100 °C at 2,600 m":       {func(e *Entry) { e.Kettle, e.Home = 100, 2600 }, Surprising, "kettle", CodeAboveBoiling},
		"ice":                     {func(e *Entry) { e.Kettle = -3 }, Impossible, "kettle", CodeTooLittle},
		"tepid":                   {func(e *Entry) { e.Kettle = 40 }, Surprising, "kettle", CodeTooLittle},
		"four days":               {func(e *Entry) { e.Total = 4 * 24 * 3_600_000 }, Impossible, "total", CodeTooMuch},
		"cold steep":              {func(e *Entry) { e.Total = 12 * 3_600_000 }, Surprising, "total", CodeTooMuch},
		"a pour back in time":     {func(e *Entry) { e.Pours[2].At = 10_000 }, Impossible, "pours.2", CodeBackwards},
		"a pour to less":          {func(e *Entry) { e.Pours[1].To = 20 }, Impossible, "pours.1", CodeBackwards},
		"a pour past the water":   {func(e *Entry) { e.Pours[2].To = 300 }, Surprising, "pours.2", CodeTooMuch},
		"a pour of nothing less":  {func(e *Entry) { e.Pours[0].To = -4 }, Impossible, "pours.0", CodeTooLittle},
	} {
		t.Run(name, func(t *testing.T) {
			e := fine
			e.Pours = slices.Clone(fine.Pours)
			c.change(&e)
			found := Check(e)
			if !slices.ContainsFunc(found, func(f Finding) bool { return f.Kind == c.kind && f.Field == c.field && f.Code == c.code }) {
				t.Errorf("found %v", found)
			}
			if Refused(found) != (c.kind == Impossible) {
				t.Errorf("refused: %v, found %v", Refused(found), found)
			}
		})
	}
	// 100 °C at the sea is what the kettle says when it boils.
	if found := Check(Entry{Kettle: 100}); found != nil {
		t.Errorf("boiling at the sea: %v", found)
	}
}
