package app

// BenchView is the Bench as it opens: the last setup to begin from, what is going, and the newest brews.
type BenchView struct {
	Last    BrewSetup      `cbor:"last"`
	Going   []Going        `cbor:"going"`
	Recent  []BrewDigest   `cbor:"recent"`  // newest first, at most 12
	Brews   int            `cbor:"brews"`   // all there are
	Samples []SampleChoice `cbor:"samples"` // samples that could be brewed now
}

// SampleChoice is a sample one has, to pick for a brew.
type SampleChoice struct {
	Club     string   `cbor:"club"`
	Sample   string   `cbor:"sample"`
	Code     int      `cbor:"code"`
	Title    string   `cbor:"title"`
	Left     float64  `cbor:"left"`
	Declared Declared `cbor:"declared"`
	Opened   bool     `cbor:"opened"` // unsealed: what is left is to be tasted again, knowing
}

// BrewDigest is a brew in a list.
type BrewDigest struct {
	Book     string  `cbor:"book"`
	Brew     string  `cbor:"brew"`
	Sample   string  `cbor:"sample"` // empty for one's own coffee
	Code     int     `cbor:"code"`
	Coffee   string  `cbor:"coffee"`
	Began    int64   `cbor:"began"` // by this phone's clock; when it was planned, until it started
	State    string  `cbor:"state" ts:"BrewState"`
	Method   string  `cbor:"method" ts:"Method"`
	Dose     float64 `cbor:"dose"`
	Scoops   float64 `cbor:"scoops"` // where there is no scale
	Water    float64 `cbor:"water"`
	Grind    string  `cbor:"grind"`
	Drawdown float64 `cbor:"drawdown"` // s
	TDS      float64 `cbor:"tds"`      // percent

	Brewer    string  `cbor:"brewer"`
	Recipe    string  `cbor:"recipe"`
	Yield     float64 `cbor:"yield"` // EY, percent
	Table     string  `cbor:"table"` // of bowls; empty for none
	Bowl      int     `cbor:"bowl"`
	Abandoned bool    `cbor:"abandoned"`
}

// BrewParams names a brew.
type BrewParams struct {
	Book string `cbor:"book"`
	Brew string `cbor:"brew"`
}

// BrewView is one brew.
type BrewView struct {
	Book     string        `cbor:"book"`
	Brew     string        `cbor:"brew"`
	Sample   *SampleChoice `cbor:"sample,omitempty"`
	State    string        `cbor:"state" ts:"BrewState"`
	Setup    BrewSetup     `cbor:"setup"`
	Began    int64         `cbor:"began"` // by this phone's clock, put right when that jumped; 0 before the start
	Marks    []BrewMarked  `cbor:"marks"` // in order
	Outcome  BrewOutcome   `cbor:"outcome"`
	Pours    []Pour        `cbor:"pours"`              // as they count: corrected, or as marked
	Drawdown float64       `cbor:"drawdown"`           // s, as it counts; 0 unknown
	Absent   bool          `cbor:"absent"`             // the phone slept or was started anew while it ran: ask what happened
	Counts   bool          `cbor:"counts"`             // false: stays out of repeatability and fits
	Yield    *Interval     `cbor:"yield,omitempty"`    // EY in percent, with what the instruments leave open
	Strength *Interval     `cbor:"strength,omitempty"` // TDS in percent, with what the refractometer leaves open
	Share    string        `cbor:"share" ts:"Share"`
	Edited   int64         `cbor:"edited"` // phone time of the last change

	Plan      *Plan       `cbor:"plan,omitempty"`    // as it stands now, holds included; nil without a recipe
	Parent    *BrewParams `cbor:"parent,omitempty"`  // the brew that it was a change of
	Changes   *Changes    `cbor:"changes,omitempty"` // from the parent; nil while that is being read
	Held      float64     `cbor:"held"`              // s from the start at which the plan was held, 0 when it is not
	Abandoned bool        `cbor:"abandoned"`
	Table     string      `cbor:"table"` // of bowls; empty for none
	Bowl      int         `cbor:"bowl"`
	Place     *ChartPlace `cbor:"place,omitempty"`
	Cooling   *Cooling    `cbor:"cooling,omitempty"`
	Readings  []Reading   `cbor:"readings"` // of the cup
	Boiling   float64     `cbor:"boiling"`  // °C at home
	Used      BrewUsed    `cbor:"used"`
}

// BrewUsed is the brew's own copy of what of the Cupboard it was made with, as that was then.
type BrewUsed struct {
	Coffee        *Coffee     `cbor:"coffee,omitempty"`
	Brewer        *Brewer     `cbor:"brewer,omitempty"`
	Grinder       *Grinder    `cbor:"grinder,omitempty"`
	Water         *Water      `cbor:"water,omitempty"`
	Scale         *Instrument `cbor:"scale,omitempty"`
	Refractometer *Instrument `cbor:"refractometer,omitempty"`
	Altitude      float64     `cbor:"altitude"`
}

// ChartPlace is where a brew lies on the control chart against the chosen range.
type ChartPlace struct {
	Range        ChartRange `cbor:"range"`
	Strength     string     `cbor:"strength" ts:"Side"`
	StrengthSure bool       `cbor:"strengthSure"` // all that the refractometer leaves open lies on that side
	Extraction   string     `cbor:"extraction" ts:"Side"`
	Sure         bool       `cbor:"sure"` // the whole interval of the extraction does
}

// Reading is a temperature of the cup.
type Reading struct {
	At      int64   `cbor:"at"` // by this phone's clock
	Celsius float64 `cbor:"celsius"`
}

// Cooling is when a cup is how warm, a guide. Without any reading of the vessel there is none.
type Cooling struct {
	Room  float64 `cbor:"room"`
	Rate  float64 `cbor:"rate"` // a second; the cup is Room + (Start - Room) exp(-Rate t), t seconds after From
	From  int64   `cbor:"from"`
	Start float64 `cbor:"start"` // °C at From
	Calls []Call  `cbor:"calls"`
}

// Call is a moment to taste. Nobody is told to drink above 65 °C.
type Call struct {
	Stage   string  `cbor:"stage" ts:"CupStage"`
	Celsius float64 `cbor:"celsius"`
	At      int64   `cbor:"at"`
}

// TableParams names a table of bowls.
type TableParams struct {
	Table string `cbor:"table"`
}

// TableView is bowls side by side, by their numbers.
type TableView struct {
	Ready bool       `cbor:"ready"`
	Bowls []BrewView `cbor:"bowls"`
}

// BrewSearch narrows the log; what is empty or 0 narrows nothing.
type BrewSearch struct {
	Words    string `cbor:"words,omitempty"`    // each word begins some word of the brew or its notes; accents and case do not matter
	Coffee   string `cbor:"coffee,omitempty"`   // a coffee's id, or the very name where there is none
	Sample   string `cbor:"sample,omitempty"`   // id
	Brewer   string `cbor:"brewer,omitempty"`   // id or name
	Grinder  string `cbor:"grinder,omitempty"`  // id or name
	Recipe   string `cbor:"recipe,omitempty"`   // id
	From     int64  `cbor:"from,omitempty"`     // began at or after
	Until    int64  `cbor:"until,omitempty"`    // began before
	Bowls    bool   `cbor:"bowls,omitempty"`    // bowls only
	Measured bool   `cbor:"measured,omitempty"` // with TDS only
}

// BrewMarked is something that happened during a brew.
type BrewMarked struct {
	Mark  string  `cbor:"mark" ts:"Mark"`
	At    float64 `cbor:"at"` // s from the start
	Grams float64 `cbor:"grams"`
	Step  int     `cbor:"step"` // of the plan, from 1; 0 none
}

// Interval is a number and how far it may be off: two standard uncertainties each way.
type Interval struct {
	Value float64 `cbor:"value"`
	Low   float64 `cbor:"low"`
	High  float64 `cbor:"high"`
}

// BrewsParams asks for a page of the log: the Limit newest, those after a page's More, or those after the Skip newest.
type BrewsParams struct {
	After  string     `cbor:"after,omitempty"`
	Skip   int        `cbor:"skip,omitempty"` // of those that are found, so that a long list can be entered anywhere
	Limit  int        `cbor:"limit"`          // 1 to 200
	Search BrewSearch `cbor:"search"`
}

// BrewsView is a page of the log, newest first. More is what to ask the next page after, empty at the end.
type BrewsView struct {
	Brews []BrewDigest `cbor:"brews"`
	All   int          `cbor:"all"`   // brews there are
	Found int          `cbor:"found"` // of them, those that the search finds
	Ready bool         `cbor:"ready"` // false while older brews are still being read; what is found so far is there
	More  string       `cbor:"more"`
}
