package app

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"hushcup/pwa/core/brewing"
)

// checkAt refuses a setup that cannot be and questions one that surprises, in a home at an altitude in metres. It completes water from dose and ratio, and the ratio from both.
func (s *BrewSetup) checkAt(altitude float64, sure []string) *Error {
	if err := s.checkWords(); err != nil {
		return err
	}
	if !(s.Ratio >= 0 && s.Ratio <= 200) {
		return refuse(CodeImpossible, "ratio", "this is no ratio of water to coffee")
	}
	if s.Water == 0 {
		s.Water = math.Round(float64(brewing.Water(brewing.Grams(s.Dose), s.Ratio))*10) / 10
	}
	if s.Dose > 0 { // a kitchen without a scale says none
		s.Ratio = math.Round(brewing.Ratio(brewing.Grams(s.Dose), brewing.Grams(s.Water))*100) / 100
	}
	if err := s.checkSteps(); err != nil {
		return err
	}
	return judged(brewing.Check(s.entry(altitude)), sure)
}

func (s *BrewSetup) checkWords() *Error {
	if s.Method == "" {
		s.Method = methodOf(s.Geometry)
	}
	err := first(
		text("coffee", &s.Coffee, 120, false), text("brewer", &s.Brewer, 120, false), text("grinder", &s.Grinder, 120, false),
		text("grind", &s.Grind, 40, false), text("filter", &s.Filter, 80, false), text("waterName", &s.WaterName, 120, false),
		text("recipe", &s.Recipe, 120, false), oneOf("method", s.Method, "Method"),
		within("scoops", s.Scoops, 0, 100), within("sinceGrinding", s.SinceGrinding, 0, 60*24*365))
	if s.Geometry != "" {
		err = first(err, oneOf("geometry", s.Geometry, "Geometry"))
	}
	return err
}

// checkSteps refuses a timeline that cannot be. Without a dose its shares of water still tell what hands do.
func (s *BrewSetup) checkSteps() *Error {
	if len(s.Steps) == 0 {
		return nil
	}
	r := s.plannedRecipe()
	if r.Dose == 0 || r.Ratio == 0 {
		r.Dose, r.Ratio = 15, 16
	}
	return r.check()
}

// plannedRecipe is the recipe that a setup plans.
func (s *BrewSetup) plannedRecipe() Recipe {
	return Recipe{
		ID: s.RecipeID, Title: cmp.Or(s.Recipe, "-"), Geometry: s.Geometry, Dose: s.Dose, Ratio: s.Ratio, Kettle: s.Kettle, Steps: s.Steps,
	}
}

// methodOf is how water and coffee meet in a brewer.
func methodOf(geometry string) string {
	switch geometry {
	case "cone", "flat-bed":
		return "drip"
	case "steep-and-drain":
		return "steep"
	case "press-inverted", "press-upright":
		return "press"
	case "cupping-bowl":
		return "bowl"
	}
	return "other"
}

// checkAt refuses an outcome that cannot be and questions one that surprises, given the setup.
func (o *BrewOutcome) checkAt(altitude float64, setup BrewSetup, sure []string) *Error {
	err := first(text("notes", &o.Notes, 8000, false), oneOf("asked", o.Asked, "Asked"), tooMany("pours", len(o.Pours), 40), o.checkBalance())
	if err != nil {
		return err
	}
	entry := setup.entry(altitude)
	entry.Beverage, entry.TDS = brewing.Grams(o.Beverage), brewing.Fraction(o.TDS/100)
	entry.Slurry, entry.Bypass = brewing.Celsius(o.Slurry), brewing.Grams(o.Bypass)
	entry.Total = brewing.Millis(o.Drawdown * 1000)
	for _, pour := range o.Pours {
		entry.Pours = append(entry.Pours, brewing.Pour{At: brewing.Millis(pour.At * 1000), To: brewing.Grams(pour.Grams)})
	}
	if !(math.Abs(o.Drawdown) < 1e6) {
		return refuse(CodeImpossible, "drawdown", "this time cannot be")
	}
	return judged(brewing.Check(entry), sure)
}

func (o *BrewOutcome) checkBalance() (err *Error) {
	seen := map[string]bool{}
	for _, b := range o.Balance {
		err = first(err, oneOf("balance", b.Of, "Attribute"), within("balance", b.Mark, -1000, 1000))
		if seen[b.Of] {
			err = first(err, refuse(CodeImpossible, "balance", "this stands twice"))
		}
		seen[b.Of] = true
	}
	return err
}

func (s *BrewSetup) entry(altitude float64) brewing.Entry {
	return brewing.Entry{
		Dose: brewing.Grams(s.Dose), Water: brewing.Grams(s.Water), Kettle: brewing.Celsius(s.Kettle), Contact: contactOf(s.Method),
		Home: brewing.Metres(altitude),
	}
}

// contactOf is how water and coffee meet in a method; empty when nobody can tell.
func contactOf(method string) brewing.Contact {
	switch method {
	case "drip":
		return brewing.Percolation
	case "steep", "press", "bowl":
		return brewing.Immersion
	}
	return ""
}

// judged gives the first thing that cannot be, or else the first that surprises and was not confirmed.
func judged(found []brewing.Finding, sure []string) *Error {
	var question *Error
	for _, f := range found {
		e := Error{Code: CodeImpossible, Field: f.Field, Text: "this cannot be: " + spaced(f.Code), Why: f.Code, Limit: f.Limit}
		switch f.Field {
		case "total":
			e.Field, e.Limit = "drawdown", f.Limit/1000
		case "tds", "extraction":
			e.Limit = 100 * f.Limit
		}
		switch {
		case f.Kind == brewing.Impossible:
			return &e
		case question == nil && !slices.Contains(sure, e.Field):
			e.Code, e.Text = CodeSurprising, "is this right? "+spaced(f.Code)
			question = &e
		}
	}
	return question
}

func spaced(code string) string { return strings.ReplaceAll(code, "-", " ") }

// yield is the extraction of a brew with what the instruments leave open, in percent; nil when something was not measured.
func (content *brewContent) yield() *Interval {
	setup, contact := &content.Setup, contactOf(content.Setup.Method)
	y, ok := brewing.Extraction(brewing.Measured{
		Contact: contact, Dose: brewing.Grams(setup.Dose), Water: brewing.Grams(setup.Water), Bypass: brewing.Grams(content.Outcome.Bypass),
		Beverage: brewing.Grams(content.Outcome.Beverage), TDS: brewing.Fraction(content.Outcome.TDS / 100), Retained: content.Kitchen.Retained,
		Moisture: brewing.Fraction(content.Kitchen.Moisture / 100),
	}, content.Kitchen.instruments())
	if !ok || contact == "" {
		return nil
	}
	percent := func(f brewing.Fraction) float64 { return math.Round(float64(f)*1000) / 10 }
	return &Interval{Value: percent(y.EY), Low: percent(y.Low), High: percent(y.High)}
}

// strength is the TDS with two standard uncertainties of the refractometer each way, in percent; nil when it was not measured.
func (content *brewContent) strength() *Interval {
	tds, spread := content.Outcome.TDS, content.open()
	if tds <= 0 {
		return nil
	}
	return &Interval{Value: tds, Low: max(tds-spread, 0), High: tds + spread}
}

// open is what the refractometer leaves open of a TDS, percent to either side.
func (content *brewContent) open() float64 { return 200 * float64(content.Kitchen.instruments().TDS) }

// instruments are those that were used, as far as anything is known of them.
func (k *kitchenContent) instruments() brewing.Instruments {
	used := brewing.Kitchen()
	if k.Scale > 0 {
		used.Scale = brewing.Grams(rectangular(k.Scale))
	}
	if k.Meter > 0 {
		used.TDS = brewing.Fraction(rectangular(k.Meter) / 100)
	}
	return used
}
