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
}

// BrewStart begins a brew, of a sample (club and sample) or of one's own coffee. With Run the clock starts now; without it
// starts by the first mark.
type BrewStart struct {
	Club   string    `cbor:"club"`
	Sample string    `cbor:"sample"`
	Setup  BrewSetup `cbor:"setup"`
	Run    bool      `cbor:"run"`
	Sure   []string  `cbor:"sure"`
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
