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
	return a.keepWithNotes(open, b.Outcome.Notes)
}

func (b *DataBrew) content() brewContent {
	out := brewContent{
		Created: b.Created, State: brewDone, Setup: keptSetup(b.Setup), Began: b.Began, Ended: b.Ended,
		Clock: clockContent{Doubtful: b.Absent}, Counts: b.Counts,
	}
	if b.State == "planned" {
		out.State = brewPlanned
	}
	for _, m := range b.Marks {
		out.Marks = append(out.Marks, markContent{Mark: m.Mark, At: m.At, Grams: m.Grams})
	}
	open := openBrew{content: out}
	(*App)(nil).takeOutcome(&open, &b.Outcome)
	open.content.Counts = b.Counts
	return open.content
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
	return first(err, confirmed(b.Setup.check), confirmed(func(sure []string) *Error { return b.Outcome.check(b.Setup, sure) }))
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
