package app

import (
	"slices"
	"sort"

	"hushcup/sync/club"
)

func (a *App) lookTonight(Nothing) (TonightView, *Error) {
	v := TonightView{Going: a.going(), Joining: a.joining(), Brews: a.index.count(), Last: a.index.bench.Last.Coffee}
	var waiting []TonightSample
	clubs := a.clubs()
	for i := range clubs {
		c := &clubs[i]
		if !c.in() {
			continue
		}
		v.Clubs++
		for _, f := range c.State.Flights() {
			for _, s := range c.State.Samples(f.ID) {
				if t, ok := a.tonightSample(c, f, s); ok {
					waiting = append(waiting, t)
				}
				if o, ok := a.openedSample(c, f, s); ok {
					v.Opened = append([]OpenedSample{o}, v.Opened...)
				}
			}
		}
	}
	sort.SliceStable(waiting, func(i, j int) bool { return moreUrgent(&waiting[i], &waiting[j]) })
	if len(waiting) > 0 {
		v.Sample, v.More = &waiting[0], len(waiting)-1
		a.onTheTable(v.Sample)
	}
	v.Firsts = a.firsts(&v)
	return v, nil
}

// onTheTable says of the one sample that matters most where its sitting goes on, and how many attempts it holds.
func (a *App) onTheTable(t *TonightSample) {
	c, s, f, err := a.sample(t.Club, t.Sample)
	if err != nil {
		return
	}
	sitting := a.sitting(&c, f, s)
	t.Sitting = &sitting
	last := a.index.bench.Last.setup()
	t.Ration = a.ration(&last, t.Club, t.Sample, 1)
}

// tonightSample is a sample that this person can still do something with.
func (a *App) tonightSample(c *clubBook, f club.FlightInfo, s club.SampleInfo) (t TonightSample, ok bool) {
	state, g := a.sampleState(f, s), a.guessState(c, s)
	may := a.sampleMay(c, f, s)
	if state == "unsealed" || g.Holder && !slices.Contains(may, "unseal") || state == "closed" && !slices.Contains(may, "unseal") {
		return t, false
	}
	if g.Holder && state == "open" {
		return t, false // a keeper waits for the others
	}
	kept, asks := a.keeping(c, s, g)
	words, _ := a.flightWords(c, f.ID)
	brews := a.sampleBrews(c, s.Body.ID)
	t = TonightSample{
		Club: c.ID.String(), Flight: f.ID.String(), Sample: s.Body.ID.String(), Code: int(s.Body.Code), ClubName: a.clubName(c),
		Title: words.Title, Grams: grams(s), Left: left(grams(s), brews), Closes: f.Closes, Guess: g,
		Next: next(state, g, kept, asks, len(brews) > 0, may),
	}
	t.Place, t.Of = place(c, s)
	t.Declared, t.DeclaredOK = a.declared(c, s.Body.ID)
	return t, true
}

// moreUrgent puts what is not guessed before what waits to be opened and what is guessed, then what closes sooner; the rest
// stays in the order of the flight.
func moreUrgent(x, y *TonightSample) bool {
	if x.rank() != y.rank() {
		return x.rank() < y.rank()
	}
	return x.Closes != 0 && (y.Closes == 0 || x.Closes < y.Closes)
}

func (t *TonightSample) rank() int {
	switch {
	case t.Next == "unseal":
		return 1
	case t.Guess.Made:
		return 2
	}
	return 0
}

// openedSample is an unsealed sample that this person has not dealt with: it asks, or its result was not looked at yet.
func (a *App) openedSample(c *clubBook, f club.FlightInfo, s club.SampleInfo) (o OpenedSample, ok bool) {
	if s.UnsealedPos == 0 {
		return o, false
	}
	g := a.guessState(c, s)
	kept, asks := a.keeping(c, s, g)
	if kept || !asks && (a.decided(c, s) == lookedAt || !a.justOpened(c, s)) {
		return o, false
	}
	words, _ := a.flightWords(c, f.ID)
	return OpenedSample{
		Club: c.ID.String(), Flight: f.ID.String(), Sample: s.Body.ID.String(), Code: int(s.Body.Code), Title: words.Title, Asks: asks,
	}, true
}

// justOpened says whether an unseal is among the newest things of its club: nothing else was sealed after it.
func (a *App) justOpened(c *clubBook, s club.SampleInfo) bool {
	for _, f := range c.State.Flights() {
		if f.Pos > s.UnsealedPos {
			return false
		}
	}
	return true
}

// firsts are a newcomer's first things, as far as they are not done.
func (a *App) firsts(v *TonightView) (out []string) {
	settings, _ := a.settings()
	if settings.Name == "" {
		out = append(out, "name")
	}
	if v.Clubs == 0 && len(v.Joining) == 0 {
		out = append(out, "club")
	}
	if v.Brews == 0 {
		out = append(out, "kitchen", "practice-cup")
	}
	if v.Clubs > 0 && !a.recovery().Confirmed {
		out = append(out, "recovery")
	}
	return out
}
