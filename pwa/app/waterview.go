package app

// WaterView is all that the screens of water work with.
type WaterView struct {
	Waters       []WaterItem       `cbor:"waters"`
	Concentrates []ConcentrateItem `cbor:"concentrates"`
	Salts        []SaltFacts       `cbor:"salts"`
	Units        []UnitFacts       `cbor:"units"`
	Ranges       []WaterRange      `cbor:"ranges"` // newest first
	Clubs        []ClubTarget      `cbor:"clubs"`  // those that set a common water
	Unit         string            `cbor:"unit" ts:"HardnessUnit"`
	Scale        float64           `cbor:"scale"` // g: the usual scale is right within plus or minus this
}

// SaltFacts is a food-grade salt, in the hydrate that its formula states.
type SaltFacts struct {
	Salt      string  `cbor:"salt" ts:"Salt"`
	Formula   string  `cbor:"formula"`
	Dissolves float64 `cbor:"dissolves"` // g that a litre surely takes up
}

// UnitFacts is a unit of hardness and alkalinity.
type UnitFacts struct {
	Unit   string  `cbor:"unit" ts:"HardnessUnit"`
	Factor float64 `cbor:"factor"` // mg/L as CaCO3 in one
}

// WaterRange is what the trade published for brewing water, in mg/L as CaCO3.
type WaterRange struct {
	ID             string  `cbor:"id"`
	Year           int     `cbor:"year"`
	HardnessLow    float64 `cbor:"hardnessLow"`
	HardnessHigh   float64 `cbor:"hardnessHigh"`
	CalciumOnly    bool    `cbor:"calciumOnly"` // the hardness is of calcium alone
	AlkalinityLow  float64 `cbor:"alkalinityLow"`
	AlkalinityHigh float64 `cbor:"alkalinityHigh"`
	Read           bool    `cbor:"read"` // the publication was read; else it is told at second hand
}

// ClubTarget is the common water of a club that one is in.
type ClubTarget struct {
	Club   string      `cbor:"club"`
	Name   string      `cbor:"name"`
	Target WaterTarget `cbor:"target"`
}

// ClubWaterView is a club's common water, and who can make it.
type ClubWaterView struct {
	Club    string          `cbor:"club"`
	Name    string          `cbor:"name"`
	Target  *WaterTarget    `cbor:"target,omitempty"` // nil: none is set
	Note    string          `cbor:"note"`
	May     bool            `cbor:"may"` // I may set it
	Unit    string          `cbor:"unit" ts:"HardnessUnit"`
	Mine    *WaterMixed     `cbor:"mine,omitempty"` // a litre of what my Cupboard comes nearest with; nil: no water stands there
	Says    string          `cbor:"says" ts:"WaterReach"`
	Members []ClubWaterLine `cbor:"members"`
}

// ClubWaterLine is what a member says of this target; of an earlier one it does not count.
type ClubWaterLine struct {
	Member string `cbor:"member"`
	Name   string `cbor:"name"`
	Me     bool   `cbor:"me"`
	Says   string `cbor:"says" ts:"WaterReach"`
}
