package app

import "slices"

func (a *App) markBrew(args BrewMark) *Error {
	b, err := a.brew(args.Book, args.Brew)
	if err = first(err, oneOf("mark", args.Mark, "Mark"), within("step", args.Step, 0, len(b.content.Setup.Steps))); err != nil {
		return err
	}
	switch {
	case args.Ago < 0 || args.Ago > day:
		return refuse(CodeImpossible, "ago", "this is too long ago")
	case !(args.Grams >= 0 && args.Grams <= mostGrams):
		return refuse(CodeImpossible, "grams", "this cannot be")
	case args.Mark == "hold" || args.Mark == "on":
		return refuse(CodeImpossible, "mark", "the plan is held in another way")
	case args.Mark == "start" && b.content.State != brewPlanned:
		return &Error{Code: CodeAlready, Field: "mark", Text: "the clock runs already"}
	case b.content.State == brewDone:
		return &Error{Code: CodeAlready, Text: "this brew is over", Hint: "correct it by hand"}
	}
	if b.content.State == brewPlanned {
		a.startClock(&b, args.Ago)
		if args.Mark == "start" {
			return a.keepBrew(&b)
		}
	}
	at := a.noteMark(&b, args.Mark, args.Ago, args.Grams, args.Step)
	if args.Mark == "end" {
		b.content.Ended = b.content.Began + at
	}
	return a.keepBrew(&b)
}

// noteMark puts a mark where it belongs in time, after those of the same moment.
func (a *App) noteMark(b *openBrew, word string, ago int64, grams float64, step int) (at int64) {
	clock := a.running(b)
	b.content.Clock = keptClock(clock)
	at = max(int64(clock.Elapsed)-ago, 0)
	c := &b.content
	for len(c.OfSteps) < len(c.Marks) { // an older version wrote them
		c.OfSteps = append(c.OfSteps, 0)
	}
	i := len(c.Marks)
	for i > 0 && c.Marks[i-1].At > at {
		i--
	}
	c.Marks = slices.Insert(slices.Clone(c.Marks), i, markContent{Mark: word, At: at, Grams: grams})
	c.OfSteps = slices.Insert(slices.Clone(c.OfSteps), i, step)
	return at
}

// ofStep is the step of the plan to which a mark belongs, from 1; 0 when it belongs to none.
func (content *brewContent) ofStep(mark int) int {
	if mark >= len(content.OfSteps) {
		return 0
	}
	return content.OfSteps[mark]
}

// unmarkBrew takes the mark back that happened last. Without any the clock has not started: a touch that started it with a
// pour is taken back as one.
func (a *App) unmarkBrew(args BrewUnmark) *Error {
	b, err := a.brew(args.Book, args.Brew)
	if err != nil {
		return err
	}
	last := len(b.content.Marks) - 1
	if last < 0 || b.content.State != brewGoing {
		return &Error{Code: CodeNotYet, Text: "there is nothing to take back"}
	}
	if b.content.Marks[last].Mark == "end" {
		b.content.Ended = 0
	}
	if last == 1 && b.content.Marks[1].At == 0 {
		last = 0
	}
	b.content.Marks = b.content.Marks[:last]
	b.content.OfSteps = b.content.OfSteps[:min(last, len(b.content.OfSteps))]
	if last == 0 {
		b.content.State, b.content.Began = brewPlanned, 0
		b.content.Clock = clockContent{}
	}
	return a.keepBrew(&b)
}

// holdBrew stops the plan of a running brew, or lets it go on.
func (a *App) holdBrew(args BrewHold) *Error {
	b, err := a.brew(args.Book, args.Brew)
	if err != nil {
		return err
	}
	_, held := b.content.holds()
	switch {
	case args.Ago < 0 || args.Ago > day:
		return refuse(CodeImpossible, "ago", "this is too long ago")
	case b.content.State != brewGoing || b.content.Ended != 0:
		return &Error{Code: CodeNotYet, Text: "the clock does not run"}
	case args.Hold == (held >= 0):
		return nil
	}
	word := "on"
	if args.Hold {
		word = "hold"
	}
	a.noteMark(&b, word, args.Ago, 0, 0)
	return a.keepBrew(&b)
}

// hold is a span in which the plan stood still, in milliseconds from the start.
type hold struct{ from, until int64 }

// holds are the spans that are over, and where one began that is not; -1 when the plan runs.
func (content *brewContent) holds() (over []hold, since int64) {
	since = -1
	for _, m := range content.Marks {
		switch {
		case m.Mark == "hold" && since < 0:
			since = m.At
		case (m.Mark == "on" || m.Mark == "end") && since >= 0:
			over = append(over, hold{since, m.At})
			since = -1
		}
	}
	return over, since
}

// abandonBrew ends a brew that went wrong and keeps it.
func (a *App) abandonBrew(args BrewAbandon) *Error {
	b, err := a.brew(args.Book, args.Brew)
	if err = first(err, text("why", &args.Why, 300, false)); err != nil {
		return err
	}
	if b.content.State == brewDone {
		return &Error{Code: CodeAlready, Text: "this brew is over"}
	}
	a.stopClock(&b)
	b.content.State, b.content.Abandoned, b.content.Counts = brewDone, true, false
	return a.keepWithNotes(&b, args.Why)
}

// countBrew puts a brew back into what is learned from, or takes it out.
func (a *App) countBrew(args BrewCount) *Error {
	b, err := a.brew(args.Book, args.Brew)
	if err != nil {
		return err
	}
	b.content.Counts = args.Counts
	return a.keepBrew(&b)
}
