package app

import (
	"hushcup/pwa/core/brewing"
	"slices"
)

// planBrew says what a setup would come to. Nothing is kept.
func (a *App) planBrew(args BrewPlan) (p BrewPlanned, err *Error) {
	s := args.Setup
	used := a.fill(&s)
	if err := s.checkAt(used.Altitude, everySure); err != nil {
		return p, err
	}
	bowls := max(args.Bowls, 1)
	declared, err := a.plannedDeclared(args.Club, args.Sample, &used)
	if err != nil {
		return p, err
	}
	p.Plan = s.plan(used.Altitude, a.retainedBy(used.Brewer))
	p.Time = a.predictTime(&s)
	p.Grind = a.hintGrind(&s, p.Time)
	p.Purge = a.advisePurge(&s, args.Sample, declared)
	p.Ration = a.ration(&s, args.Club, args.Sample, bowls)
	p.Caffeine = a.caffeine(&s, args.Club, args.Sample, bowls)
	p.Cautions = cautionWords(cautionsOf(s.Geometry))
	if declared != nil {
		for _, allergen := range declared.Allergens {
			if slices.Contains(a.personal.Allergens, allergen) {
				p.Allergic = append(p.Allergic, allergen)
			}
		}
	}
	if args.Parent != nil {
		p.Changes = a.changesFrom(args.Parent, a.trialOf(&s, &used, args.Club, args.Sample))
	}
	return p, nil
}

// everySure confirms whatever surprises: a plan that is only looked at asks nothing.
var everySure = []string{"dose", "water", "ratio", "kettle", "scoops", "sinceGrinding", "beverage", "tds", "slurry", "bypass"}

func (a *App) plannedDeclared(club, sample string, used *BrewUsed) (*Declared, *Error) {
	if sample == "" {
		return a.declaredOf(a.notebook(), nil, used), nil
	}
	c, s, _, err := a.sample(club, sample)
	if err != nil {
		return nil, err
	}
	return a.declaredOf(c.ID, &s.Body.ID, used), nil
}

// trialOf is a setup that is not a brew yet, as changes are told.
func (a *App) trialOf(s *BrewSetup, used *BrewUsed, club, sample string) *trialSetup {
	t := &trialSetup{BrewSetup: *s, Key: coffeeKey(s)}
	if sample != "" {
		t.Key = sample
		if _, info, _, err := a.sample(club, sample); err == nil {
			t.Code = int(info.Body.Code)
		}
	}
	if used.Grinder != nil {
		t.Ground, t.Set = used.Grinder.position(s.Grind)
	}
	return t
}

// trial is a brew as changes are told.
func (a *App) trial(b *openBrew) *trialSetup {
	s := b.content.Setup.setup()
	t := &trialSetup{BrewSetup: s, Key: coffeeKey(&s), Ground: b.content.Kitchen.Grind, Set: b.content.Kitchen.GrindSet}
	if b.part.Sample != nil {
		t.Key = b.part.Sample.String()
		if choice := a.brewSample(b); choice != nil {
			t.Code = choice.Code
		}
	}
	return t
}

// changesFrom is what a setup changes of a parent; nil while that is being read, or when it is gone.
func (a *App) changesFrom(parent *BrewParams, to *trialSetup) *Changes {
	b, err := a.brew(parent.Book, parent.Brew)
	if err != nil {
		return nil
	}
	return changesBetween(a.trial(&b), to)
}

// plan works a setup's timeline out in a home at an altitude; nil without one, or without a dose.
func (s *BrewSetup) plan(altitude, retained float64) *Plan {
	if len(s.Steps) == 0 || s.Dose == 0 || s.Water == 0 {
		return nil
	}
	r := s.plannedRecipe()
	r.Ratio = s.Water / s.Dose // finer than it is shown
	p := r.core().Plan(brewing.Grams(s.Dose), brewing.Metres(altitude), retained)
	out := &Plan{
		Dose: s.Dose, Water: grams1(p.Water), Bypass: grams1(p.Bypass), Beverage: grams1(p.Beverage), Kettle: tenths(float64(p.Kettle)),
		Capped: p.Capped, Ends: float64(p.Ends) / 1000,
	}
	for _, step := range p.Steps {
		out.Steps = append(out.Steps, PlanStep{
			Kind: string(step.Kind), At: float64(step.At) / 1000, Until: float64(step.Until) / 1000, Adds: grams1(step.Adds),
			To: grams1(step.To), Flow: tenths(step.Flow), Pattern: string(step.Pattern), Times: step.Times,
		})
	}
	return out
}

func grams1(g brewing.Grams) float64 { return tenths(float64(g)) }

// planOf is the plan of a brew as it stands: what was still to come when the plan was held moved by as long as that lasted.
func (a *App) planOf(b *openBrew) *Plan {
	s := b.content.Setup.setup()
	p := s.plan(b.content.Kitchen.Altitude, b.content.Kitchen.Retained)
	if p == nil {
		return nil
	}
	over, _ := b.content.holds() // while it is held the plan stands where it was held
	for _, h := range over {
		p.slide(h)
	}
	return p
}

// slide moves what is still to come at the beginning of a hold, and lengthens the step in which it fell.
func (p *Plan) slide(h hold) {
	from, by := float64(h.from)/1000, float64(h.until-h.from)/1000
	for i := range p.Steps {
		step := &p.Steps[i]
		if step.At >= from && step.At >= 0 {
			step.At += by
		}
		if step.Until > from {
			step.Until += by
		}
	}
	if p.Ends > from {
		p.Ends += by
	}
}

// lookFurther fills in what a brew's view says beside what was typed.
func (a *App) lookFurther(b *openBrew, v *BrewView) {
	c := &b.content
	v.Plan, v.Abandoned, v.Table, v.Bowl, v.Boiling = a.planOf(b), c.Abandoned, c.Table, c.Bowl, a.boiling()
	if _, since := c.holds(); since >= 0 && c.State == brewGoing {
		v.Held = max(float64(since)/1000, 0.001)
	}
	if c.Parent != (parentContent{}) {
		v.Parent = &BrewParams{Book: c.Parent.Book.String(), Brew: c.Parent.Doc.String()}
		v.Changes = a.changesFrom(v.Parent, a.trial(b))
	}
	v.Used = a.usedOf(b)
	v.Place = a.chartPlace(c)
	for _, r := range c.Readings {
		v.Readings = append(v.Readings, Reading{At: c.Began + r.At, Celsius: r.Celsius})
	}
	v.Cooling = a.cooling(b)
}

// chartPlace is where a brew lies on the control chart against the range that was chosen.
func (a *App) chartPlace(c *brewContent) *ChartPlace {
	y := c.yield()
	if y == nil {
		return nil
	}
	chosen := brewing.RangeOf(a.home().Range)
	strength, extraction := chosen.Place(brewing.Fraction(c.Outcome.TDS/100), c.Kitchen.instruments().TDS, brewing.Yield{
		EY: brewing.Fraction(y.Value / 100), Low: brewing.Fraction(y.Low / 100), High: brewing.Fraction(y.High / 100),
	})
	return &ChartPlace{
		Range: chartRange(chosen), Strength: sideWord(strength.Side), StrengthSure: strength.Sure, Extraction: sideWord(extraction.Side), Sure: extraction.Sure,
	}
}

func sideWord(s brewing.Side) string { return [...]string{"below", "within", "above"}[s-brewing.Below] }
