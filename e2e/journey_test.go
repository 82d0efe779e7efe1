package e2e

import (
	"testing"

	"hushcup/e2e/proc"
)

func TestTheEvening(t *testing.T) {
	onBoth(t, anEvening)
}

func anEvening(t *testing.T, server *proc.Server) {
	e := newEvening(t, server)
	vega := e.phone("vega")
	vega.Shot("first")
	club := beginClub(vega, "Observatory", "Vega")
	vega.Shot("club")
	link, _ := invite(vega, club)
	vega.Shot("invite")
	mira, lyra, altair := e.phone("mira"), e.phone("lyra"), e.phone("altair")
	join(mira, link, "Mira")
	mira.Shot("club")
	join(lyra, link, "Lyra")
	join(altair, link, "Altair")

	flight := beginFlight(vega, club, "First light")
	vega.ShotWhole("flight")
	first := sealSample(vega, flight, firstLot)
	vega.Shot("sealed")
	second := sealSample(mira, flight, secondLot)
	t.Log(first, second)
	mira.Shot("sealed")
	lyra.Open("/")
	lyra.See(first)
	lyra.Shot("tonight")
}
