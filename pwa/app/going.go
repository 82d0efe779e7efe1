package app

import "hushcup/pwa/core/brewing"

// going lists running brews and cooling cups, oldest first, with what comes next of each.
func (a *App) going() (out []Going) {
	for i := len(a.index.bench.Going) - 1; i >= 0; i-- {
		e := a.index.bench.Going[i]
		g := Going{
			Book: e.Book.String(), Brew: e.Doc.String(), What: "brewing", Code: e.Digest.Code, Coffee: e.Digest.Coffee,
			Began: e.Digest.Began, Table: e.Digest.Table, Bowl: e.Digest.Bowl,
		}
		if e.Ended != 0 {
			if a.now-e.Ended >= coolingTime {
				continue
			}
			a.until(e.Ended + coolingTime)
			g.What, g.Began = "cooling", e.Ended
		}
		a.whatIsNext(&g)
		out = append(out, g)
	}
	return out
}

// whatIsNext fills in the next step of a running brew, or how a cup cools.
func (a *App) whatIsNext(g *Going) {
	v, err := a.lookBrew(BrewParams{Book: g.Book, Brew: g.Brew})
	if err != nil || v.Book == "" {
		return
	}
	if g.What == "cooling" {
		g.Cooling = v.Cooling
		return
	}
	g.Began, g.Held = v.Began, v.Held > 0
	if v.Plan == nil || v.Began == 0 || g.Held {
		return
	}
	for _, step := range v.Plan.Steps {
		at := v.Began + int64(step.At*1000)
		if brewing.StepKind(step.Kind) == brewing.Wait || step.At < 0 || at <= a.now {
			continue
		}
		g.Next, g.At, g.To = step.Kind, at, step.To
		a.until(at)
		return
	}
	if ends := v.Began + int64(v.Plan.Ends*1000); ends > a.now {
		g.At = ends
		a.until(ends)
	}
}

// coolingOf is how the cup of a brew cools.
func (a *App) coolingOf(ref brewRef) *Cooling {
	v, _ := a.lookBrew(BrewParams{Book: ref.book.String(), Brew: ref.doc.String()})
	return v.Cooling
}
