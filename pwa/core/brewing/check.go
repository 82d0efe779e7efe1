package brewing

import "math"

// A Kind of finding.
type Kind string

// Kinds.
const (
	Impossible Kind = "impossible" // refused
	Surprising Kind = "surprising" // questioned; a person may insist
)

// A Finding is one number that cannot be, or is hardly meant.
type Finding struct {
	Kind  Kind
	Field string  // "dose", "kettle", "pours.2", ...
	Code  string  // stable, see below
	Value float64 // as it was given
	Limit float64 // what it went past
}

// Codes of findings.
const (
	CodeNotANumber   = "not-a-number"
	CodeTooLittle    = "too-little"
	CodeTooMuch      = "too-much"
	CodeAboveBoiling = "above-boiling" // Limit is the boiling point
	CodeMoreThanIn   = "more-than-went-in"
	CodeBackwards    = "backwards" // a pour before the one above it, or to less
)

// An Entry is what a person typed or a clock recorded of one brew; 0 means not
// measured. Fields are those of its findings.
type Entry struct {
	Dose     Grams
	Water    Grams
	Beverage Grams
	Bypass   Grams
	TDS      Fraction
	Contact  Contact // for judging the extraction; "" judges none
	Kettle   Celsius
	Slurry   Celsius
	Home     Metres // altitude of the home, for boiling; 0 is the sea
	Total    Millis // until the last drop
	Pours    []Pour
}

// Limits of a number, in the unit of its field: refused outside the outer ones,
// questioned outside the inner ones.
type Limits struct {
	Least, Low, High, Most float64
}

var (
	doseLimits     = Limits{0.3, 4, 80, 1000}
	waterLimits    = Limits{1, 40, 1500, 10_000}
	bypassLimits   = Limits{0.1, 1, 800, 10_000}
	beverageLimits = Limits{1, 15, 1500, 10_000}
	ratioLimits    = Limits{0.5, 9, 25, 200}
	tdsLimits      = Limits{0.0005, 0.007, 0.025, 0.3}
	yieldLimits    = Limits{0.005, 0.1, 0.27, 0.45}
	totalLimits    = Limits{1000, 20_000, 30 * 60_000, 72 * 3_600_000}

	// What is more than a degree above a home's boiling point is questioned there.
	kettleLimits = Limits{1, 60, hottest, hottest}
	slurryLimits = Limits{0.1, 2, hottest, hottest} // coffee is steeped cold as well
)

// hottest is the boiling point at the lowest dry land, 430 m below the sea, and
// a degree for the thermometer: no open kettle is hotter anywhere.
const hottest = 102

// FieldLimits returns the limits of every field of an Entry that has its own, and
// of the ratio that dose and water give, so that screens ask as early as Check does.
func FieldLimits() map[string]Limits {
	return map[string]Limits{
		"dose": doseLimits, "water": waterLimits, "ratio": ratioLimits, "bypass": bypassLimits, "beverage": beverageLimits,
		"tds": tdsLimits, "kettle": kettleLimits, "slurry": slurryLimits, "total": totalLimits,
	}
}

// Check returns what cannot be or is hardly meant about an entry, worst first
// within each field, fields in the order of Entry.
func Check(e Entry) []Finding {
	var c checker
	c.within("dose", float64(e.Dose), doseLimits)
	c.within("water", float64(e.Water), waterLimits)
	if e.Dose > 0 && e.Water > 0 {
		c.within("ratio", Ratio(e.Dose, e.Water), ratioLimits)
	}
	c.within("bypass", float64(e.Bypass), bypassLimits)
	c.beverage(e)
	c.within("tds", float64(e.TDS), tdsLimits)
	c.yield(e)
	c.heat("kettle", e.Kettle, e.Home, kettleLimits)
	c.heat("slurry", e.Slurry, e.Home, slurryLimits)
	c.within("total", float64(e.Total), totalLimits)
	c.pours(e)
	return c.found
}

// Refused reports whether anything found is impossible.
func Refused(found []Finding) bool {
	for _, f := range found {
		if f.Kind == Impossible {
			return true
		}
	}
	return false
}

type checker struct {
	found []Finding
}

func (c *checker) add(kind Kind, field, code string, value, limit float64) {
	c.found = append(c.found, Finding{kind, field, code, value, limit})
}

// within checks a number that was given.
func (c *checker) within(field string, x float64, l Limits) {
	switch {
	case math.IsNaN(x) || math.IsInf(x, 0):
		c.add(Impossible, field, CodeNotANumber, x, 0)
	case x == 0:
	case x < l.Least:
		c.add(Impossible, field, CodeTooLittle, x, l.Least)
	case x > l.Most:
		c.add(Impossible, field, CodeTooMuch, x, l.Most)
	case x < l.Low:
		c.add(Surprising, field, CodeTooLittle, x, l.Low)
	case x > l.High:
		c.add(Surprising, field, CodeTooMuch, x, l.High)
	}
}

// beverage is no more than water, bypass and a third of the dose dissolved.
func (c *checker) beverage(e Entry) {
	before := len(c.found)
	c.within("beverage", float64(e.Beverage), beverageLimits)
	if len(c.found) > before || e.Beverage == 0 || e.Water <= 0 {
		return
	}
	in := float64(e.Water + e.Bypass)
	most := in + float64(e.Dose)/3
	switch b := float64(e.Beverage); {
	case b > most+1:
		c.add(Impossible, "beverage", CodeMoreThanIn, b, most)
	case b > in:
		c.add(Surprising, "beverage", CodeMoreThanIn, b, in)
	}
}

// yield judges the extraction that dose, liquid and TDS give together.
func (c *checker) yield(e Entry) {
	if e.Contact == "" || Refused(c.found) {
		return
	}
	y, ok := Extraction(Measured{Contact: e.Contact, Dose: e.Dose, Water: e.Water, Beverage: e.Beverage, Bypass: e.Bypass, TDS: e.TDS}, Kitchen())
	if ok {
		c.within("extraction", float64(y.EY), yieldLimits)
	}
}

// heat refuses what no open kettle reaches anywhere, and questions what it does
// not reach at home: the thermometer or the home's altitude may be wrong.
func (c *checker) heat(field string, t Celsius, home Metres, l Limits) {
	switch boiling := BoilingPoint(home); {
	case t > hottest:
		c.add(Impossible, field, CodeAboveBoiling, float64(t), hottest)
	case t > boiling+1:
		c.add(Surprising, field, CodeAboveBoiling, float64(t), float64(boiling))
	default:
		c.within(field, float64(t), l)
	}
}

// pours must go forward in time and upwards in weight.
func (c *checker) pours(e Entry) {
	for i, p := range e.Pours {
		field := "pours." + decimal(i)
		switch {
		case math.IsNaN(float64(p.To)) || math.IsInf(float64(p.To), 0):
			c.add(Impossible, field, CodeNotANumber, float64(p.To), 0)
		case p.To < 0:
			c.add(Impossible, field, CodeTooLittle, float64(p.To), 0)
		case float64(p.To) > waterLimits.Most:
			c.add(Impossible, field, CodeTooMuch, float64(p.To), waterLimits.Most)
		case p.At < 0 || p.Until != 0 && p.Until < p.At:
			c.add(Impossible, field, CodeBackwards, float64(p.At), float64(p.Until))
		case i > 0 && p.At < e.Pours[i-1].At:
			c.add(Impossible, field, CodeBackwards, float64(p.At), float64(e.Pours[i-1].At))
		case i > 0 && p.To < e.Pours[i-1].To:
			c.add(Impossible, field, CodeBackwards, float64(p.To), float64(e.Pours[i-1].To))
		case e.Water > 0 && p.To > e.Water+5 && i == len(e.Pours)-1:
			c.add(Surprising, field, CodeTooMuch, float64(p.To), float64(e.Water))
		}
	}
}

func decimal(n int) string {
	if n < 10 {
		return string(rune('0' + n))
	}
	return decimal(n/10) + decimal(n%10)
}
