package e2e

import (
	"testing"

	"hushcup/e2e/proc"
)

// What somebody writes without a network while they are taken out is listed on their
// own phone, and can be given up; the club goes on under a new key, and the old
// invitation lets nobody in.
func TestWhatWasWrittenWhileTakenOut(t *testing.T) {
	h := newHome(t, proc.Start(t), "Lyra", "Altair")
	lyra, altair := h.others["Lyra"], h.others["Altair"]
	says(altair, h.sample, "Washed", "40")
	altair.See("in before the close")
	altair.Offline(true)
	says(altair, h.sample, "Natural", "30")

	takeOut(h.vega, h.club, "Altair")

	altair.Offline(false)
	altair.Follow("/club")
	altair.See("you were taken out of it")
	altair.Shot("out")
	altair.Follow("/cupboard/sync")
	altair.Tap("one thing could not be shared")
	altair.See("a guess " + h.code)
	altair.Shot("refused")
	altair.Axe()
	altair.Tap("Give it up")
	altair.In("Give it up").Tap("Give it up")
	altair.See("Everything could be shared")

	says(lyra, h.sample, "Washed", "70")
	lyra.See("in before the close")
	seeIn(t, h, "Lyra")

	// the invitation that let them in has ended
	rigel := h.phone("rigel")
	rigel.Open(h.link)
	rigel.Fill("What to call you", "Rigel")
	rigel.Tap("Come in")
	rigel.See("This invitation")
	rigel.Shot("ended")
	again, _ := invite(h.vega, h.club)
	deneb := h.phone("deneb")
	join(deneb, again, "Deneb")

	altair.Open(h.link[:len(h.link)-4])
	altair.See("This link is not whole")
	altair.Shot("damaged link")
}

// seeIn waits until the organiser sees that a member has guessed.
func seeIn(t *testing.T, h *home, name string) {
	t.Helper()
	h.vega.Follow(h.flight)
	seeCells(t, h.vega, "Who has guessed", name, "in")
}
