package app

import (
	"hushcup/pwa/core/brewing"

	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

// brewRef names a brew: a document in the notebook, or in the club whose sample it is of.
type brewRef struct {
	book oplog.BookID
	doc  oplog.DocID
}

func docID(text string) (oplog.DocID, *Error) { return id[oplog.DocID]("brew", text) }

func parseBrewRef(bookText, brewText string) (ref brewRef, err *Error) {
	if ref.book, err = id[oplog.BookID]("book", bookText); err != nil {
		return ref, err
	}
	ref.doc, err = docID(brewText)
	return ref, err
}

// sampleRef names a sample across clubs.
type sampleRef struct {
	book   oplog.BookID
	sample oplog.SampleID
}

// openBrew is a brew of one's own that is to be changed.
type openBrew struct {
	brewRef
	part    replica.DocPart
	content brewContent
}

// brew opens a brew for a change.
func (a *App) brew(bookText, brewText string) (b openBrew, err *Error) {
	if b.brewRef, err = parseBrewRef(bookText, brewText); err != nil {
		return b, err
	}
	part, ok := a.replica.Doc(b.book, a.mine(b.book, b.doc, partBrew))
	if !ok || part.Erased {
		return b, unknown("brew")
	}
	b.part = part
	plain, status := a.body(b.book, part)
	switch decodePart(plain, status, &b.content) {
	case replica.BodyReady:
		if b.content.State == brewGone {
			return b, unknown("brew")
		}
		return b, nil
	case replica.BodyLoading:
		return b, errReading
	}
	return b, &Error{Code: "unreadable", Text: "this brew does not open"}
}

// keepBrew writes a brew; one of a sample lies under its envelope.
func (a *App) keepBrew(b *openBrew) *Error {
	a.index.ready(a)
	a.index.note(b.brewRef, b.part.Sample)
	a.index.dirty(b.brewRef)
	return a.write(b.book, b.doc, partBrew, b.under(), b.content)
}

func (b *openBrew) under() replica.Under {
	if b.part.Sample != nil {
		return replica.UnderEnvelope(*b.part.Sample)
	}
	return replica.UnderEpoch
}

func (a *App) startBrew(args BrewStart) (made BrewStarted, err *Error) {
	b := openBrew{brewRef: brewRef{book: a.notebook()}}
	if args.Sample != "" {
		if err := a.brewOfSample(&b, &args); err != nil {
			return made, err
		}
	}
	if args.Parent != nil {
		if b.content.Parent, err = keptParent(args.Parent); err != nil {
			return made, err
		}
	}
	return a.beginBrew(&b, args.Setup, args.Sure, args.Run)
}

// beginBrew keeps a new brew with what it is made with.
func (a *App) beginBrew(b *openBrew, setup BrewSetup, sure []string, run bool) (made BrewStarted, err *Error) {
	used := a.fill(&setup)
	if a.watches.reading {
		return made, errReading
	}
	if err := setup.checkAt(used.Altitude, sure); err != nil {
		return made, err
	}
	if b.doc, err = a.randomDoc(); err != nil {
		return made, err
	}
	b.content.Created, b.content.State, b.content.Setup, b.content.Counts = a.now, brewPlanned, keptSetup(setup), true
	b.content.Kitchen = a.kitchenOf(&setup, &used, a.declaredOf(b.book, b.part.Sample, &used))
	if run {
		a.startClock(b, 0)
	}
	if err := a.keepUsed(b, used); err != nil {
		return made, err
	}
	return BrewStarted{Book: b.book.String(), Brew: b.doc.String()}, a.keepBrew(b)
}

func keptParent(p *BrewParams) (parent parentContent, err *Error) {
	ref, err := parseBrewRef(p.Book, p.Brew)
	return parentContent{Book: ref.book, Doc: ref.doc}, err
}

func (a *App) brewOfSample(b *openBrew, args *BrewStart) *Error {
	c, s, _, err := a.sample(args.Club, args.Sample)
	if err != nil {
		return err
	}
	if !c.in() {
		return notAllowed("you are not in this club")
	}
	b.book, b.part.Sample = c.ID, &s.Body.ID
	args.Setup.Coffee, args.Setup.CoffeeID = "", ""
	return nil
}

// mostGrams is what a kitchen scale can show.
const mostGrams = 5000.0

// startClock starts it where the touch began.
func (a *App) startClock(b *openBrew, ago int64) {
	b.content.State, b.content.Began = brewGoing, a.now-ago
	b.content.Marks, b.content.OfSteps = []markContent{{Mark: "start"}}, []int{0}
	b.content.Clock = keptClock(brewing.Start(a.instant()).Said(brewing.Millis(ago)))
}

// stopClock ends a brew whose end nobody marked.
func (a *App) stopClock(b *openBrew) {
	if b.content.Began != 0 && b.content.Ended == 0 {
		clock := a.running(b)
		b.content.Clock, b.content.Ended = keptClock(clock), b.content.Began+int64(clock.Elapsed)
	}
}

func (a *App) saveBrew(args BrewSave) *Error {
	b, err := a.brew(args.Book, args.Brew)
	if err != nil {
		return err
	}
	if err := args.Outcome.checkAt(b.content.Kitchen.Altitude, b.content.Setup.setup(), args.Sure); err != nil {
		return err
	}
	if b.content.State == brewGoing || b.content.State == brewPlanned {
		a.stopClock(&b)
	}
	a.takeOutcome(&b, &args.Outcome)
	b.content.State = brewDone
	return a.keepWithNotes(&b, args.Outcome.Notes)
}

// editBrew writes nothing before all of it was found good.
func (a *App) editBrew(args BrewEdit) *Error {
	b, err := a.brew(args.Book, args.Brew)
	if err != nil {
		return err
	}
	used := a.usedOf(&b)
	if args.Setup != nil {
		if err := a.editSetup(&b, args.Setup, &used, args.Sure); err != nil {
			return err
		}
	}
	notes := a.brewNotes(b.book, a.me(b.book), b.doc)
	if args.Outcome != nil {
		if err := args.Outcome.checkAt(b.content.Kitchen.Altitude, b.content.Setup.setup(), args.Sure); err != nil {
			return err
		}
		a.takeOutcome(&b, args.Outcome)
		notes = args.Outcome.Notes
	}
	if a.watches.reading {
		return errReading
	}
	if args.Setup != nil {
		if err := a.keepUsed(&b, used); err != nil {
			return err
		}
	}
	return a.keepWithNotes(&b, notes)
}

// editSetup corrects what a brew was made with. What is not corrected stays as it was then, whatever the Cupboard says now: only
// an item that the brew did not name before is copied from there.
func (a *App) editSetup(b *openBrew, setup *BrewSetup, used *BrewUsed, sure []string) *Error {
	if b.part.Sample != nil {
		setup.Coffee, setup.CoffeeID = "", ""
	}
	before, now := b.content.Setup.setup(), *setup
	fresh := a.fill(&now)
	used.follow(&fresh, &before, setup)
	setup.follow(&now, &before)
	if err := setup.checkAt(b.content.Kitchen.Altitude, sure); err != nil {
		return err
	}
	b.content.Setup = keptSetup(*setup)
	b.content.Kitchen.Grind, b.content.Kitchen.GrindSet = 0, false
	if used.Grinder != nil {
		b.content.Kitchen.Grind, b.content.Kitchen.GrindSet = used.Grinder.position(setup.Grind)
	}
	if setup.BrewerID != before.BrewerID {
		b.content.Kitchen.Retained = a.retainedBy(used.Brewer)
	}
	return nil
}

// takeOutcome takes over what came of a brew. After an absence only what went as planned or was put right by hand counts; once
// it is saved, whether it counts is its owner's word, and a correction leaves it.
func (a *App) takeOutcome(b *openBrew, o *BrewOutcome) {
	said := b.content.State == brewDone && o.Asked == b.content.Outcome.Asked
	b.content.Outcome = keptOutcome(o)
	if said || b.content.Abandoned {
		return
	}
	b.content.Counts = !b.content.Clock.Doubtful || o.Asked == "planned" || o.Asked == "roughly"
}

// keptOutcome is an outcome as a brew keeps it; its notes stand in a part of their own.
func keptOutcome(o *BrewOutcome) outcomeContent {
	out := outcomeContent{Drawdown: o.Drawdown, Beverage: o.Beverage, TDS: o.TDS, Asked: o.Asked, Slurry: o.Slurry, Bypass: o.Bypass}
	for _, mark := range o.Balance {
		out.Balance = append(out.Balance, balanceContent{Of: mark.Of, Mark: mark.Mark})
	}
	for _, pour := range o.Pours {
		out.Pours = append(out.Pours, pourContent{At: pour.At, Grams: pour.Grams})
	}
	return out
}

// keepWithNotes writes nothing while the notes before it are still being read.
func (a *App) keepWithNotes(b *openBrew, notes string) *Error {
	if err := a.keepNotes(b, notes); err != nil {
		return err
	}
	return a.keepBrew(b)
}

func (a *App) keepNotes(b *openBrew, notes string) *Error {
	var before notesContent
	status := a.read(b.book, a.mine(b.book, b.doc, partBrewNotes), &before)
	switch {
	case status == replica.BodyLoading:
		return errReading
	case before.Notes == notes:
		return nil
	}
	return a.write(b.book, b.doc, partBrewNotes, b.under(), notesContent{Notes: notes})
}

// discardBrew empties a brew, which shows at once, and has what was in it forgotten everywhere.
func (a *App) discardBrew(args BrewDiscard) *Error {
	b, err := a.brew(args.Book, args.Brew)
	if err != nil {
		return err
	}
	b.content = brewContent{Created: b.content.Created, State: brewGone}
	if err := a.keepWithNotes(&b, ""); err != nil {
		return err
	}
	return a.wait(a.replica.Erase(a.now, b.book, []oplog.DocID{b.doc}))
}
