package e2e

import (
	"strings"
	"testing"

	"hushcup/e2e/browser"
	"hushcup/e2e/proc"
)

// home is a club of a few phones with one flight and one sealed sample, which Vega
// keeps: where a test needs no more than that.
type home struct {
	*evening
	club   house
	link   string // of an invitation
	flight string
	code   string
	sample string
	vega   *browser.Phone
	others map[string]*browser.Phone
}

func newHome(t *testing.T, server *proc.Server, names ...string) *home {
	h := &home{evening: newEvening(t, server), others: map[string]*browser.Phone{}}
	h.vega = h.phone("vega")
	h.club = beginClub(h.vega, "Observatory", "Vega")
	h.link, _ = invite(h.vega, h.club)
	for _, name := range names {
		p := h.phone(strings.ToLower(name))
		join(p, h.link, name)
		h.others[name] = p
	}
	h.flight = beginFlight(h.vega, h.club, "First light")
	h.code = sealQuickly(h.vega, h.flight, "Ethiopia", "Washed")
	h.sample = openSample(h.vega, h.flight, h.code)
	return h
}

// alone is one phone with a server of its own.
func alone(t *testing.T, name string) *browser.Phone {
	t.Helper()
	return newEvening(t, proc.Start(t)).phone(name)
}

// sealQuickly seals a sample of which only the essential is stated.
func sealQuickly(p *browser.Phone, flight, origin, process string) (code string) {
	p.Follow(flight)
	p.Tap("Seal a sample")
	p.Fill("Grams for each home", "60")
	p.Choose("Added things and allergens", "nothing added, no allergen known")
	pick(p, "Where from", origin)
	pick(p, "Process", process)
	p.Tap("Seal it")
	p.See("Its code is")
	return codeOn(p)
}

// says seals a guess that says one thing about the process, and stays at the sample.
func says(p *browser.Phone, sample, process, percent string) {
	p.Follow(sample)
	p.Follow(sample + "/guess")
	p.See("which process?")
	say(p, percent, process)
	p.Tap("Seal this guess")
	p.See("Change your guess")
}

// said is what stands in the guess about a process.
func said(p *browser.Phone, sample, process string) string {
	p.Follow(sample + "/guess")
	p.See("which process?")
	p.TapRole("button", process)
	value := p.In(guessLabel(process)).Value("Exactly")
	p.Follow(sample)
	return value
}

// brewOwn brews one's own coffee with hardly any hands.
func brewOwn(p *browser.Phone, coffee, notes string) {
	startOwn(p, coffee)
	p.Fill("Drawdown", "2:40")
	p.Fill("What you noticed", notes)
	p.Tap("Save the brew")
	p.See("Correct the outcome")
}

// startOwn brings a brew of one's own coffee to where its outcome is written down.
func startOwn(p *browser.Phone, coffee string) {
	p.Follow("/bench/new")
	ownCoffee(p.Tab, coffee)
	p.Fill("Dose", "15")
	p.Fill("Water", "250")
	p.Tap("To the clock")
	p.Hold("Hold to start the clock", held)
	p.Hold("The bed is dry: stop", held)
	p.See("What came of it")
}

// allShared waits until nothing waits on a phone any more.
func allShared(p *browser.Phone) {
	p.Follow("/cupboard/sync")
	p.See("everything is shared")
}
