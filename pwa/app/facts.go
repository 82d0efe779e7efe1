package app

import "hushcup/sync/oplog"

// brewFacts are what can be learned from a brew. They stand in the index, so that nothing has to be opened for them. What was
// not measured, or is not known, is 0 or empty.
type brewFacts struct {
	_         struct{} `cbor:",toarray"`
	Coffee    string   // key: the sample's id, the coffee's id, or its folded name
	Brewer    string   // key: id, or folded name
	Grinder   string   // key: id, or folded name
	Geometry  string
	Recipe    string // key: equal for brews that were planned alike (all that is set up but the coffee)
	Grind     float64
	GrindSet  bool // Grind is a position on the grinder's own scale, in its smallest steps
	Dose      float64
	Water     float64
	Kettle    float64
	Stirs     float64 // strokes of stirs and swirls, as they were marked, or else as planned
	Seconds   float64
	Beverage  float64
	TDS       float64 // mass fraction
	TDSOpen   float64 // what the refractometer leaves open of it, to either side
	EY        float64 // mass fraction
	EYLow     float64
	EYHigh    float64
	Balance   []balanceContent
	Bowl      bool // a cupping bowl: never pooled with brewed cups
	Counts    bool // may be learned from
	Infused   bool // the coffee was declared to have something added
	Allergens bool
	Parent    oplog.DocID
	Text      string // folded words that the search looks in, those of the notes included
}

type balanceContent struct {
	_    struct{} `cbor:",toarray"`
	Of   string
	Mark int
}
