package app

import (
	"math"
	"slices"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

func (a *App) sampleLine(c *clubBook, f club.FlightInfo, s club.SampleInfo) SampleLine {
	g := a.guessState(c, s)
	line := SampleLine{
		Sample: s.Body.ID.String(), Code: int(s.Body.Code), Grams: grams(s), State: a.sampleState(f, s),
		Keeper: s.Keeper.String(), Holders: holders(s), Guess: g, May: a.sampleMay(c, f, s),
		Early: s.ClosedHow == club.ClosedByEarly, Share: shareWord(a.replica.SampleShare(c.ID, s.Body.ID)),
	}
	line.Guessed, line.Late = guessed(c, s)
	line.Kept, line.Asks = a.keeping(c, s, g)
	if s.UnsealedPos != 0 && !line.Kept && !line.Asks {
		line.Answer, line.Label = a.answerLabel(c, s)
		line.Mine = a.myFactor(c, f, s)
	}
	return line
}

func grams(s club.SampleInfo) float64 { return float64(s.Body.Centigrams) / 100 }

func holders(s club.SampleInfo) (out []string) {
	out = append(out, s.Keeper.String())
	for _, h := range s.Body.Holders {
		out = append(out, h.Member.String())
	}
	return out
}

// guessed lists who has guessed, not what: in before the close (so far), and late. Those who know the answer are in neither.
func guessed(c *clubBook, s club.SampleInfo) (in, late []string) {
	for _, g := range c.Ordered.Guesses(s.Body.ID) {
		switch {
		case g.Void != "":
		case g.Scoring != nil:
			in = append(in, g.Member.String())
		case g.Late != nil:
			late = append(late, g.Member.String())
		}
	}
	return in, late
}

func (a *App) lookSample(params SampleParams) (SampleView, *Error) {
	c, s, f, err := a.sample(params.Club, params.Sample)
	if err != nil {
		return SampleView{}, err
	}
	words, _ := a.flightWords(&c, f.ID)
	g := a.guessState(&c, s)
	v := SampleView{
		Club: c.ID.String(), Flight: f.ID.String(), Sample: s.Body.ID.String(), Code: int(s.Body.Code), Title: words.Title,
		State: a.sampleState(f, s), ClosedHow: a.closedHow(f, s), Closes: f.Closes, Grams: grams(s), Questions: words.Questions,
		Keeper: a.describe(&c, s.Keeper), Guess: g, May: a.sampleMay(&c, f, s), Share: shareWord(a.replica.SampleShare(c.ID, s.Body.ID)),
		Standing: c.bookStatus(),
	}
	v.Place, v.Of = place(&c, s)
	v.Declared, v.DeclaredOK = a.declared(&c, s.Body.ID)
	for _, h := range s.Body.Holders {
		v.Holders = append(v.Holders, a.describe(&c, h.Member))
	}
	in, _ := guessed(&c, s)
	v.Guessed = len(in)
	v.Brews = a.sampleBrews(&c, s.Body.ID)
	v.Left = left(v.Grams, v.Brews)
	v.Kept, v.Asks = a.keeping(&c, s, g)
	v.Intention = a.intends(c.ID, s.Body.ID)
	v.Next = next(v.State, g, v.Kept, v.Asks, len(v.Brews) > 0, v.May)
	v.Sealed = a.shownAnswer(&c, s, v.Kept || v.Asks)
	return v, nil
}

// shownAnswer is the answer for those who may see it: its keeper and holders at any time, all others once it is open and
// they do not keep it closed.
func (a *App) shownAnswer(c *clubBook, s club.SampleInfo, closed bool) *Answer {
	if !s.Holds(c.Member) && (s.UnsealedPos == 0 || closed) {
		return nil
	}
	content, status := a.answer(c, s.Body.ID)
	if status != replica.BodyReady {
		return nil
	}
	answer := content.answer()
	return &answer
}

// place is the how-manieth of its flight a sample is.
func place(c *clubBook, s club.SampleInfo) (at, of int) {
	for i, other := range c.State.Samples(s.Body.Flight) {
		of++
		if other.Body.ID == s.Body.ID {
			at = i + 1
		}
	}
	return at, of
}

// left is what one's own brews leave of a portion.
func left(grams float64, brews []BrewDigest) float64 {
	for _, b := range brews {
		grams -= b.Dose
	}
	return max(math.Round(grams*10)/10, 0)
}

// next is the one thing to do with a sample.
func next(state string, g GuessState, kept, asks, brewed bool, may []string) string {
	can := func(word string) bool { return slices.Contains(may, word) }
	switch {
	case kept:
		return "kept"
	case asks:
		return "ask"
	case state == "unsealed":
		return "result"
	case state == "closed" && can("unseal"):
		return "unseal"
	case g.Holder && can("close"):
		return "close"
	case g.Holder || state == "closed" && g.Made:
		return "wait"
	case g.Made:
		return "revise"
	case brewed || state == "closed":
		return "guess"
	case g.First || !can("first"):
		return "brew"
	}
	return "look"
}

// intends says whether a sample is to be opened as soon as its close is ordered.
func (a *App) intends(book oplog.BookID, sample oplog.SampleID) bool {
	for _, i := range a.replica.Intentions() {
		if i.Book == book && i.Sample == sample {
			return true
		}
	}
	return false
}

// waitingSamples are the samples of a club on which this person could still guess, and has not.
func (a *App) waitingSamples(c *clubBook) (out []club.SampleInfo) {
	if !c.in() {
		return nil
	}
	for _, f := range c.State.Flights() {
		if a.timeClosed(f) {
			continue
		}
		for _, s := range c.State.Samples(f.ID) {
			if s.ClosedPos == 0 && s.UnsealedPos == 0 && !s.Holds(c.Member) && a.replica.OwnGuess(c.ID, s.Body.ID).Share == 0 {
				out = append(out, s)
			}
		}
	}
	return out
}
