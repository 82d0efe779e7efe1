package app

import (
	"errors"

	"hushcup/pwa/core/grinder"
)

func (g *Grinder) check() *Error {
	if g.Scale == "" {
		g.Scale = "words"
	}
	err := first(named(&g.Name, &g.Note), oneOf("burr", g.Burr, "Burr"), oneOf("scale", g.Scale, "GrinderScale"),
		text("finest", &g.Finest, 20, false), text("coarse", &g.Coarse, 20, false), within("stays", g.Stays, 0, 50),
		tooMany("marks", len(g.Marks), 60))
	if err != nil {
		return err
	}
	return g.checkScale()
}

func (a *App) saveGrinder(g Grinder) (Saved, *Error) {
	if err := g.check(); err != nil {
		return Saved{}, err
	}
	return a.saveItem("grinder", g.ID, withoutID(&g, &g.ID))
}

// checkScale refuses a scale that nobody could read, and stops that are no settings of it.
func (g Grinder) checkScale() *Error {
	if g.Scale == "words" {
		return nil
	}
	if g.Scale == "turns" && g.PerTurn == 0 {
		return refuse(CodeRequired, "perTurn", "how many clicks are in a turn")
	}
	scale, _ := g.plainScale()
	if err := scale.Check(); err != nil {
		return badScale(err)
	}
	stops := [2]grinder.Position{}
	for i, stop := range []struct{ field, text string }{{"finest", g.Finest}, {"coarse", g.Coarse}} {
		if stop.text == "" {
			continue
		}
		position, err := scale.Parse(stop.text)
		if err != nil {
			return refuse(CodeImpossible, stop.field, "this is not a setting of that scale")
		}
		stops[i] = position
	}
	if g.Finest != "" && g.Coarse != "" && stops[0] == stops[1] {
		return refuse(CodeImpossible, "coarse", "both stops are the same")
	}
	return nil
}

var scaleFields = map[string]string{"per turn": "perTurn", "kind": "scale", "stops": "coarse"}

func badScale(err error) *Error {
	field := "scale"
	if own, ok := err.(*grinder.Error); ok {
		field = own.Field
		if named, ok := scaleFields[field]; ok {
			field = named
		}
	}
	return refuse(CodeImpossible, field, "nobody could read this scale")
}

var scaleKinds = map[string]grinder.Kind{
	"clicks": grinder.Clicks, "turns": grinder.Turns, "numbers": grinder.Numbers, "letters": grinder.Letters,
}

func (g Grinder) plainScale() (grinder.Scale, bool) {
	kind, ok := scaleKinds[g.Scale]
	return grinder.Scale{Kind: kind, PerTurn: g.PerTurn, Step: g.Step, Marks: g.Marks}, ok
}

// core is the grinder's scale with its stops; false where settings are in its owner's words.
func (g Grinder) core() (grinder.Scale, bool) {
	scale, ok := g.plainScale()
	if !ok {
		return scale, false
	}
	low, lowErr := scale.Parse(g.Finest)
	high, highErr := scale.Parse(g.Coarse)
	if g.Finest != "" && g.Coarse != "" && lowErr == nil && highErr == nil {
		scale.Low, scale.High = min(low, high), max(low, high)
	}
	return scale, scale.Check() == nil
}

// readGrinder tries a scale with a setting before either is kept. What is wrong with it is part of the answer: nobody has
// asked for anything yet.
func (a *App) readGrinder(args GrinderRead) (GrinderReads, *Error) {
	scale, ok := args.Grinder.core()
	switch {
	case args.Grinder.Scale == "words":
		return GrinderReads{Fault: "words"}, nil
	case !ok:
		return GrinderReads{Fault: "scale"}, nil
	}
	position, err := scale.Parse(args.Setting)
	var own *grinder.Error
	switch {
	case errors.As(err, &own) && own.Code == grinder.CodePastStop:
		return GrinderReads{Fault: "past-stop"}, nil
	case err != nil:
		return GrinderReads{Fault: "setting"}, nil
	}
	return GrinderReads{
		Steps: float64(position), Says: scale.Format(position), Less: scale.Format(scale.Nearest(position - 1)), More: scale.Format(scale.Nearest(position + 1)),
	}, nil
}
