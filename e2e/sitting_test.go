package e2e

import (
	"testing"

	"hushcup/e2e/browser"
	"hushcup/e2e/proc"
)

// TestASittingByOnWithAlone takes a sample of the demonstration club from the table
// of tonight to the sealed guess: whatever the screen, one button leads on.
func TestASittingByOnWithAlone(t *testing.T) {
	server := proc.Start(t, "-demo")
	e := newEvening(t, server)
	p := e.phone("deneb")
	comeBack(p, linkOf(t, server, "Deneb"))
	p.Open("/")
	p.See("Left")
	p.ShotWhole("tonight")
	p.Tap("Begin with your eyes")
	p.See("smell")
	p.ShotWhole("sample")
	p.Tap("On with your eyes")
	p.See("Size, shape, evenness")
	notices(p, "even")
	p.ShotWhole("look")
	p.Tap("Keep these words")
	p.See("What you noticed")
	p.Tap("On with your nose")
	p.Fill("What is there?", "jas")
	p.Tap("jasmine")
	p.ShotWhole("smell")
	p.Tap("Keep these words")

	p.See("On with the brew")
	p.KillTab() // and goes on where it was
	p.Reopen("/")
	p.Tap("On with the brew")
	brewToTheEnd(p)
	p.ShotWhole("saved")
	p.Tap("On with the wet grounds")
	p.Tap("On with the cup") // skipped
	p.Tap("warm")
	notices(p, "my aunt's quince jam")
	p.Tap("Keep these words")
	p.See("my aunt's quince jam")
	p.ShotWhole("cup")
	p.Tap("On with the guess")
	p.ShotWhole("guess")
	say(p, "70", "Washed")
	p.Tap("Seal this guess")
	p.See("in before the close")
	p.See("jasmine")
	p.ShotWhole("sample at the end")
}

// notices adds a word of one's own.
func notices(p *browser.Phone, word string) {
	p.Fill("What is there?", word)
	p.Tap("Add")
}

// brewToTheEnd goes from what a brew is made with to the saved brew.
func brewToTheEnd(p *browser.Phone) {
	if p.SeeOneOf("I have read this", "To the clock") == "I have read this" {
		p.Tap("I have read this")
	}
	p.Fill("Dose", "15")
	p.Fill("Water", "240")
	p.Tap("To the clock")
	p.Hold("Hold to start the clock", held)
	p.Hold("The bed is dry: stop", held)
	p.See("What came of it")
	p.Fill("Drawdown", "2:40")
	p.Tap("Save the brew")
	p.See("Correct the outcome")
}
