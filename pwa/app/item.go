package app

// What stands in the Cupboard. Each is a document of the notebook, made in half a minute and useful while half filled in:
// only a name is needed. Numbers that are not known are 0, words that are not known are empty. A brew keeps a copy of what it
// used, so none of this rewrites history.

// Coffee is a bag of one's own.
type Coffee struct {
	ID       string   `cbor:"id"` // empty for a new one
	Name     string   `cbor:"name"`
	From     string   `cbor:"from"` // who roasted it or where it was bought, in one's own words
	Caffeine string   `cbor:"caffeine" ts:"CoffeeKind"`
	Grams    float64  `cbor:"grams"`   // in the bag when it was new
	Kept     float64  `cbor:"kept"`    // g put aside to taste again
	Roasted  string   `cbor:"roasted"` // a day, as 2026-11-03
	Frozen   string   `cbor:"frozen"`
	Thawed   string   `cbor:"thawed"`
	Batch    string   `cbor:"batch"`
	Moisture float64  `cbor:"moisture"` // % of the roasted coffee's mass, as its roaster states it; 0: not known
	Declared Declared `cbor:"declared"`
	Note     string   `cbor:"note"`
}

// Brewer is a brewer by its geometry.
type Brewer struct {
	ID       string  `cbor:"id"`
	Name     string  `cbor:"name"`
	Geometry string  `cbor:"geometry" ts:"Geometry"`
	Filter   string  `cbor:"filter" ts:"Filter"`
	Holds    float64 `cbor:"holds"`    // g of water
	Retained float64 `cbor:"retained"` // g of liquid a g of coffee, as its owner measured it; 0: as the geometry has it
	Note     string  `cbor:"note"`
}

// Grinder is a grinder with its own scale.
type Grinder struct {
	ID      string   `cbor:"id"`
	Name    string   `cbor:"name"`
	Burr    string   `cbor:"burr" ts:"Burr"`
	Scale   string   `cbor:"scale" ts:"GrinderScale"`
	PerTurn int      `cbor:"perTurn"` // turns: clicks in a turn; letters: clicks from letter to letter
	Step    float64  `cbor:"step"`    // numbers: the smallest step; 0 for a dial without steps
	Marks   []string `cbor:"marks"`   // letters: in order; none for A to Z
	Finest  string   `cbor:"finest"`  // settings at the two stops, as the scale says
	Coarse  string   `cbor:"coarse"`
	Stays   float64  `cbor:"stays"`  // g that stay in it, when measured
	Shared  bool     `cbor:"shared"` // others grind in it too
	Note    string   `cbor:"note"`
}

// Water is a water from a label or a test. Ions are mg/L. A test gives hardness and alkalinity only, in mg/L as CaCO3.
type Water struct {
	ID          string  `cbor:"id"`
	Name        string  `cbor:"name"`
	Source      string  `cbor:"source" ts:"WaterSource"`
	Calcium     float64 `cbor:"calcium"`
	Magnesium   float64 `cbor:"magnesium"`
	Sodium      float64 `cbor:"sodium"`
	Potassium   float64 `cbor:"potassium"`
	Bicarbonate float64 `cbor:"bicarbonate"`
	Chloride    float64 `cbor:"chloride"`
	Sulphate    float64 `cbor:"sulphate"`
	Hardness    float64 `cbor:"hardness"`   // test
	Alkalinity  float64 `cbor:"alkalinity"` // test
	Note        string  `cbor:"note"`
}

// Concentrate is minerals dissolved in pure water, to be dosed by the millilitre and never drunk.
type Concentrate struct {
	ID     string      `cbor:"id"`
	Name   string      `cbor:"name"`
	Litres float64     `cbor:"litres"`
	Salts  []SaltGrams `cbor:"salts"`
	Note   string      `cbor:"note"`
}

// SaltGrams is so much of a salt of core/water.
type SaltGrams struct {
	Salt  string  `cbor:"salt" ts:"Salt"`
	Grams float64 `cbor:"grams"`
}

// Instrument is a scale, a refractometer or a thermometer with its precision, in its unit (g, % TDS, °C): plus or minus.
type Instrument struct {
	ID        string  `cbor:"id"`
	Name      string  `cbor:"name"`
	What      string  `cbor:"what" ts:"InstrumentKind"`
	Precision float64 `cbor:"precision"`
	Note      string  `cbor:"note"`
}

// Recipe is a timeline, relative to dose and ratio.
type Recipe struct {
	ID       string       `cbor:"id"`
	Title    string       `cbor:"title"`
	Geometry string       `cbor:"geometry" ts:"Geometry"`
	Dose     float64      `cbor:"dose"`
	Ratio    float64      `cbor:"ratio"`
	Kettle   float64      `cbor:"kettle"` // °C at the sea; a home's boiling point caps it
	Grind    string       `cbor:"grind" ts:"GrindWord"`
	Filter   string       `cbor:"filter" ts:"Filter"`
	Steps    []RecipeStep `cbor:"steps"`
	Note     string       `cbor:"note"`
}

// RecipeStep is a line of a recipe. Times are seconds from the start; before 0 it is before the clock.
type RecipeStep struct {
	Kind    string  `cbor:"kind" ts:"StepKind"`
	At      float64 `cbor:"at"`
	Until   float64 `cbor:"until"` // 0 for what takes no time worth noting
	Water   float64 `cbor:"water"` // pours: share of the recipe's water on the scale after it; bypass: share added
	Dose    float64 `cbor:"dose"`  // bloom, instead of Water: g of water a g of coffee
	Pattern string  `cbor:"pattern" ts:"PourPattern"`
	Times   int     `cbor:"times"` // strokes of stir, swirl, break
}

// Home is the kitchen, the same on all of one's devices.
type Home struct {
	Altitude      float64 `cbor:"altitude"` // m; decides where water boils
	Room          float64 `cbor:"room"`     // °C, for cooling cups; 0: 21
	Scale         string  `cbor:"scale"`    // ids of the instruments that are used unless a brew says otherwise
	Refractometer string  `cbor:"refractometer"`
	Water         string  `cbor:"water"` // id
	Weight        string  `cbor:"weight" ts:"\"g\" | \"oz\""`
	Temperature   string  `cbor:"temperature" ts:"\"C\" | \"F\""`
	Hardness      string  `cbor:"hardness" ts:"HardnessUnit"`
	Range         string  `cbor:"range"` // a TradeRange, or one that only a later version knows; empty and unknown count as the first
}

// Person is what stays on this device and only warns, or suits a hand.
type Person struct {
	Pregnant  bool     `cbor:"pregnant"` // or breast-feeding, or told to have less caffeine
	Spits     bool     `cbor:"spits"`    // tastes as the trade tastes
	Allergens []string `cbor:"allergens" ts:"Allergen"`
	Left      bool     `cbor:"left"`  // the big button under the left thumb
	Quiet     bool     `cbor:"quiet"` // a house that sleeps: no sound
}

// CupboardView is all of it, each list by name; what was put away comes last.
type CupboardView struct {
	Coffees      []CoffeeItem      `cbor:"coffees"`
	Brewers      []BrewerItem      `cbor:"brewers"`
	Grinders     []GrinderItem     `cbor:"grinders"`
	Waters       []WaterItem       `cbor:"waters"`
	Concentrates []ConcentrateItem `cbor:"concentrates"`
	Instruments  []InstrumentItem  `cbor:"instruments"`
	Recipes      []RecipeItem      `cbor:"recipes"` // one's own, then the starting points
	Home         Home              `cbor:"home"`
	Boiling      float64           `cbor:"boiling"` // °C at home
}

// Kept is what is known of every item beside what its owner typed.
type Kept struct {
	Away  bool  `cbor:"away"`  // put away: offered nowhere, kept for the brews that used it
	Brews int   `cbor:"brews"` // that used it
	Last  int64 `cbor:"last"`  // when one last did; 0 never
}

// CoffeeItem is a coffee with what is left of it.
type CoffeeItem struct {
	Coffee Coffee  `cbor:"coffee"`
	Kept   Kept    `cbor:"kept"`
	Left   float64 `cbor:"left"` // g, counted down by brews; 0 also when Coffee.Grams is not known
	Rest   float64 `cbor:"rest"` // days since roasting that count; -1 not known
}

// BrewerItem is a brewer with what its owner's brews say that its grounds keep.
type BrewerItem struct {
	Brewer   Brewer   `cbor:"brewer"`
	Kept     Kept     `cbor:"kept"`
	Retained Interval `cbor:"retained"` // g/g: measured by its owner, learned from brews, or the geometry's start value
	Learned  int      `cbor:"learned"`  // brews that it was learned from
}

// GrinderItem is a grinder.
type GrinderItem struct {
	Grinder Grinder `cbor:"grinder"`
	Kept    Kept    `cbor:"kept"`
}

// WaterItem is a water with what its numbers come to.
type WaterItem struct {
	Water Water     `cbor:"water"`
	Kept  Kept      `cbor:"kept"`
	Reads WaterRead `cbor:"reads"`
}

// ConcentrateItem is a concentrate.
type ConcentrateItem struct {
	Concentrate Concentrate        `cbor:"concentrate"`
	Kept        Kept               `cbor:"kept"`
	Reads       ConcentrateReading `cbor:"reads"`
}

// InstrumentItem is an instrument.
type InstrumentItem struct {
	Instrument Instrument `cbor:"instrument"`
	Kept       Kept       `cbor:"kept"`
}

// RecipeItem is a recipe. A starting point is not edited; saving a changed one makes a recipe of one's own.
type RecipeItem struct {
	Recipe   Recipe   `cbor:"recipe"`
	Kept     Kept     `cbor:"kept"`
	Starting bool     `cbor:"starting"`
	Cautions []string `cbor:"cautions" ts:"BrewCaution"`
}

// Saved names an item that was saved.
type Saved struct {
	ID string `cbor:"id"`
}

// GrinderRead tries how a scale that is being described reads a setting. Nothing is kept.
type GrinderRead struct {
	Grinder Grinder `cbor:"grinder"`
	Setting string  `cbor:"setting"`
}

// GrinderReads is how it reads it.
type GrinderReads struct {
	Fault string  `cbor:"fault" ts:"GrinderFault"`
	Steps float64 `cbor:"steps"` // of the smallest size, from zero
	Says  string  `cbor:"says"`  // as it is written from now on
	Less  string  `cbor:"less"`  // one step towards zero
	More  string  `cbor:"more"`  // one step on
}

// HomeReads is what a home comes to while it is being written down, and what can be chosen in it.
type HomeReads struct {
	Boiling float64      `cbor:"boiling"` // °C
	Ranges  []ChartRange `cbor:"ranges"`
}

// ItemName names an item of the Cupboard.
type ItemName struct {
	What string `cbor:"what" ts:"ItemKind"`
	ID   string `cbor:"id"`
}

// ItemRemoved says what became of it: put away, as brews refer to it, or gone.
type ItemRemoved struct {
	Away bool `cbor:"away"`
}

// RecipeLink is a recipe as a link that anybody may open, club or not. Nothing is stored anywhere: the recipe stands in it.
type RecipeLink struct {
	Link string `cbor:"link"`
}

// RecipeText is a link or pasted text that may hold a recipe.
type RecipeText struct {
	Text string `cbor:"text"`
}

// WaterRead is what a water's numbers come to, in mg/L as CaCO3.
type WaterRead struct {
	Hardness   float64       `cbor:"hardness"`
	Calcium    float64       `cbor:"calcium"` // hardness by calcium alone
	Alkalinity float64       `cbor:"alkalinity"`
	Balanced   bool          `cbor:"balanced"` // false: a number was misread, or the label leaves ions out
	Split      bool          `cbor:"split"`    // calcium and magnesium are known apart; a test does not tell them
	Ranges     []WaterWithin `cbor:"ranges"`
}

// WaterWithin is how a water lies to a range that the trade published.
type WaterWithin struct {
	ID         string `cbor:"id"`
	Year       int    `cbor:"year"`
	Hardness   bool   `cbor:"hardness"`
	Alkalinity bool   `cbor:"alkalinity"`
	Read       bool   `cbor:"read"`  // the publication was read; else it is told at second hand
	Known      bool   `cbor:"known"` // false: the range is of calcium alone, which this water's test does not tell
}
