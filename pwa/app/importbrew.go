package app

import "hushcup/sync/oplog"

// mostMarks is more than two hands do in a brew.
const mostMarks = 400

// takeBrew keeps a brew under the id that it has in the file, so the same file twice makes nothing twice. A brew of a club's
// sample goes where it was when one is in that club; else into the notebook, with the sample's code and title for its coffee.
func (a *App) takeBrew(b *DataBrew) (taken taking, err *Error) {
	doc, err := id[oplog.DocID]("id", b.ID)
	if err = first(err, b.check()); err != nil {
		return taken, err
	}
	if _, known, gone := a.holdsBrew(doc); known {
		return taking{known: !gone, gone: gone}, nil
	}
	open := openBrew{brewRef: brewRef{a.notebook(), doc}, content: b.content()}
	taken.history = b.Of != nil && !a.backInClub(&open, b.Of)
	if err := a.parentIn(&open, b.Parent); err != nil {
		return taken, err
	}
	taken.write = func() *Error { return a.keepTaken(&open, b, taken.history) }
	return taken, nil
}

// backInClub puts a brew under the sample that it was of; false when this person is not in that club.
func (a *App) backInClub(open *openBrew, of *DataOf) bool {
	c, s, _, err := a.sample(of.Club, of.Sample)
	if err != nil || !c.in() {
		open.content.Setup.Coffee = of.words()
		return false
	}
	open.book, open.part.Sample, open.content.Setup.Coffee = c.ID, &s.Body.ID, ""
	return true
}

// parentIn finds the brew that a brew was a change of: where it is here, or else where this one goes.
func (a *App) parentIn(open *openBrew, parent string) *Error {
	if parent == "" {
		return nil
	}
	doc, err := id[oplog.DocID]("parent", parent)
	if err != nil {
		return err
	}
	open.content.Parent = parentContent{Book: open.book, Doc: doc}
	if book, known, _ := a.holdsBrew(doc); known {
		open.content.Parent.Book = book
	}
	return nil
}

// words are what is left of a sample's name.
func (of *DataOf) words() string {
	code := padded(int64(of.Code), 3)
	if of.Title == "" {
		return code
	}
	return code + ", " + of.Title
}

func (a *App) keepTaken(open *openBrew, b *DataBrew, history bool) *Error {
	if history {
		if err := a.write(open.book, open.doc, partBrewOf, open.under(), brewOfContent(*b.Of)); err != nil {
			return err
		}
	}
	if len(b.Noticed) > 0 {
		var content noticedContent
		for _, n := range b.Noticed {
			content.Times = append(content.Times, noticeContent{Stage: n.Stage, At: n.At, Words: n.Words})
		}
		if err := a.write(open.book, open.doc, partNoticed, open.under(), content); err != nil {
			return err
		}
	}
	if b.Used != (BrewUsed{}) {
		if err := a.keepUsed(open, b.Used); err != nil {
			return err
		}
	}
	return a.keepWithNotes(open, b.Outcome.Notes)
}

func (b *DataBrew) content() brewContent {
	out := brewContent{
		Created: b.Created, State: brewDone, Setup: keptSetup(b.Setup), Began: b.Began, Ended: b.Ended,
		Clock: clockContent{Doubtful: b.Absent}, Abandoned: b.Abandoned, Table: b.Table, Bowl: b.Bowl, Kitchen: kitchenContent(b.Kitchen),
		Outcome: keptOutcome(&b.Outcome), Counts: b.Counts,
	}
	if b.State == "planned" {
		out.State = brewPlanned
	}
	for _, m := range b.Marks {
		out.Marks = append(out.Marks, markContent{Mark: m.Mark, At: m.At, Grams: m.Grams})
		out.OfSteps = append(out.OfSteps, m.Step)
	}
	for _, r := range b.Readings {
		out.Readings = append(out.Readings, readingContent{At: r.At, Celsius: r.Celsius})
	}
	return out
}

// check refuses what cannot be. What surprises was confirmed when it was typed.
func (b *DataBrew) check() *Error {
	err := first(checkTime("created", b.Created), checkTime("began", b.Began), checkTime("ended", b.Ended), b.checkMarks(), checkNotes(b.Noticed))
	switch {
	case err != nil:
		return err
	case b.Created == 0:
		return refuse(CodeRequired, "created", "a brew was made at some time")
	case b.State != "done" && b.State != "planned":
		return refuse(CodeImpossible, "state", "a brew in a file is planned or done")
	}
	if b.Of != nil {
		err = b.Of.check()
	}
	return first(err, b.Kitchen.check(), b.Used.check(), b.checkRest(),
		confirmed(func(sure []string) *Error { return b.Setup.checkAt(b.Kitchen.Altitude, sure) }),
		confirmed(func(sure []string) *Error { return b.Outcome.checkAt(b.Kitchen.Altitude, b.Setup, sure) }))
}

func (b *DataBrew) checkRest() *Error {
	err := first(text("table", &b.Table, 64, false), within("bowl", b.Bowl, 0, 24), tooMany("readings", len(b.Readings), 100))
	for i, r := range b.Readings {
		field := "readings." + decimal(i)
		err = first(err, within(field+".celsius", r.Celsius, -5, 100), checkTime(field+".at", r.At))
	}
	return err
}

func (k *DataKitchen) check() *Error {
	return first(within("kitchen.scale", k.Scale, 0, 20), within("kitchen.meter", k.Meter, 0, 20),
		within("kitchen.altitude", k.Altitude, -430, 5500), within("kitchen.retained", k.Retained, 0, 10),
		within("kitchen.grind", k.Grind, -1e6, 1e6), within("kitchen.moisture", k.Moisture, 0, mostMoisture))
}

// check refuses a copy that no item could have left.
func (u *BrewUsed) check() (err *Error) {
	err = within("used.altitude", u.Altitude, -430, 5500)
	copies := map[string]checked{}
	if u.Coffee != nil {
		copies["coffee"] = u.Coffee
	}
	if u.Brewer != nil {
		copies["brewer"] = u.Brewer
	}
	if u.Grinder != nil {
		copies["grinder"] = u.Grinder
	}
	if u.Water != nil {
		copies["water"] = u.Water
	}
	if u.Scale != nil {
		copies["scale"] = u.Scale
	}
	if u.Refractometer != nil {
		copies["refractometer"] = u.Refractometer
	}
	for _, what := range []string{"coffee", "brewer", "grinder", "water", "scale", "refractometer"} {
		if item, ok := copies[what]; ok && err == nil {
			if bad := item.check(); bad != nil {
				err = withField(bad, "used."+what+"."+bad.Field)
			}
		}
	}
	return err
}

func (b *DataBrew) checkMarks() *Error {
	err := tooMany("marks", len(b.Marks), mostMarks)
	for i, m := range b.Marks {
		field := "marks." + decimal(i)
		err = first(err, oneOf(field+".mark", m.Mark, "Mark"), within(field+".grams", m.Grams, 0, mostGrams))
		if m.At < 0 || m.At > 30*day || i > 0 && m.At < b.Marks[i-1].At {
			err = first(err, refuse(CodeImpossible, field+".at", "marks stand in the order in which they came"))
		}
	}
	return err
}

// confirmed makes a check with a yes to everything that surprises.
func confirmed(check func(sure []string) *Error) *Error {
	var sure []string
	for range 100 {
		err := check(sure)
		if err == nil || err.Code != CodeSurprising {
			return err
		}
		sure = append(sure, err.Field)
	}
	return nil
}
