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
	Water    float64 `cbor:"water"`
	Grind    string  `cbor:"grind"`
	Drawdown float64 `cbor:"drawdown"` // s
	TDS      float64 `cbor:"tds"`      // percent
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
	Pours    []Pour        `cbor:"pours"`           // as they count: corrected, or as marked
	Drawdown float64       `cbor:"drawdown"`        // s, as it counts; 0 unknown
	Absent   bool          `cbor:"absent"`          // the phone slept or was started anew while it ran: ask what happened
	Counts   bool          `cbor:"counts"`          // false: stays out of repeatability and fits
	Yield    *Interval     `cbor:"yield,omitempty"` // EY in percent, with what the instruments leave open
	Share    string        `cbor:"share" ts:"Share"`
	Edited   int64         `cbor:"edited"` // phone time of the last change
}

// BrewMarked is something that happened during a brew.
type BrewMarked struct {
	Mark  string  `cbor:"mark" ts:"Mark"`
	At    float64 `cbor:"at"` // s from the start
	Grams float64 `cbor:"grams"`
}

// Interval is a number and how far it may be off: two standard uncertainties each way.
type Interval struct {
	Value float64 `cbor:"value"`
	Low   float64 `cbor:"low"`
	High  float64 `cbor:"high"`
}

// BrewsParams asks for a page of the log: the Limit newest, or those after a page's More.
type BrewsParams struct {
	After string `cbor:"after,omitempty"`
	Limit int    `cbor:"limit"` // 1 to 200
}

// BrewsView is a page of the log, newest first. More is what to ask the next page after, empty at the end.
type BrewsView struct {
	Brews []BrewDigest `cbor:"brews"`
	All   int          `cbor:"all"`
	More  string       `cbor:"more"`
}
