package app

import (
	"slices"

	"hushcup/pwa/core/brewing"
	"hushcup/sync/replica"
)

// going lists running brews and cooling cups, oldest first, with what comes next of each.
func (a *App) going() (out []Going) {
	if a.index.behind || len(a.index.order) > 0 && len(a.index.order) <= chunk {
		a.watches.reading = true // a screen's first value waits: what runs is not taken off it for a moment
	}
	for i := len(a.index.going) - 1; i >= 0; i-- {
		e := a.index.going[i].made
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

// readGoing asks for what a start shows first, before it asks for the months: the running brews are on every screen.
func (a *App) readGoing() {
	for _, l := range a.index.going {
		_, _ = a.brew(l.made.Book.String(), l.made.Doc.String())
	}
	a.feed(replica.Nothing{}) // hands the readings out
}

// whatIsNext fills in the next step of a running brew, and how a cup cools.
func (a *App) whatIsNext(g *Going) {
	b, err := a.brew(g.Book, g.Brew)
	if err != nil {
		return
	}
	g.Cooling = a.cooling(&b)
	if g.What == "cooling" {
		return
	}
	_, since := b.content.holds()
	g.Began, g.Held = a.began(&b), since >= 0
	plan := a.planOf(&b)
	if a.leftOpen(g, &b, plan) || plan == nil || g.Held {
		return
	}
	for _, step := range plan.Steps {
		at := g.Began + int64(step.At*1000)
		if !a.toDo(&b, &step, at) {
			continue
		}
		g.Next, g.At, g.To = step.Kind, at, step.To
		a.until(at)
		return
	}
	g.At = g.Began + int64(plan.Ends*1000)
}

// leftTime is how long after its plan's end a brew that nobody ended still counts as running.
const leftTime = 3 * hour

// leftOpen says of a brew, or of a bowl, that it can hardly run any more: it does not end by itself, its owner is asked. Without
// a plan a steep may take days.
func (a *App) leftOpen(g *Going, b *openBrew, plan *Plan) bool {
	over := g.Began + leftTime
	if plan != nil {
		over += int64(plan.Ends * 1000)
	} else if m := b.content.Setup.Method; m != "drip" && m != "bowl" {
		over += longestBrew
	}
	if a.now < over {
		a.until(over)
		return false
	}
	g.What = "left"
	return true
}

// toDo says whether a step of a running brew is still to come. Of a table of bowls, where hands are elsewhere when a time
// passes, it is what was not marked yet.
func (a *App) toDo(b *openBrew, step *PlanStep, at int64) bool {
	switch brewing.StepKind(step.Kind) {
	case brewing.Wait:
		return false
	case brewing.BreakUp, brewing.Skim, brewing.Taste:
		if b.content.Table != "" {
			return !slices.ContainsFunc(b.content.Marks, func(m markContent) bool { return m.Mark == step.Kind })
		}
	}
	return step.At >= 0 && at > a.now
}

// coolingOf is how the cup of a brew cools.
func (a *App) coolingOf(ref brewRef) *Cooling {
	b, err := a.brew(ref.book.String(), ref.doc.String())
	if err != nil {
		return nil
	}
	return a.cooling(&b)
}
