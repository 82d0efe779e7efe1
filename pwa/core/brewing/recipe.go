package brewing

import "slices"

// A Brewer is a geometry, not a product.
type Brewer string

// Brewers.
const (
	Cone          Brewer = "cone"            // 60 degrees, ribs, one large hole
	FlatBed       Brewer = "flat-bed"        // flat floor, several holes
	SteepAndDrain Brewer = "steep-and-drain" // a cone or flat bed with a valve
	PressInverted Brewer = "press-inverted"  // a chamber with plunger, stood on the plunger and flipped
	PressUpright  Brewer = "press-upright"   // the same, standing on its filter
	CuppingBowl   Brewer = "cupping-bowl"    // an open bowl
)

// Contact returns how the brewer's water meets the coffee.
func (b Brewer) Contact() Contact {
	if b == Cone || b == FlatBed {
		return Percolation
	}
	return Immersion
}

// Retained returns the liquid that the grounds keep in this brewer at first: what
// is drained or pressed through a filter keeps less than what is poured off.
func (b Brewer) Retained() float64 {
	if b == CuppingBowl {
		return RetainedDecanted
	}
	return RetainedDrip
}

// A StepKind says what hands do.
type StepKind string

// Kinds of step.
const (
	Preheat   StepKind = "preheat"    // warm the brewer with hot water and pour it away
	Rinse     StepKind = "rinse"      // rinse the filter and pour the rinse away
	Add       StepKind = "add"        // put the ground coffee in and level it
	Bloom     StepKind = "bloom"      // the first pour, then wait
	PourTo    StepKind = "pour"       // pour until the scale shows the step's weight
	Stir      StepKind = "stir"       // Times times
	Swirl     StepKind = "swirl"      // Times times
	BreakUp   StepKind = "break"      // break the crust, Times strokes
	Skim      StepKind = "skim"       // take foam and floating grounds off
	Cap       StepKind = "cap"        // screw the filter on or put the plunger in
	Flip      StepKind = "flip"       // turn the brewer onto the cup
	OpenValve StepKind = "open-valve" // let it drain
	Wait      StepKind = "wait"       // until the step's end
	Press     StepKind = "press"      // press evenly until the step's end
	Drain     StepKind = "drain"      // until it drips only
	Decant    StepKind = "decant"     // pour it off its grounds
	Bypass    StepKind = "bypass"     // add water to the cup
	Taste     StepKind = "taste"      // from the step's begin on
)

// pours reports whether the step puts water on coffee.
func (k StepKind) pours() bool { return k == Bloom || k == PourTo }

// A Pattern is how a pour moves.
type Pattern string

// Patterns.
const (
	Centre Pattern = "centre"
	Spiral Pattern = "spiral"
	Evenly Pattern = "evenly" // over the whole surface
	AnyWay Pattern = ""
)

// A Step is one line of a recipe. Times before 0 are before the clock starts.
type Step struct {
	Kind    StepKind
	At      Millis  // begins
	Until   Millis  // ends by
	Water   float64 // for pours, the part of the recipe's water on the scale after it; for a bypass, the part added
	Dose    float64 // for a bloom, instead of Water: grams of water to a gram of coffee
	Pattern Pattern
	Times   int // strokes of stir, swirl, break
}

// A Caution is something to know before the plan is made.
type Caution string

// Cautions; the words stand on screen.
const (
	HotWater    Caution = "hot-water"     // water and steam scald
	HotGlass    Caution = "hot-glass"     // glass cracks and burns
	FlipScalds  Caution = "flip-scalds"   // an inverted press can come apart: hold both parts, over a sink
	PressGently Caution = "press-gently"  // stop when it resists; pressure throws hot water
	ValveDrips  Caution = "valve-drips"   // put the cup below before the valve opens
	WaitToTaste Caution = "wait-to-taste" // not above 65 °C
)

// A Recipe is a timeline relative to dose and ratio.
type Recipe struct {
	ID       string // stable; a person's own recipes have ids of their own
	Title    string
	Brewer   Brewer
	Dose     Grams
	Ratio    float64 // water that meets coffee and bypass together, to a gram of coffee
	Kettle   Celsius // at the sea; a home's boiling point caps it
	Grind    Grind
	Filter   string // material: "paper", "metal", "cloth", ""
	Steps    []Step
	Cautions []Caution
}

// Grind is how fine, in words that every grinder has.
type Grind string

// Grinds.
const (
	Fine         Grind = "fine"
	MediumFine   Grind = "medium-fine"
	Medium       Grind = "medium"
	MediumCoarse Grind = "medium-coarse"
	Coarse       Grind = "coarse"
)

// A Planned step has its weights worked out.
type Planned struct {
	Step
	Number int
	Adds   Grams   // water that this step adds
	To     Grams   // what the scale shows after it, 0 for steps without water
	Flow   float64 // grams a second that a pour needs, 0 without an end
}

// A Plan is a recipe for one dose.
type Plan struct {
	Recipe   Recipe
	Dose     Grams
	Water    Grams // on the coffee
	Bypass   Grams
	Beverage Grams // expected
	Kettle   Celsius
	Capped   bool // the home's boiling point is below the recipe's kettle
	Steps    []Planned
	Ends     Millis
}

// Plan works a recipe out for a dose in a home at an altitude, with the retained
// liquid of the brewer (0 for its start value). A dose of 0 is the recipe's own.
func (r Recipe) Plan(dose Grams, home Metres, retained float64) Plan {
	if dose <= 0 {
		dose = r.Dose
	}
	if retained == 0 {
		retained = r.Brewer.Retained()
	}
	total := Water(dose, r.Ratio)
	p := Plan{Recipe: r, Dose: dose, Kettle: r.Kettle}
	if boiling := BoilingPoint(home); p.Kettle > boiling {
		p.Kettle, p.Capped = boiling, true
	}
	scale := Grams(0)
	for number, s := range r.Steps {
		step := Planned{Step: s, Number: number}
		switch {
		case s.Kind == Bypass:
			step.Adds = Grams(s.Water) * total
			p.Bypass += step.Adds
		case s.Kind.pours():
			step.To = Grams(s.Water) * total
			if s.Dose > 0 {
				step.To = scale + Grams(s.Dose)*dose
			}
			step.Adds = step.To - scale
			scale = step.To
			if s.Until > s.At {
				step.Flow = float64(step.Adds) / float64(s.Until-s.At) * 1000
			}
		}
		p.Ends = max(p.Ends, s.At, s.Until)
		p.Steps = append(p.Steps, step)
	}
	p.Water = scale
	p.Beverage = Beverage(dose, p.Water, p.Bypass, retained)
	return p
}

// At returns the step that runs at a time since the start, and the next one
// that begins after it; -1 when there is none.
func (p Plan) At(now Millis) (current, next int) {
	current, next = -1, -1
	for i, s := range p.Steps {
		if s.At <= now {
			current = i
		} else if next < 0 {
			next = i
		}
	}
	return current, next
}

// A RecipeError says which step of a recipe cannot be.
type RecipeError struct {
	Field string // "steps.3", "dose", "ratio", "kettle"
	Code  string
}

func (e *RecipeError) Error() string { return "recipe's " + e.Field + ": " + e.Code }

// Codes of faults in recipes.
const (
	CodeOutOfOrder = "out-of-order" // a step begins before the one above it
	CodeNoWater    = "no-water"     // nothing is ever poured
	CodeDrains     = "drains"       // a pour leaves less than was there
	CodeWaterLeft  = "water-left"   // pours and bypass are not the whole water
	CodeBadStep    = "bad-step"     // an end before the begin, a number out of range, an unknown kind
)

// Check returns the first fault of a recipe.
func (r Recipe) Check() *RecipeError {
	for _, f := range Check(Entry{Dose: r.Dose, Water: Water(r.Dose, r.Ratio), Kettle: r.Kettle}) {
		if f.Kind == Impossible {
			return &RecipeError{f.Field, f.Code}
		}
	}
	if r.Dose <= 0 || r.Ratio <= 0 {
		return &RecipeError{"dose", CodeTooLittle}
	}
	plan := r.Plan(0, 0, 0)
	last, scale := Millis(-1<<62), Grams(0)
	for i, s := range plan.Steps {
		field := "steps." + decimal(i)
		switch {
		case s.Kind.pours() && s.To < scale:
			return &RecipeError{field, CodeDrains}
		case !slices.Contains(kinds, s.Kind) || s.Until != 0 && s.Until < s.At || s.Times < 0 || s.Times > 50 || !(s.Adds >= 0 && s.Adds <= 10_000):
			return &RecipeError{field, CodeBadStep}
		case s.At < last:
			return &RecipeError{field, CodeOutOfOrder}
		}
		last = s.At
		if s.Kind.pours() {
			scale = s.To
		}
	}
	if scale == 0 {
		return &RecipeError{"steps", CodeNoWater}
	}
	if off := plan.Water + plan.Bypass - Water(r.Dose, r.Ratio); off > 0.5 || off < -0.5 {
		return &RecipeError{"steps", CodeWaterLeft}
	}
	return nil
}

var kinds = []StepKind{
	Preheat, Rinse, Add, Bloom, PourTo, Stir, Swirl, BreakUp, Skim, Cap, Flip, OpenValve, Wait, Press, Drain, Decant, Bypass, Taste,
}
