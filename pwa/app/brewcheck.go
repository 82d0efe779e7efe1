package app

import (
	"math"
	"slices"
	"strings"

	"hushcup/pwa/core/brewing"
)

// check refuses a setup that cannot be and questions one that surprises. It completes water from dose and ratio, and the
// ratio from both.
func (s *BrewSetup) check(sure []string) *Error {
	err := first(
		text("coffee", &s.Coffee, 120, false), text("brewer", &s.Brewer, 120, false), text("grinder", &s.Grinder, 120, false),
		text("grind", &s.Grind, 40, false), text("filter", &s.Filter, 80, false), oneOf("method", s.Method, "Method"))
	switch {
	case err != nil:
		return err
	case !(s.Ratio >= 0 && s.Ratio <= 200):
		return refuse(CodeImpossible, "ratio", "this is no ratio of water to coffee")
	}
	if s.Water == 0 {
		s.Water = math.Round(float64(brewing.Water(brewing.Grams(s.Dose), s.Ratio))*10) / 10
	}
	if s.Dose > 0 { // a kitchen without a scale says none
		s.Ratio = math.Round(brewing.Ratio(brewing.Grams(s.Dose), brewing.Grams(s.Water))*100) / 100
	}
	return judged(brewing.Check(s.entry()), sure)
}

// check refuses an outcome that cannot be and questions one that surprises, given the setup.
func (o *BrewOutcome) check(setup BrewSetup, sure []string) *Error {
	err := first(text("notes", &o.Notes, 8000, false), oneOf("asked", o.Asked, "Asked"), tooMany("pours", len(o.Pours), 40))
	if err != nil {
		return err
	}
	entry := setup.entry()
	entry.Beverage, entry.TDS = brewing.Grams(o.Beverage), brewing.Fraction(o.TDS/100)
	entry.Total = brewing.Millis(o.Drawdown * 1000)
	for _, pour := range o.Pours {
		entry.Pours = append(entry.Pours, brewing.Pour{At: brewing.Millis(pour.At * 1000), To: brewing.Grams(pour.Grams)})
	}
	if !(math.Abs(o.Drawdown) < 1e6) {
		return refuse(CodeImpossible, "drawdown", "this time cannot be")
	}
	return judged(brewing.Check(entry), sure)
}

func (s *BrewSetup) entry() brewing.Entry {
	return brewing.Entry{
		Dose: brewing.Grams(s.Dose), Water: brewing.Grams(s.Water), Kettle: brewing.Celsius(s.Kettle), Contact: contactOf(s.Method),
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
		field := f.Field
		if field == "total" {
			field = "drawdown"
		}
		switch {
		case f.Kind == brewing.Impossible:
			return &Error{Code: CodeImpossible, Field: field, Text: "this cannot be: " + spaced(f.Code)}
		case question == nil && !slices.Contains(sure, field):
			question = &Error{Code: CodeSurprising, Field: field, Text: "is this right? " + spaced(f.Code)}
		}
	}
	return question
}

func spaced(code string) string { return strings.ReplaceAll(code, "-", " ") }

// yield is the extraction of a brew with what the instruments leave open, in percent; nil when something was not measured.
func (content *brewContent) yield() *Interval {
	setup := content.Setup.setup()
	y, ok := brewing.Extraction(brewing.Measured{
		Contact: contactOf(setup.Method), Dose: brewing.Grams(setup.Dose), Water: brewing.Grams(setup.Water),
		Beverage: brewing.Grams(content.Outcome.Beverage), TDS: brewing.Fraction(content.Outcome.TDS / 100),
	}, brewing.Kitchen())
	if !ok || contactOf(setup.Method) == "" {
		return nil
	}
	percent := func(f brewing.Fraction) float64 { return math.Round(float64(f)*1000) / 10 }
	return &Interval{Value: percent(y.EY), Low: percent(y.Low), High: percent(y.High)}
}
