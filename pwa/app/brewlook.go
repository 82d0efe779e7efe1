package app

func (a *App) lookBrew(params BrewParams) (BrewView, *Error) {
	b, err := a.brew(params.Book, params.Brew)
	if err != nil {
		return BrewView{}, err
	}
	content := &b.content
	v := BrewView{
		Book: params.Book, Brew: params.Brew, State: stateWord(content.State), Setup: content.Setup.setup(),
		Began: content.Began, Outcome: content.outcome(), Pours: content.pours(), Drawdown: content.drawdown(),
		Absent: content.Clock.Doubtful, Counts: content.Counts,
		Share: shareWord(b.part.Share), Edited: b.part.Time.Millis(),
	}
	if content.State == brewGoing && content.Ended == 0 {
		v.Began, v.Absent = a.began(&b), a.running(&b).Doubtful
	}
	v.Outcome.Notes = a.brewNotes(b.book, a.me(b.book), b.doc)
	for i, m := range content.Marks {
		v.Marks = append(v.Marks, BrewMarked{Mark: m.Mark, At: float64(m.At) / 1000, Grams: m.Grams, Step: content.ofStep(i)})
	}
	v.Sample = a.brewSample(&b)
	v.Yield, v.Strength = content.yield(), content.strength()
	a.lookFurther(&b, &v)
	return v, nil
}

func (a *App) brewSample(b *openBrew) *SampleChoice {
	info, ok := a.bookInfo(b.book)
	if b.part.Sample == nil || !ok {
		return nil
	}
	c := a.withState(info)
	s, ok := c.State.Sample(*b.part.Sample)
	if !ok {
		return nil
	}
	f, _ := c.State.Flight(s.Body.Flight)
	choice := a.sampleChoice(&c, f.ID, s)
	return &choice
}

func stateWord(state uint8) string {
	switch state {
	case brewGoing:
		return "going"
	case brewDone:
		return "done"
	}
	return "planned"
}
