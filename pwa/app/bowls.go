package app

import (
	"hushcup/sync/replica"
	"sort"
)

const mostBowls = 24

// startBowls sets bowls side by side: each a brew of its own, in the book of what is in it.
func (a *App) startBowls(args BowlsStart) (made BowlsStarted, err *Error) {
	if err := within("bowls", len(args.Bowls), 1, mostBowls); err != nil {
		return made, err
	}
	if args.Setup.Geometry == "" && args.Setup.BrewerID == "" {
		args.Setup.Geometry, args.Setup.Method = "cupping-bowl", "bowl"
	}
	table, err := a.randomDoc()
	if err != nil {
		return made, err
	}
	bowls := make([]openBrew, len(args.Bowls))
	setups := make([]BrewSetup, len(args.Bowls))
	for i, bowl := range args.Bowls {
		if setups[i], err = a.laidOut(&bowls[i], args.Setup, bowl); err != nil {
			return made, withField(err, "bowls."+decimal(i))
		}
		used := a.fill(&setups[i])
		if err := setups[i].checkAt(used.Altitude, args.Sure); err != nil {
			return made, err
		}
		bowls[i].content.Table, bowls[i].content.Bowl = table.String(), i+1
	}
	if a.watches.reading {
		return made, errReading
	}
	for i := range bowls {
		if _, err := a.beginBrew(&bowls[i], setups[i], args.Sure, false); err != nil {
			return made, err
		}
	}
	return BowlsStarted{Table: table.String()}, nil
}

// laidOut is what is in one bowl.
func (a *App) laidOut(b *openBrew, setup BrewSetup, bowl Bowl) (BrewSetup, *Error) {
	b.book = a.notebook()
	setup.Steps = append([]RecipeStep(nil), setup.Steps...)
	setup.Coffee, setup.CoffeeID = bowl.Coffee, bowl.CoffeeID
	if bowl.Dose > 0 {
		setup.Dose, setup.Water = bowl.Dose, 0
		if setup.Ratio == 0 {
			return setup, refuse(CodeRequired, "ratio", "say how much water a bowl of another dose gets")
		}
	}
	if bowl.Sample == "" {
		return setup, nil
	}
	args := BrewStart{Club: bowl.Club, Sample: bowl.Sample, Setup: setup}
	err := a.brewOfSample(b, &args)
	return args.Setup, err
}

// lookTable gives the bowls of a table. They are among the newest brews or nowhere near: only the newest months are looked at.
func (a *App) lookTable(params TableParams) (v TableView, err *Error) {
	found, ready := a.facts(mostBowls, func(e *entry) bool { return e.Digest.Table == params.Table })
	v.Ready = ready || len(found) > 0
	refs := map[brewRef]bool{}
	for _, e := range found {
		refs[e.ref()] = true
	}
	for ref := range a.index.todo { // begun a moment ago
		if a.tableOf(ref) == params.Table {
			refs[ref] = true
		}
	}
	for ref := range refs {
		brew, err := a.lookBrew(BrewParams{Book: ref.book.String(), Brew: ref.doc.String()})
		if err == errReading {
			return v, err
		}
		if err == nil {
			v.Bowls = append(v.Bowls, brew)
		}
	}
	sort.Slice(v.Bowls, func(i, j int) bool { return v.Bowls[i].Bowl < v.Bowls[j].Bowl })
	if v.Ready && len(v.Bowls) == 0 {
		return v, unknown("table")
	}
	return v, nil
}

func (a *App) tableOf(ref brewRef) string {
	var content brewContent
	if a.read(ref.book, a.mine(ref.book, ref.doc, partBrew), &content) != replica.BodyReady {
		return ""
	}
	return content.Table
}
