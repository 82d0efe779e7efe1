package app

// BrewSetup is what a brew is made with. Numbers that were not measured are 0.
type BrewSetup struct {
	Coffee  string  `cbor:"coffee"` // one's own coffee, in one's own words; empty with a sample
	Method  string  `cbor:"method" ts:"Method"`
	Brewer  string  `cbor:"brewer"`  // in one's own words
	Dose    float64 `cbor:"dose"`    // g
	Water   float64 `cbor:"water"`   // g, with the bloom; when 0, dose × ratio
	Ratio   float64 `cbor:"ratio"`   // g of water a g of coffee; when 0, water / dose
	Kettle  float64 `cbor:"kettle"`  // °C
	Grinder string  `cbor:"grinder"` // in one's own words
	Grind   string  `cbor:"grind"`   // the setting, as the grinder's scale says
	Filter  string  `cbor:"filter"`

	// What of the Cupboard it is made with, by id; empty for none. Names above and steps below are copied from there, and a
	// brew keeps a copy of everything, so a later edit there rewrites no history.
	CoffeeID  string `cbor:"coffeeID"`
	BrewerID  string `cbor:"brewerID"`
	GrinderID string `cbor:"grinderID"`
	WaterID   string `cbor:"waterID"`
	RecipeID  string `cbor:"recipeID"`

	Geometry      string       `cbor:"geometry" ts:"Geometry | \"\""` // decides Method when it is known
	WaterName     string       `cbor:"waterName"`
	Recipe        string       `cbor:"recipe"`        // its title
	Steps         []RecipeStep `cbor:"steps"`         // what is planned; empty without a recipe
	Scoops        float64      `cbor:"scoops"`        // where there is no scale
	SinceGrinding float64      `cbor:"sinceGrinding"` // minutes
}

// BrewStart begins a brew, of a sample (club and sample) or of one's own coffee. With Run the clock starts now; without it
// starts by the first mark.
type BrewStart struct {
	Club   string    `cbor:"club"`
	Sample string    `cbor:"sample"`
	Setup  BrewSetup `cbor:"setup"`
	Run    bool      `cbor:"run"`
	Sure   []string  `cbor:"sure"`

	Parent *BrewParams `cbor:"parent,omitempty"` // the brew that it is a change of
}

// BrewStarted names the new brew. Book is the club, or the notebook.
type BrewStarted struct {
	Book string `cbor:"book"`
	Brew string `cbor:"brew"`
}

// BrewMark records what happened, at the moment of the touch (or Ago milliseconds before it). It is durable when done.
type BrewMark struct {
	Book  string  `cbor:"book"`
	Brew  string  `cbor:"brew"`
	Mark  string  `cbor:"mark" ts:"Mark"`
	Grams float64 `cbor:"grams"` // pour marks: what the scale shows after it; 0 when there is no scale
	Step  int     `cbor:"step"`  // of the plan, from 1; 0 when it belongs to none
	Ago   int64   `cbor:"ago"`
}

// BrewUnmark takes the last mark back.
type BrewUnmark struct {
	Book string `cbor:"book"`
	Brew string `cbor:"brew"`
}

// BrewOutcome is what came of a brew. Numbers that were not measured are 0.
type BrewOutcome struct {
	Pours    []Pour  `cbor:"pours"`    // as corrected by hand; empty: as marked
	Drawdown float64 `cbor:"drawdown"` // s from the start until the bed is dry; 0: as marked
	Beverage float64 `cbor:"beverage"` // g in the cup
	TDS      float64 `cbor:"tds"`      // percent, of filtered, cooled, covered beverage
	Notes    string  `cbor:"notes"`
	Asked    string  `cbor:"asked" ts:"Asked"` // after an absence: what happened meanwhile

	Slurry  float64       `cbor:"slurry"`  // °C in the bed, as measured
	Bypass  float64       `cbor:"bypass"`  // g added to the cup afterwards, within Beverage
	Balance []BalanceMark `cbor:"balance"` // how the cup stood; what was not touched is missing
}

// BalanceMark is how one side of a cup stood: from -1000, far too little, over 0, in agreement, to 1000, far too much.
type BalanceMark struct {
	Of   string `cbor:"of" ts:"Attribute"`
	Mark int    `cbor:"mark"`
}

// Pour is one pour: when it began, in seconds from the start, and to what weight.
type Pour struct {
	At    float64 `cbor:"at"`
	Grams float64 `cbor:"grams"`
}

// BrewSave ends a brew and keeps what came of it.
type BrewSave struct {
	Book    string      `cbor:"book"`
	Brew    string      `cbor:"brew"`
	Outcome BrewOutcome `cbor:"outcome"`
	Sure    []string    `cbor:"sure"`
}

// BrewEdit corrects a brew, whatever state it is in.
type BrewEdit struct {
	Book    string       `cbor:"book"`
	Brew    string       `cbor:"brew"`
	Setup   *BrewSetup   `cbor:"setup,omitempty"`
	Outcome *BrewOutcome `cbor:"outcome,omitempty"`
	Sure    []string     `cbor:"sure"`
}

// BrewDiscard throws a brew away.
type BrewDiscard struct {
	Book string `cbor:"book"`
	Brew string `cbor:"brew"`
}

// BrewHold stops the plan, or lets it go on: what is still to come moves by as long as it was held. The clock never stops.
type BrewHold struct {
	Book string `cbor:"book"`
	Brew string `cbor:"brew"`
	Hold bool   `cbor:"hold"`
	Ago  int64  `cbor:"ago"`
}

// BrewAbandon ends a brew that went wrong and keeps it, with what went wrong in its notes. It stays out of repeatability, time
// fits and the response model.
type BrewAbandon struct {
	Book string `cbor:"book"`
	Brew string `cbor:"brew"`
	Why  string `cbor:"why"`
}

// BrewCount puts a brew back into repeatability, fits and the response model, or takes it out.
type BrewCount struct {
	Book   string `cbor:"book"`
	Brew   string `cbor:"brew"`
	Counts bool   `cbor:"counts"`
}

// BrewReading is a temperature of the cup, for the cooling clock; two of one vessel calibrate it.
type BrewReading struct {
	Book    string  `cbor:"book"`
	Brew    string  `cbor:"brew"`
	Celsius float64 `cbor:"celsius"`
	Ago     int64   `cbor:"ago"`
}

// BowlsStart sets several bowls side by side, with one water: each is a brew of its own, with a number and a clock of its own
// that starts when it is poured.
type BowlsStart struct {
	Setup BrewSetup `cbor:"setup"`
	Bowls []Bowl    `cbor:"bowls"` // 1 to 24
	Sure  []string  `cbor:"sure"`
}

// Bowl is what is in one bowl: a sample, or one's own coffee.
type Bowl struct {
	Club     string  `cbor:"club"`
	Sample   string  `cbor:"sample"`
	Coffee   string  `cbor:"coffee"`
	CoffeeID string  `cbor:"coffeeID"`
	Dose     float64 `cbor:"dose"` // 0: the setup's
}

// BowlsStarted names the table of bowls.
type BowlsStarted struct {
	Table string `cbor:"table"`
}
