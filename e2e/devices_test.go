package e2e

import (
	"testing"

	"hushcup/e2e/browser"
	"hushcup/e2e/proc"
)

// A second device comes in by the link on the first one's screen, a third by its
// text; both have everything, and what one writes the others show.
func TestFurtherDevicesOfOnePerson(t *testing.T) {
	h := newHome(t, proc.Start(t), "Mira")
	mira := h.others["Mira"]
	brewOwn(mira, "Orbital Blend", "apricot")
	says(mira, h.sample, "Washed", "60")

	link, _ := pairing(mira)
	laptop := h.browser.Laptop("mira's laptop", h.server.Address())
	laptop.Open(link)
	laptop.See("Make this one of your devices")
	laptop.Tap("Link this device")
	laptop.See("You are in")
	laptop.Shot("in")
	ownsEverything(t, laptop, h)
	says(laptop, h.sample, "Washed", "85")
	laptop.Shot("guess")
	if !soon(func() bool { return said(mira, h.sample, "Washed") == "85" }) {
		t.Errorf("the phone shows %q", said(mira, h.sample, "Washed"))
	}

	_, text := pairing(mira)
	tablet := h.phone("mira's tablet")
	tablet.Follow("/club/enter")
	tablet.Fill("Link or text", text)
	tablet.Tap("Go on")
	tablet.Tap("Link this device")
	tablet.See("You are in")
	ownsEverything(t, tablet, h)

	// one of them is lost
	laptop.Follow("/cupboard/devices")
	laptop.Fill("Name of this device", "the laptop")
	laptop.Tap("Save")
	laptop.See("Saved on this device")
	mira.Follow("/cupboard/devices")
	mira.Tap("Remove the laptop")
	mira.Shot("remove")
	mira.In("Remove the laptop").Tap("Remove the laptop")
	mira.NotSee("the laptop")
	laptop.Follow("/club")
	laptop.See("you are no longer in it")
	laptop.Shot("removed")
	says(mira, h.sample, "Washed", "75")
	if !soon(func() bool { return said(tablet, h.sample, "Washed") == "75" }) {
		t.Errorf("the tablet shows %q", said(tablet, h.sample, "Washed"))
	}
	laptop.Follow(h.sample + "/guess")
	laptop.See("Washed 85 %")
}

// pairing shows the link and the text that bring a further device in.
func pairing(p *browser.Phone) (link, text string) {
	p.Follow("/cupboard/devices")
	p.Tap("Add a device")
	p.See("It works once")
	p.Shot("add a device")
	soon(func() bool { link, text = linkOn(p); return link != "" })
	return link, text
}

// ownsEverything looks for what the person had before this device.
func ownsEverything(t *testing.T, p *browser.Phone, h *home) {
	t.Helper()
	p.Follow("/bench/log")
	p.See("Orbital Blend")
	p.Follow("/club")
	p.See("Observatory")
	p.Follow(h.sample)
	p.See("in before the close")
	if got := said(p, h.sample, "Washed"); got == "" {
		t.Errorf("%s does not show the guess", p.Name())
	}
}

// A phone is lost; the code from the drawer brings notebook, clubs and kept samples
// back on a new one.
func TestALostPhoneComesBackByItsCode(t *testing.T) {
	h := newHome(t, proc.Start(t), "Mira")
	mira := h.others["Mira"]
	brewOwn(mira, "Orbital Blend", "apricot")
	says(mira, h.sample, "Washed", "60")
	kept := sealQuickly(mira, h.flight, "Kenya", "Washed")
	code := makeCode(mira)
	allShared(mira)
	mira.CloseTab()

	found := h.phone("mira's new phone")
	found.Follow("/recover")
	found.Fill("Recovery code", swapped(code))
	found.Tap("Come back")
	found.See("A letter or digit of it is wrong")
	found.Shot("mistyped")
	found.Fill("Recovery code", code)
	found.Tap("Come back")
	found.See("You are in")
	found.Shot("back")
	ownsEverything(t, found, h)

	// she keeps her sample still: the key follows from her notebook
	found.Follow(h.flight)
	found.TapRole("link", spoken(kept))
	found.See("Kenya")
	found.Tap("Unseal " + kept)
	found.In("Unseal " + kept).Tap("Unseal " + kept)
	h.vega.Follow(h.flight)
	h.vega.TapRole("link", spoken(kept))
	asks := "Keep " + kept + " closed for me?"
	if h.vega.SeeOneOf(asks, "It is open: look?") != asks { // it was not open yet when she went there
		h.vega.Tap("It is open: look?")
		h.vega.See(asks)
	}
	h.vega.Tap("Open it now")
	h.vega.See("Kenya")
	h.vega.Shot("opened by who came back")
}

// A phone comes back by its code while the server is away. What its person writes until then stays, and goes out by itself
// with what was theirs before.
func TestAPhoneComesBackWhileTheServerIsAway(t *testing.T) {
	server := proc.Start(t)
	e := newEvening(t, server)
	mira := e.phone("mira")
	brewOwn(mira, "Orbital Blend", "apricot")
	code := makeCode(mira)
	allShared(mira)
	mira.CloseTab()
	found := e.phone("mira's new phone")
	if err := found.Eval(`navigator.serviceWorker.ready.then(() => true)`, nil); err != nil {
		t.Fatal(err)
	}
	server.Kill()
	found.AllowNetworkErrors()
	found.Follow("/recover")
	found.Fill("Recovery code", code)
	found.Tap("Come back")
	brewOwn(found, "Tidal Lock", "quince, before anything came back")
	found.See("on this device")
	found.Follow("/cupboard/sync")
	found.See("The server does not answer")
	found.Shot("waits for its recovery")

	server.Restart(t)
	sharedByItself(found)
	found.Follow("/bench/log")
	found.See("Orbital Blend")
	found.See("Tidal Lock")
	found.See("2 brews")
	found.Shot("came back")
	found.Follow("/cupboard/refused")
	found.See("Everything could be shared")
	soundBooks(t, "-database", server.Database())
}

// makeCode makes a recovery code and writes it down.
func makeCode(p *browser.Phone) (code string) {
	p.Follow("/cupboard/recovery")
	p.Tap("Make a code")
	p.See("Your recovery code")
	p.ShotWhole("code")
	if err := p.Eval(`document.querySelector(".recovery-code").innerText`, &code); err != nil {
		return ""
	}
	p.Fill("Its last group, from the paper", code[len(code)-5:])
	p.Tap("It is written down")
	p.See("and written down")
	return code
}

// swapped exchanges two neighbours, as fingers do.
func swapped(code string) string {
	letters := []byte(code)
	for i := range letters[1:] {
		if a, b := letters[i], letters[i+1]; a != b && a != '-' && b != '-' {
			letters[i], letters[i+1] = b, a
			return string(letters)
		}
	}
	return ""
}
