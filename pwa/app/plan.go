package app

// Plan is a recipe worked out for a dose, in a home. Times are seconds from the start, holds that are over included; while the
// plan is held (BrewView.Held) it stands where it was.
type Plan struct {
	Steps    []PlanStep `cbor:"steps"`
	Dose     float64    `cbor:"dose"`
	Water    float64    `cbor:"water"` // on the coffee
	Bypass   float64    `cbor:"bypass"`
	Beverage float64    `cbor:"beverage"` // expected in the cup
	Kettle   float64    `cbor:"kettle"`   // °C, at most what water can reach here
	Capped   bool       `cbor:"capped"`   // the recipe wants it hotter than water gets here
	Ends     float64    `cbor:"ends"`
}

// PlanStep is a step with its weights worked out.
type PlanStep struct {
	Kind    string  `cbor:"kind" ts:"StepKind"`
	At      float64 `cbor:"at"`
	Until   float64 `cbor:"until"` // 0 for what takes no time worth noting
	Adds    float64 `cbor:"adds"`  // g of water
	To      float64 `cbor:"to"`    // what the scale shows after it, 0 for steps without water
	Flow    float64 `cbor:"flow"`  // g/s that a pour needs, 0 without an end
	Pattern string  `cbor:"pattern" ts:"PourPattern"`
	Times   int     `cbor:"times"`
}

// BrewPlan asks what a setup would come to, before anything is begun. Nothing is kept.
type BrewPlan struct {
	Club   string      `cbor:"club"`
	Sample string      `cbor:"sample"`
	Setup  BrewSetup   `cbor:"setup"`
	Parent *BrewParams `cbor:"parent,omitempty"`
	Bowls  int         `cbor:"bowls"` // side by side; 0 counts as 1
}

// BrewPlanned is all that can be said beforehand. What cannot be said yet is nil, or says so by its reasons.
type BrewPlanned struct {
	Plan     *Plan       `cbor:"plan,omitempty"` // nil without a recipe or a dose
	Time     *Prediction `cbor:"time,omitempty"`
	Grind    *GrindHint  `cbor:"grind,omitempty"`
	Purge    *Purge      `cbor:"purge,omitempty"`
	Ration   *Ration     `cbor:"ration,omitempty"` // of a sample or a bag whose grams are known
	Caffeine *Caffeine   `cbor:"caffeine,omitempty"`
	Cautions []string    `cbor:"cautions" ts:"BrewCaution"`
	Allergic []string    `cbor:"allergic" ts:"Allergen"` // declared, and this person's own
	Changes  *Changes    `cbor:"changes,omitempty"`      // from the parent
}

// Reason is one part of the sentence that explains a figure; the words stand in pwa/ui/words. Code is one of package From's.
type Reason struct {
	Code string  `cbor:"code"`
	N    float64 `cbor:"n"`
	Of   string  `cbor:"of"` // the quantity, variable or attribute that it is about; empty for none
	By   string  `cbor:"by"` // response: the variable, when Of is the attribute
}

// Prediction is a time in seconds that a brew may take, with its 90 % interval. Factor is against the recipe's own.
type Prediction struct {
	Seconds  Interval `cbor:"seconds"`
	Exponent Interval `cbor:"exponent"` // of the dose
	Coarser  Interval `cbor:"coarser"`  // factor on the size of the grounds that would keep the recipe's time
	Enough   bool     `cbor:"enough"`   // one's own brews decided it
	Reasons  []Reason `cbor:"reasons"`  // core/scaling
}

// GrindHint is a setting of the grinder for the wanted time.
type GrindHint struct {
	Known   bool     `cbor:"known"` // false: it can't be told yet, see the reasons
	Setting string   `cbor:"setting"`
	Low     string   `cbor:"low"` // 90 % interval
	High    string   `cbor:"high"`
	Seconds Interval `cbor:"seconds"` // what the brew may take there
	Reasons []Reason `cbor:"reasons"` // core/grinder
}

// Purge is what to grind away before this coffee.
type Purge struct {
	Grams   float64  `cbor:"grams"`
	Reasons []Reason `cbor:"reasons"` // core/grinder
}

// Ration is how many honest attempts are left.
type Ration struct {
	Left     float64 `cbor:"left"` // g now
	Kept     float64 `cbor:"kept"` // g to taste again knowing
	Attempts int     `cbor:"attempts"`
	Each     float64 `cbor:"each"`
	Over     float64 `cbor:"over"`     // g that remain after them
	Smallest float64 `cbor:"smallest"` // dose whose brew is still reliable with this scale
	Reliable bool    `cbor:"reliable"` // the planned dose is at least that
	Most     int     `cbor:"most"`     // attempts with the smallest reliable dose
}

// Caffeine is an estimate in mg, with the brews of the last 16 hours.
type Caffeine struct {
	Low       float64 `cbor:"low"` // of what is planned
	High      float64 `cbor:"high"`
	TodayLow  float64 `cbor:"todayLow"` // with what was brewed before
	TodayHigh float64 `cbor:"todayHigh"`
	AtOnce    string  `cbor:"atOnce" ts:"CaffeineLevel"`
	InADay    string  `cbor:"inADay" ts:"CaffeineLevel"`
	Pregnant  string  `cbor:"pregnant" ts:"CaffeineLevel"`
	Sleep     string  `cbor:"sleep" ts:"CaffeineLevel"`
	Spits     bool    `cbor:"spits"` // counted as tasted and spat out
}

// Changes is what differs from one setup to a later one, and whether a cause can be read from it.
type Changes struct {
	Verdict string   `cbor:"verdict" ts:"ChangeVerdict"`
	List    []Change `cbor:"list"`
	Causes  int      `cbor:"causes"`
	Mixed   bool     `cbor:"mixed"` // one move that changed dose and ratio
}

// Change is one thing that differs. Numbers are in Field's unit (see core/evening); names are as the brews have them.
type Change struct {
	Field     string  `cbor:"field" ts:"ChangeField"`
	Kind      string  `cbor:"kind" ts:"ChangeKind"`
	From      float64 `cbor:"from"`
	To        float64 `cbor:"to"`
	FromKnown bool    `cbor:"fromKnown"`
	ToKnown   bool    `cbor:"toKnown"`
	FromName  string  `cbor:"fromName"` // for what has a name instead of a number, and for grinds as the scale says them
	ToName    string  `cbor:"toName"`
	Step      int     `cbor:"step"` // from 1
	StepKind  string  `cbor:"stepKind" ts:"StepKind | \"\""`
}
