package app

import "hushcup/sync/codec"

// DataPageAsk asks for a page of all that a file carries: the first, or the one after a page's More.
type DataPageAsk struct {
	After string `cbor:"after"`
	Limit int    `cbor:"limit"` // 1 to 200
}

// DataPage is so much of it.
type DataPage struct {
	Records []DataRecord `cbor:"records"`
	More    string       `cbor:"more"`   // what to ask the next page after, empty at the end
	All     int          `cbor:"all"`    // records there are, running brews included
	Going   int          `cbor:"going"`  // brews of this page that are left out: their clock runs
	Unread  int          `cbor:"unread"` // things of this page that are left out: they do not open on this device
}

// DataRecord is one thing, as a file carries it (see pwa/ui/model/FILE.md): of the fields below Away the one that Kind names.
type DataRecord struct {
	Kind        string       `cbor:"kind" ts:"DataKind"`
	Away        bool         `cbor:"away,omitempty"` // items: put away
	Home        *Home        `cbor:"home,omitempty"`
	Coffee      *Coffee      `cbor:"coffee,omitempty"`
	Brewer      *Brewer      `cbor:"brewer,omitempty"`
	Grinder     *Grinder     `cbor:"grinder,omitempty"`
	Water       *Water       `cbor:"water,omitempty"`
	Concentrate *Concentrate `cbor:"concentrate,omitempty"`
	Instrument  *Instrument  `cbor:"instrument,omitempty"`
	Recipe      *Recipe      `cbor:"recipe,omitempty"`
	Brew        *DataBrew    `cbor:"brew,omitempty"`
	Cup         *DataCup     `cbor:"cup,omitempty"`
}

// DataBrew is a brew with all that was kept of it. Times are milliseconds since 1970.
type DataBrew struct {
	ID        string      `cbor:"id"`
	Created   int64       `cbor:"created"` // when it was planned
	State     string      `cbor:"state" ts:"BrewState"`
	Began     int64       `cbor:"began"` // 0: the clock never started
	Ended     int64       `cbor:"ended"`
	Setup     BrewSetup   `cbor:"setup"`
	Used      BrewUsed    `cbor:"used"`
	Marks     []DataMark  `cbor:"marks"` // in order
	Outcome   BrewOutcome `cbor:"outcome"`
	Readings  []DataHeat  `cbor:"readings"` // of the cup
	Kitchen   DataKitchen `cbor:"kitchen"`
	Absent    bool        `cbor:"absent"` // the phone slept or was started anew while it ran
	Counts    bool        `cbor:"counts"`
	Abandoned bool        `cbor:"abandoned"`
	Parent    string      `cbor:"parent"` // id of the brew that it was a change of
	Table     string      `cbor:"table"`  // of bowls
	Bowl      int         `cbor:"bowl"`
	Noticed   []DataNote  `cbor:"noticed"`      // in the order in which it came
	Of        *DataOf     `cbor:"of,omitempty"` // the club's sample that it was of

	Yield *Interval `cbor:"yield,omitempty"` // EY in percent, worked out for who reads the file; not read back
}

// DataNote is what was noticed at one time.
type DataNote struct {
	Stage string   `cbor:"stage" ts:"CupStage"`
	At    int64    `cbor:"at"`
	Words []string `cbor:"words"`
}

// DataKitchen is what numbers of a brew depend on, as it was then. What is not known is 0.
type DataKitchen struct {
	Scale     float64 `cbor:"scale"`    // g, plus or minus
	Meter     float64 `cbor:"meter"`    // % TDS, plus or minus
	Altitude  float64 `cbor:"altitude"` // m
	Retained  float64 `cbor:"retained"` // g of liquid that a g of coffee keeps
	Grind     float64 `cbor:"grind"`    // position on the grinder's own scale, in its smallest steps
	GrindSet  bool    `cbor:"grindSet"` // Grind is known
	Infused   bool    `cbor:"infused"`
	Allergens bool    `cbor:"allergens"`
	Moisture  float64 `cbor:"moisture,omitempty"` // % of the dose
}

// DataHeat is a temperature of a cup.
type DataHeat struct {
	At      int64   `cbor:"at"` // milliseconds from the start
	Celsius float64 `cbor:"celsius"`
}

// DataMark is something that happened during a brew.
type DataMark struct {
	Mark  string  `cbor:"mark" ts:"Mark"`
	At    int64   `cbor:"at"` // milliseconds from the start
	Grams float64 `cbor:"grams"`
	Step  int     `cbor:"step"` // of the plan, from 1; 0 when it belongs to none
}

// DataOf names a club's sample, with the words that are left of it where nobody is in that club.
type DataOf struct {
	Club   string `cbor:"club"`
	Sample string `cbor:"sample"`
	Code   int    `cbor:"code"`
	Title  string `cbor:"title"` // of its flight
}

// DataCup is what one thought of a club's sample, and what it was once that is open to oneself. In a file it is history: it is
// never taken back as a guess, which only a club can order.
type DataCup struct {
	Of       DataOf      `cbor:"of"`
	ClubName string      `cbor:"clubName"`
	Grams    float64     `cbor:"grams"`
	Declared *Declared   `cbor:"declared,omitempty"`
	Keeps    string      `cbor:"keeps" ts:"DataKeeps"`
	First    []SaidFacet `cbor:"first"` // the guess before brewing
	Guess    []SaidFacet `cbor:"guess"`
	Late     bool        `cbor:"late"`
	Knew     bool        `cbor:"knew"`   // one knew the answer
	Opened   int64       `cbor:"opened"` // server time; 0: sealed
	Answer   *Answer     `cbor:"answer,omitempty"`
	Bits     *int        `cbor:"bits,omitempty"` // the score, in 1/1,000 bit
	Noticed  []DataNote  `cbor:"noticed"`        // before any brew
}

// DataTake hands records over, to be checked as if they were typed. What is here already stays as it is.
type DataTake struct {
	Records []codec.Raw `cbor:"records" ts:"DataRecord"` // at most 100
}

// DataTaken says what became of them.
type DataTaken struct {
	Taken   int           `cbor:"taken"`
	Known   int           `cbor:"known"`   // were here already
	Gone    int           `cbor:"gone"`    // were thrown away here, and stay away
	History int           `cbor:"history"` // of the taken: brews and cups of clubs that one is not in
	Less    int           `cbor:"less"`    // of the taken: had fields that this version does not know, which were left out
	Refused []DataRefused `cbor:"refused"`
}

// DataRefused is a record that cannot be, and why.
type DataRefused struct {
	Index int    `cbor:"index"` // among those handed over
	Error *Error `cbor:"error"`
}

// DataView is what a file would carry.
type DataView struct {
	Items   int       `cbor:"items"`
	Brews   int       `cbor:"brews"`
	History []DataCup `cbor:"history"` // cups that came from a file
}
