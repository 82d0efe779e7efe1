package app

// AdviceView is what to change next for the coffee of a brew.
type AdviceView struct {
	Ready    bool       `cbor:"ready"` // false while the brews are still being read
	Verdict  string     `cbor:"verdict" ts:"AdviceVerdict"`
	Base     BrewParams `cbor:"base"` // the brew to change; empty for none
	Variable string     `cbor:"variable" ts:"Variable"`
	From     float64    `cbor:"from"`
	To       float64    `cbor:"to"`
	FromName string     `cbor:"fromName"` // grind: as the grinder's scale says
	ToName   string     `cbor:"toName"`
	Better   float64    `cbor:"better"`          // chance in percent that it comes nearer to agreement
	Setup    *BrewSetup `cbor:"setup,omitempty"` // the base's with the change made; nil when there is nothing to brew
	Balance  []Expected `cbor:"balance"`
	TDS      *Expected  `cbor:"tds,omitempty"`     // percent
	EY       *Expected  `cbor:"ey,omitempty"`      // percent
	Seconds  *Expected  `cbor:"seconds,omitempty"` // Change is a factor
	Reasons  []Reason   `cbor:"reasons"`           // core/response
	Cups     int        `cbor:"cups"`              // of this coffee with a noted balance
	Left     *Ration    `cbor:"left,omitempty"`
}

// Expected is what a change is expected to do, each with its 90 % interval.
type Expected struct {
	Of     string   `cbor:"of" ts:"Attribute | \"tds\" | \"ey\" | \"seconds\""`
	Before Interval `cbor:"before"`
	Change Interval `cbor:"change"`
	Next   Interval `cbor:"next"`
}

// CompareParams names two brews.
type CompareParams struct {
	First  BrewParams `cbor:"first"`
	Second BrewParams `cbor:"second"`
}

// CompareView is two brews side by side, the earlier first.
type CompareView struct {
	Ready   bool         `cbor:"ready"`
	First   *BrewView    `cbor:"first,omitempty"` // nil while it is being read
	Second  *BrewView    `cbor:"second,omitempty"`
	Changes *Changes     `cbor:"changes,omitempty"`
	Verdict string       `cbor:"verdict" ts:"CompareVerdict"`
	By      []Difference `cbor:"by"`              // of what is known on both sides
	Reasons []Reason     `cbor:"reasons"`         // core/repeat
	Brews   int          `cbor:"brews"`           // repeated brews that it is judged by
	Match   *Interval    `cbor:"match,omitempty"` // ratio at which the second would be as strong as the first, extracted alike; nil: no TDS, or no further apart than the refractometer tells
}

// Difference is that of one quantity, the second less the first. For what is measured it is a share: 0.1 is a tenth more.
type Difference struct {
	Of     string   `cbor:"of" ts:"Quantity"`
	Enough bool     `cbor:"enough"` // there are repeated brews to judge it by
	By     Interval `cbor:"by"`     // 90 %
	Chance float64  `cbor:"chance"` // percent: of a difference as large between brews of one recipe
	Beyond bool     `cbor:"beyond"` // more than cups of one recipe differ: By is all on one side of 0
}

// RepeatView is how equal the brews of one recipe are, brewed cups and bowls each by themselves.
type RepeatView struct {
	Ready  bool     `cbor:"ready"`
	Brewed []Spread `cbor:"brewed"`
	Bowls  []Spread `cbor:"bowls"`
}

// Spread is how far brews of one recipe differ in a quantity. For what is measured it is a share of the value.
type Spread struct {
	Of        string   `cbor:"of" ts:"Quantity"`
	Deviation Interval `cbor:"deviation"` // 90 %
	Limit     float64  `cbor:"limit"`     // two brews differ by more than this once in ten times
	Brews     int      `cbor:"brews"`
	Recipes   int      `cbor:"recipes"`
	Enough    bool     `cbor:"enough"`
}

// TrialsView is the tree of an evening's trials of one coffee: those within 18 hours of the brew that was asked about.
type TrialsView struct {
	Ready bool    `cbor:"ready"`
	Rows  []Trial `cbor:"rows"`
}

// Trial is a row of the tree. Parent is a row from 0, or -1.
type Trial struct {
	Brew    BrewDigest    `cbor:"brew"`
	Parent  int           `cbor:"parent"`
	Lane    int           `cbor:"lane"`
	Depth   int           `cbor:"depth"`
	Since   *Changes      `cbor:"since,omitempty"`
	Balance []BalanceMark `cbor:"balance"`
	Yield   *Interval     `cbor:"yield,omitempty"`
	Orphan  bool          `cbor:"orphan"` // its parent is not of this evening
}

// TrendParams asks for brews over time, or on the chart: the newest of those that the search finds.
type TrendParams struct {
	Search BrewSearch `cbor:"search"`
	Limit  int        `cbor:"limit"` // 1 to 500
}

// TrendView has a point for each brew, oldest first.
type TrendView struct {
	Ready  bool         `cbor:"ready"`
	Points []TrendPoint `cbor:"points"`
	All    int          `cbor:"all"` // that the search finds
	Ranges []ChartRange `cbor:"ranges"`
	Range  string       `cbor:"range" ts:"TradeRange"` // the one that was chosen at home
	Lines  []RatioLine  `cbor:"lines"`
}

// RatioLine is a line of equal ratio on the brewing control chart, for water that passes through: it begins where nothing is
// extracted.
type RatioLine struct {
	Ratio float64 `cbor:"ratio"` // g of water a g of coffee
	Slope float64 `cbor:"slope"` // TDS by EY
}

// TrendPoint is a brew in a plot. What was not measured is 0 or missing.
type TrendPoint struct {
	Book    string        `cbor:"book"`
	Brew    string        `cbor:"brew"`
	Began   int64         `cbor:"began"`
	Seconds float64       `cbor:"seconds"`
	TDS     float64       `cbor:"tds"`  // percent
	Open    float64       `cbor:"open"` // what the refractometer leaves open of it, percent to either side
	Yield   *Interval     `cbor:"yield,omitempty"`
	Ratio   float64       `cbor:"ratio"`
	Balance []BalanceMark `cbor:"balance"`
	Bowl    bool          `cbor:"bowl"` // a cupping bowl: never pooled with brewed cups
	Counts  bool          `cbor:"counts"`
}

// ChartRange is a range of the brewing control chart, in percent.
type ChartRange struct {
	ID      string  `cbor:"id" ts:"TradeRange"`
	TDSLow  float64 `cbor:"tdsLow"`
	TDSHigh float64 `cbor:"tdsHigh"`
	EYLow   float64 `cbor:"eyLow"`
	EYHigh  float64 `cbor:"eyHigh"`
}
