package app

import (
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// What the parts of documents hold. The number types the content; it is never reused. 1 and 2 of a guess document are known
// to the club's rules as well.
//
// Contents are CBOR maps with integer keys. A field that this version does not know stays where it is when the part is
// edited (see content.go), so fields may be added, and none may change its meaning.
const (
	partGuess       uint32 = 1  // guess document: guessContent; the newest before the close scores
	partFirstGuess  uint32 = 2  // guess document: guessContent; written once, before brewing
	partName        uint32 = 3  // profile document: nameContent
	partBookWords   uint32 = 4  // book document: bookContent
	partFlightWords uint32 = 5  // flight document: flightContent
	partFlightPins  uint32 = 6  // flight document: pinsContent, whose hashes the flight pins; never edited
	partBookWater   uint32 = 7  // book document: bookWaterContent
	partReach       uint32 = 8  // profile document: reachContent
	partBrew        uint32 = 10 // brew document: brewContent
	partBrewNotes   uint32 = 11 // brew document: notesContent
	partNoticed     uint32 = 12 // brew document, or one of a sample and a device: noticedContent
	partBrewUsed    uint32 = 14 // brew document: BrewUsed, as it was when the setup was written
	partBrewOf      uint32 = 13 // brew document in the notebook: brewOfContent, of a brew that came from a file

	// The rest stands in the notebook.
	partSettings   uint32 = 20 // settings document: settingsContent
	partSitting    uint32 = 21 // sitting document: sittingContent
	partRecovery   uint32 = 22 // settings document: recoveryContent
	partDevice     uint32 = 23 // device document: deviceContent
	partInvitation uint32 = 24 // invitation document: invitationContent
	partHistory    uint32 = 25 // history document: historyContent
)

// settingsDoc is the one document about the person.
var settingsDoc = derivedDoc("hushcup/1 settings")

// sittingDoc is about what one does with a sample, beside brewing and guessing.
func sittingDoc(book oplog.BookID, sample oplog.SampleID) oplog.DocID {
	return derivedDoc("hushcup/1 sitting", book[:], sample[:])
}

// deviceDoc is about one of one's devices.
func deviceDoc(device oplog.DeviceID) oplog.DocID { return derivedDoc("hushcup/1 device", device[:]) }

// invitationDoc keeps an invitation that one has made, to show it again.
func invitationDoc(key oplog.DeviceID) oplog.DocID {
	return derivedDoc("hushcup/1 invitation", key[:])
}

// historyDoc keeps a cup of a club that one is not in, as it came from a file.
func historyDoc(book oplog.BookID, sample oplog.SampleID) oplog.DocID {
	return derivedDoc("hushcup/1 history", book[:], sample[:])
}

func derivedDoc(label string, fields ...[]byte) oplog.DocID {
	sum := seal.Sum(label, fields...)
	return oplog.DocID(sum[:16])
}

type nameContent struct {
	Name string `cbor:"1,keyasint"`
}

type bookContent struct {
	Name string `cbor:"1,keyasint"`
}

type flightContent struct {
	Title     string   `cbor:"1,keyasint"`
	Note      string   `cbor:"2,keyasint"`
	Questions []string `cbor:"3,keyasint"` // names of facets, in the order in which they are asked
}

// pinsContent is what a flight pins by hash. Weights are score.Rules, by facet number.
type pinsContent struct {
	Prior   []byte   `cbor:"1,keyasint"` // atlas.Prior.Encode
	Weights []uint16 `cbor:"2,keyasint"`
}

type guessContent struct {
	Said []saidContent `cbor:"1,keyasint"` // sorted by node
}

type saidContent struct {
	_     struct{} `cbor:",toarray"`
	Node  string
	Share uint16
}

// brewContent is a whole brew but for its notes. Times are of the phone that brewed; marks count from the start.
type brewContent struct {
	Created int64          `cbor:"1,keyasint"` // when it was planned; it never changes, and orders the log
	State   uint8          `cbor:"2,keyasint"`
	Setup   setupContent   `cbor:"3,keyasint"`
	Began   int64          `cbor:"4,keyasint"` // the start, 0 before it
	Ended   int64          `cbor:"5,keyasint"` // the end mark or the saving, 0 before it
	Marks   []markContent  `cbor:"6,keyasint"`
	Outcome outcomeContent `cbor:"7,keyasint"`
	Clock   clockContent   `cbor:"8,keyasint"`
	Counts  bool           `cbor:"9,keyasint"` // it may be used for repeatability and fits

	Abandoned bool             `cbor:"10,keyasint"`
	Parent    parentContent    `cbor:"11,keyasint"` // nothing in it: none
	Table     string           `cbor:"12,keyasint"` // of bowls
	Bowl      int              `cbor:"13,keyasint"`
	OfSteps   []int            `cbor:"14,keyasint"` // of the plan, from 1, to which the marks belong; one for each mark
	Kitchen   kitchenContent   `cbor:"15,keyasint"`
	Readings  []readingContent `cbor:"16,keyasint"` // of the cup
}

// parentContent is the brew that a brew was a change of.
type parentContent struct {
	_    struct{} `cbor:",toarray"`
	Book oplog.BookID
	Doc  oplog.DocID
}

// kitchenContent is what numbers of a brew depend on, as it was when it was brewed.
type kitchenContent struct {
	Scale     float64 `cbor:"1,keyasint"` // precision in g, 0 not known
	Meter     float64 `cbor:"2,keyasint"` // precision in % TDS, 0 not known
	Altitude  float64 `cbor:"3,keyasint"` // m
	Retained  float64 `cbor:"4,keyasint"` // g/g, 0: as the geometry has it
	Grind     float64 `cbor:"5,keyasint"` // position on the grinder's own scale
	GrindSet  bool    `cbor:"6,keyasint"`
	Infused   bool    `cbor:"7,keyasint"`
	Allergens bool    `cbor:"8,keyasint"`
	Moisture  float64 `cbor:"9,keyasint,omitempty"` // % of the dose, 0 not known
}

// readingContent is a temperature of the cup; At is in milliseconds from the start.
type readingContent struct {
	_       struct{} `cbor:",toarray"`
	At      int64
	Celsius float64
}

// States of a brew.
const (
	brewPlanned uint8 = 1
	brewGoing   uint8 = 2
	brewDone    uint8 = 3
	brewGone    uint8 = 4 // thrown away; nothing else is left in it
)

type setupContent struct {
	Coffee  string  `cbor:"1,keyasint"`
	Method  string  `cbor:"2,keyasint"`
	Brewer  string  `cbor:"3,keyasint"`
	Dose    float64 `cbor:"4,keyasint"`
	Water   float64 `cbor:"5,keyasint"`
	Ratio   float64 `cbor:"6,keyasint"`
	Kettle  float64 `cbor:"7,keyasint"`
	Grinder string  `cbor:"8,keyasint"`
	Grind   string  `cbor:"9,keyasint"`
	Filter  string  `cbor:"10,keyasint"`

	CoffeeID      string        `cbor:"11,keyasint"`
	BrewerID      string        `cbor:"12,keyasint"`
	GrinderID     string        `cbor:"13,keyasint"`
	WaterID       string        `cbor:"14,keyasint"`
	RecipeID      string        `cbor:"15,keyasint"`
	Geometry      string        `cbor:"16,keyasint"`
	WaterName     string        `cbor:"17,keyasint"`
	Recipe        string        `cbor:"18,keyasint"`
	Steps         []stepContent `cbor:"19,keyasint"`
	Scoops        float64       `cbor:"20,keyasint"`
	SinceGrinding float64       `cbor:"21,keyasint"`
}

// stepContent is a RecipeStep.
type stepContent struct {
	_       struct{} `cbor:",toarray"`
	Kind    string
	At      float64
	Until   float64
	Water   float64
	Dose    float64
	Pattern string
	Times   int
}

// markContent: At is in milliseconds from the start; Grams is what the scale showed, 0 without one.
type markContent struct {
	_     struct{} `cbor:",toarray"`
	Mark  string
	At    int64
	Grams float64
}

type outcomeContent struct {
	Pours    []pourContent `cbor:"1,keyasint"`
	Drawdown float64       `cbor:"2,keyasint"`
	Beverage float64       `cbor:"3,keyasint"`
	TDS      float64       `cbor:"4,keyasint"`
	Asked    string        `cbor:"5,keyasint"`

	Slurry  float64          `cbor:"6,keyasint"`
	Bypass  float64          `cbor:"7,keyasint"`
	Balance []balanceContent `cbor:"8,keyasint"`
}

type pourContent struct {
	_     struct{} `cbor:",toarray"`
	At    float64
	Grams float64
}

type notesContent struct {
	Notes string `cbor:"1,keyasint"`
}

type settingsContent struct {
	Name string   `cbor:"1,keyasint"`
	Seen []string `cbor:"2,keyasint"` // cautions
}

// sittingContent: Keep is 1 to keep an opened sample closed for oneself, 2 once one has looked at it. Step is how far the
// sitting has come, counted from 1 in the order of sittingSteps; it only grows.
type sittingContent struct {
	Keep uint8 `cbor:"1,keyasint"`
	Step uint8 `cbor:"2,keyasint"`
}

type recoveryContent struct {
	At        int64 `cbor:"1,keyasint"`
	Confirmed bool  `cbor:"2,keyasint"`
}

type deviceContent struct {
	Name string `cbor:"1,keyasint"`
}

type invitationContent struct {
	Text    string `cbor:"1,keyasint"`
	Expires int64  `cbor:"2,keyasint"`
}

// declaredContent is the open declaration of a sample, and answerContent its sealed answer. They are bodies of their own in
// the sample's op.
type declaredContent struct {
	Choice    string   `cbor:"1,keyasint"`
	Allergens []string `cbor:"2,keyasint"`
	Additives []string `cbor:"3,keyasint"`
	Note      string   `cbor:"4,keyasint"`
}

type answerContent struct {
	Known      []knownContent `cbor:"1,keyasint"`
	RoastMeter string         `cbor:"2,keyasint"`
	AltLow     int            `cbor:"3,keyasint"`
	AltHigh    int            `cbor:"4,keyasint"`
	Lot        string         `cbor:"5,keyasint"`
	Producer   string         `cbor:"6,keyasint"`
	Roasted    string         `cbor:"7,keyasint"`
	Note       string         `cbor:"8,keyasint"`
}

type knownContent struct {
	_      struct{} `cbor:",toarray"`
	Facet  string
	Source string
	Nodes  []string
}
