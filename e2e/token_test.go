package e2e

import (
	"testing"

	"hushcup/e2e/proc"
)

// A host may keep new books to the people of their own: a phone that has not shown
// the host's word keeps what it writes, and shares it once it has.
func TestAServerThatAsksForAWord(t *testing.T) {
	server := proc.Start(t, "-token", "redcurrant & thyme")
	p := newEvening(t, server).phone("vega")
	beginClub(p, "Observatory", "Vega")
	p.Follow("/cupboard/sync")
	p.See("The server is for its host's own people")
	p.NotSee("everything is shared")
	p.Shot("not shown the word")

	p.Open("/token?token=redcurrant+%26+thyme") // the installed app answers all other addresses by itself
	p.See("No sample is waiting")
	p.Open("/cupboard/sync")
	p.See("everything is shared")
	p.Shot("shown the word")
	p.CloseTab()
	p.Reopen("/cupboard/sync")
	p.See("everything is shared")
}
