package app_test

import (
	"testing"

	"hushcup/pwa/app"
)

// Whoever comes back by a code or by another device has their brews on the Bench again, digested anew from what the books hold.
func TestBrewsComeBackWithTheirOwner(t *testing.T) {
	s := sitDown(t)
	save(t, s.mira, start(t, s.mira, setup()), app.BrewOutcome{Notes: "apricot"})
	made := do[app.RecoveryMade](t, s.mira, app.CmdRecoveryMake, app.Nothing{})
	s.v.Advance(3000)
	s.mira.Offline(true) // lost

	found := s.v.Phone("found")
	do[app.ClubJoining](t, found, app.CmdRecover, app.Recover{Code: made.Code})
	s.v.Advance(60_000)
	if seen := see[app.BrewsView](t, found, app.ViewBrews, app.BrewsParams{Limit: 10}); seen.All != 1 || len(seen.Brews) != 1 {
		t.Errorf("after coming back: %+v", seen)
	}
	found.Start()
	s.v.Advance(3000)
	if seen := see[app.BrewsView](t, found, app.ViewBrews, app.BrewsParams{Limit: 10}); seen.All != 1 || len(seen.Brews) != 1 {
		t.Errorf("after a restart: %+v", seen)
	}
}
