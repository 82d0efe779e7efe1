package app

import (
	"slices"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

// historyContent is a cup that came from a file. It is read, never scored.
type historyContent struct {
	Cup DataCup `cbor:"1,keyasint"`
}

// keeps are the words of a sittingContent's Keep.
var keeps = [...]string{undecided: "", keepClosed: "closed", lookedAt: "looked"}

// cupOf is what this person thought of a sample; false when that is nothing. What is sealed, or kept closed, is not told.
func (a *App) cupOf(c *clubBook, f club.FlightInfo, s club.SampleInfo) (DataCup, bool) {
	g := a.guessState(c, s)
	cup := DataCup{
		Of: a.dataOf(c, f, s), ClubName: a.clubName(c), Grams: grams(s), Keeps: keeps[a.decided(c, s)], Late: g.Timing == "late", Knew: g.Holder,
		First: a.saidOf(c, s, partFirstGuess), Guess: a.saidOf(c, s, partGuess), Noticed: a.noticedBefore(c, s.Body.ID),
	}
	if declared, readable := a.declared(c, s.Body.ID); readable {
		cup.Declared = &declared
	}
	if kept, asks := a.keeping(c, s, g); s.UnsealedPos != 0 && !kept && !asks {
		a.openCup(&cup, c, f, s)
	}
	return cup, len(cup.First)+len(cup.Guess)+len(cup.Noticed) > 0 || cup.Answer != nil
}

func (a *App) dataOf(c *clubBook, f club.FlightInfo, s club.SampleInfo) DataOf {
	words, _ := a.flightWords(c, f.ID)
	return DataOf{Club: c.ID.String(), Sample: s.Body.ID.String(), Code: int(s.Body.Code), Title: words.Title}
}

// openCup adds the answer and the score.
func (a *App) openCup(cup *DataCup, c *clubBook, f club.FlightInfo, s club.SampleInfo) {
	o := a.opening(c, f, s)
	if o.status != "open" {
		return
	}
	answer := o.answer.answer()
	cup.Answer, cup.Opened = &answer, s.UnsealedAt
	if p := a.person(&o, c.Member); p.Status == "scored" {
		bits := int(p.Result.Total)
		cup.Bits = &bits
	}
}

func (a *App) saidOf(c *clubBook, s club.SampleInfo, part uint32) []SaidFacet {
	var content guessContent
	a.read(c.ID, a.mine(c.ID, oplog.GuessDoc(s.Body.ID, c.Member), part), &content)
	return saidFacets(content.belief())
}

// noticedBefore is what was noticed of a sample before any brew, by stage.
func (a *App) noticedBefore(c *clubBook, sample oplog.SampleID) (out []DataNote) {
	by := a.noticedSample(c, sample)
	for _, stage := range words("CupStage") {
		for _, n := range by[stage] {
			if n.Brew == "" {
				out = append(out, DataNote{Stage: stage, At: n.At, Words: n.Words})
			}
		}
	}
	return out
}

// history are the cups that came from files.
func (a *App) history() (out []DataCup) {
	a.replica.OwnParts(a.notebook(), partHistory, func(part replica.OwnPart) {
		var content historyContent
		if !part.Erased && a.read(a.notebook(), a.mine(a.notebook(), part.Doc, partHistory), &content) == replica.BodyReady {
			out = append(out, content.Cup)
		}
	})
	slices.SortFunc(out, func(x, y DataCup) int {
		if x.Opened != y.Opened {
			return int(min(max(y.Opened-x.Opened, -1), 1))
		}
		return x.Of.Code - y.Of.Code
	})
	return out
}
