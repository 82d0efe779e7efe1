package app

// WaterReading is what a label or a test would come to. Nothing is kept.
type WaterReading struct {
	Reads  WaterRead    `cbor:"reads"`
	Doubts []WaterDoubt `cbor:"doubts"`
}

// WaterDoubt is something that is hardly meant, or will not work. It is a question at its field and hinders nobody.
type WaterDoubt struct {
	Code  string  `cbor:"code" ts:"WaterDoubtCode"`
	Salt  string  `cbor:"salt" ts:"Salt | \"\""`
	Value float64 `cbor:"value"` // balance: cations less anions over their sum, in percent; undissolved: g that this volume takes up
}

// ConcentrateReading is what a millilitre of a concentrate brings to a litre, in mg/L as CaCO3. Nothing is kept.
type ConcentrateReading struct {
	Hardness   float64      `cbor:"hardness"`
	Alkalinity float64      `cbor:"alkalinity"`
	Doubts     []WaterDoubt `cbor:"doubts"`
}

// WaterTarget is what a water should have, in mg/L as CaCO3. Magnesium is its part of the hardness, 0 to 1; -1: any.
type WaterTarget struct {
	Hardness   float64 `cbor:"hardness"`
	Alkalinity float64 `cbor:"alkalinity"`
	Magnesium  float64 `cbor:"magnesium"`
}

// WaterMix asks for the blend that comes nearest to a target. Nothing is kept.
type WaterMix struct {
	Sources []MixSource `cbor:"sources"` // at most 20, one of them a water or pure
	Target  WaterTarget `cbor:"target"`
	Litres  float64     `cbor:"litres"`
}

// MixSource is what may go into a blend. ID is the item's, or the salt's; empty for pure water.
type MixSource struct {
	What string `cbor:"what" ts:"MixKind"`
	ID   string `cbor:"id"`
}

// WaterMixed is a blend.
type WaterMixed struct {
	Parts  []MixPart `cbor:"parts"`  // what is used of the sources, in their order
	Gives  Water     `cbor:"gives"`  // the blend, as it would be saved, without a name
	Reads  WaterRead `cbor:"reads"`  // of the blend
	Misses []MixMiss `cbor:"misses"` // what these sources cannot reach
	Unsure bool      `cbor:"unsure"` // magnesium matters, and a source's is not known: it came from a test
}

// MixPart is so much of a source.
type MixPart struct {
	What        string       `cbor:"what" ts:"MixKind"`
	ID          string       `cbor:"id"`
	Name        string       `cbor:"name"`        // of an item of one's own
	Share       float64      `cbor:"share"`       // waters: of the blend
	Litres      float64      `cbor:"litres"`      // waters
	Millilitres float64      `cbor:"millilitres"` // concentrates
	Grams       float64      `cbor:"grams"`       // salts
	TooFine     bool         `cbor:"tooFine"`     // this scale cannot weigh so little within a twentieth
	Instead     *MixDilution `cbor:"instead,omitempty"`
}

// MixDilution is a concentrate of one salt that this scale can weigh, and how much of it the blend needs.
type MixDilution struct {
	Grams       float64 `cbor:"grams"`  // of the salt
	Litres      float64 `cbor:"litres"` // of pure water
	Millilitres float64 `cbor:"millilitres"`
}

// MixMiss is a quantity that the sources cannot reach, in mg/L as CaCO3.
type MixMiss struct {
	Quantity string  `cbor:"quantity" ts:"WaterQuantity"`
	Want     float64 `cbor:"want"`
	Gets     float64 `cbor:"gets"`
	TooMuch  bool    `cbor:"tooMuch"` // every source brings it; else none brings enough
}

// ClubWaterSet sets the water that everybody in a club is to brew with, or with no target takes it back.
type ClubWaterSet struct {
	Club   string       `cbor:"club"`
	Target *WaterTarget `cbor:"target,omitempty"`
	Note   string       `cbor:"note"` // how to make it, in the organiser's words
}

// ClubWaterSay tells the club whether one can make its water.
type ClubWaterSay struct {
	Club string `cbor:"club"`
	Says string `cbor:"says" ts:"WaterReach"`
}
