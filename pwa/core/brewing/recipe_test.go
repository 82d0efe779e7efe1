package brewing

import (
	"slices"
	"testing"
)

func TestStartingRecipesHoldTogether(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range Recipes() {
		t.Run(r.ID, func(t *testing.T) {
			if err := r.Check(); err != nil {
				t.Fatal(err)
			}
			if seen[r.ID] || r.Title == "" {
				t.Error("no name of its own")
			}
			seen[r.ID] = true
			if !slices.Contains(r.Cautions, HotWater) {
				t.Error("hot water without a caution")
			}
			// What the trade teaches: 55 to 70 g to a litre, 90 to 96 °C.
			if grams := 1000 / r.Ratio; grams < 55-1e-9 && r.Brewer != CuppingBowl || grams > 70 {
				t.Errorf("%v g to a litre", grams)
			}
			if r.Kettle < 90 || r.Kettle > 96 {
				t.Errorf("%v °C", r.Kettle)
			}
			for _, s := range r.Plan(0, 0, 0).Steps {
				if s.Kind.pours() && (s.Flow < 2 || s.Flow > 25) {
					t.Errorf("step %d pours %v g/s", s.Number, s.Flow)
				}
			}
		})
	}
	if len(seen) != 6 {
		t.Errorf("%d recipes, want 6", len(seen))
	}
	if press := pressInverted(); !slices.Contains(press.Cautions, FlipScalds) {
		t.Error("a flip without a caution")
	}
}

// TestCuppingAfterTheProtocol: 8.25 g to 150 mL (SCAA cupping protocol 2015),
// crust broken after three to five minutes, tasted after eight to ten.
func TestCuppingAfterTheProtocol(t *testing.T) {
	r := cuppingBowl()
	near(t, "ratio", r.Ratio, 150/8.25, 0.02)
	for _, s := range r.Steps {
		if s.Kind == BreakUp && (s.At < 3*minute || s.At > 5*minute) || s.Kind == Taste && (s.At < 8*minute || s.At > 10*minute) {
			t.Errorf("%s at %d", s.Kind, s.At)
		}
	}
}

func TestPlanScalesWithDoseAndHome(t *testing.T) {
	r := cone()
	p := r.Plan(20, 2400, 0)
	near(t, "water", float64(p.Water), 320, 1e-9)
	near(t, "bloom", float64(p.Steps[3].To), 50, 1e-9)
	near(t, "beverage", float64(p.Beverage), 280, 1e-9)
	if !p.Capped || p.Kettle > 92.2 || p.Kettle < 91.5 {
		t.Errorf("kettle at %v in the observatory, capped %v; water boils there at about 92 °C", p.Kettle, p.Capped)
	}
	if sea := r.Plan(0, 0, 0); sea.Capped || sea.Dose != 15 || sea.Ends != 3*minute {
		t.Errorf("at the sea: %+v", sea)
	}
	long := pressUpright().Plan(0, 0, 0)
	near(t, "bypass", float64(long.Bypass), 60, 1e-9)
	near(t, "water on coffee", float64(long.Water), 180, 1e-9)
}

func TestPlanKnowsWhatComes(t *testing.T) {
	p := cone().Plan(0, 0, 0)
	for at, want := range map[Millis][2]StepKind{
		-2 * minute: {"", Rinse}, -30 * second: {Add, Bloom}, 5 * second: {Bloom, Swirl}, 50 * second: {PourTo, Wait}, 10 * minute: {Drain, ""},
	} {
		kind := func(i int) StepKind {
			if i < 0 {
				return ""
			}
			return p.Steps[i].Kind
		}
		current, next := p.At(at)
		if got := [2]StepKind{kind(current), kind(next)}; got != want {
			t.Errorf("at %d: %v, want %v", at, got, want)
		}
	}
}

func TestBrokenRecipesAreRefused(t *testing.T) {
	for code, spoil := range map[string]func(*Recipe){
		CodeOutOfOrder:   func(r *Recipe) { r.Steps[6].At = 0 },
		CodeNoWater:      func(r *Recipe) { r.Steps = r.Steps[:3] },
		CodeDrains:       func(r *Recipe) { r.Steps[6].Water = 0.1 },
		CodeWaterLeft:    func(r *Recipe) { r.Steps[8].Water = 0.9 },
		CodeBadStep:      func(r *Recipe) { r.Steps[4].Times = -1 },
		CodeTooLittle:    func(r *Recipe) { r.Dose = 0 },
		CodeAboveBoiling: func(r *Recipe) { r.Kettle = 120 },
	} {
		r := cone()
		spoil(&r)
		if err := r.Check(); err == nil || err.Code != code {
			t.Errorf("%s: %v", code, err)
		}
	}
}
