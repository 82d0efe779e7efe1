package app

import (
	"slices"

	"hushcup/pwa/core/cup"
	"hushcup/sync/club"
	"hushcup/sync/replica"
)

// sittingSteps are the steps of a sitting, in order.
var sittingSteps = []string{"look", "smell", "brew", "wet", "cup", "guess"}

func (a *App) stepSitting(args SittingReached) *Error {
	c, s, _, err := a.sample(args.Club, args.Sample)
	if err = first(err, oneOf("step", args.Step, "SittingStep")); err != nil {
		return err
	}
	content, status := a.sittingOf(&c, s)
	step := uint8(slices.Index(sittingSteps, args.Step) + 1)
	switch {
	case status == replica.BodyLoading:
		return errReading
	case content.Step >= step:
		return nil
	}
	content.Step = step
	return a.write(a.notebook(), sittingDoc(c.ID, s.Body.ID), partSitting, replica.UnderEpoch, content)
}

func (a *App) lookSitting(params SampleParams) (SittingView, *Error) {
	c, s, f, err := a.sample(params.Club, params.Sample)
	if err != nil {
		return SittingView{}, err
	}
	return a.sitting(&c, f, s), nil
}

func (a *App) sitting(c *clubBook, f club.FlightInfo, s club.SampleInfo) SittingView {
	g := a.guessState(c, s)
	v := SittingView{
		Club: c.ID.String(), Sample: s.Body.ID.String(), Code: int(s.Body.Code),
		Out: !c.in() || g.Holder || a.sampleState(f, s) != "open",
	}
	brews := a.sampleBrews(c, s.Body.ID)
	if len(brews) > 0 {
		v.Brew, v.State = &BrewParams{Book: brews[0].Book, Brew: brews[0].Brew}, brews[0].State
	}
	by := a.noticedSample(c, s.Body.ID)
	noticed := func(stages ...cup.Stage) bool {
		return slices.ContainsFunc(stages, func(stage cup.Stage) bool { return len(by[string(stage)]) > 0 })
	}
	done := map[string]bool{
		"look": noticed(cup.Beans), "smell": noticed(cup.Fragrance) || g.First, "brew": v.State == "done",
		"wet": noticed(cup.Aroma), "cup": noticed(cup.Hot, cup.Warm, cup.Cool), "guess": g.Made,
	}
	content, _ := a.sittingOf(c, s)
	v.At = "guess"
	for i := len(sittingSteps) - 1; i >= 0; i-- {
		if step := sittingSteps[i]; done[step] {
			v.Done = append([]string{step}, v.Done...)
		} else if i+1 >= int(content.Step) {
			v.At = step
		}
	}
	return v
}
