package e2e

import (
	"fmt"
	"testing"

	"hushcup/e2e/browser"
)

// killings is how often the tab is killed at the moment when it says "saved".
const killings = 20

// What the screen called saved is there after the tab was killed, even when that comes
// at once: the word stands only when the write is durable. The first of these rounds
// are those in which a start is still settling down.
func TestATabThatIsKilledWhenItSaysSaved(t *testing.T) {
	p := alone(t, "deneb")
	for i := range killings {
		name := fmt.Sprintf("the phone of evening %d", i+1)
		p.Reopen("/cupboard/devices")
		p.Fill("Name of this device", name)
		p.Tap("Save")
		killWhen(t, p, `document.body.innerText.includes("Saved on this device")`)
		p.Reopen("/cupboard/devices")
		p.See("this device")
		if got := p.Value("Name of this device"); got != name {
			t.Fatalf("after killing %d the name is %q, %q was called saved", i+1, got, name)
		}
	}
}

// The same for the marks of a running brew, which are told by a hand that will not do
// it again. The clock goes on through all of it.
func TestAMarkThatWasShownOutlivesItsTab(t *testing.T) {
	p := alone(t, "deneb")
	toClock(p.Tab, "Orbital Blend")
	p.Hold("Hold to start the clock", held)
	p.See("swirl")
	brew := p.Path()
	var remembered int // the next start paints a brew that runs, before there is a core to ask
	if !soon(func() bool {
		return p.Eval(`JSON.parse(localStorage.getItem("hushcup last bench") ?? '{"going":[]}').going.length`, &remembered) == nil && remembered == 1
	}) {
		t.Fatalf("a start would paint %d running brews", remembered)
	}
	for i := range killings {
		p.Hold("swirl", held)
		killWhen(t, p, fmt.Sprintf(`document.querySelectorAll(".marks tbody tr").length === %d`, i+2))
		p.Reopen(brew)
		p.See("swirl")
		var marks int
		if !soon(func() bool {
			return p.Eval(`document.querySelectorAll(".marks tbody tr").length`, &marks) == nil && marks == i+2
		}) {
			t.Fatalf("after killing %d there are %d marks, %d were shown; on the screen: %s", i+1, marks, i+2, p.Text())
		}
	}
}

// killWhen kills the tab in the moment in which something is so in its document: the
// page itself tells when, as soon as it changes.
func killWhen(t *testing.T, p *browser.Phone, so string) {
	t.Helper()
	err := p.Eval(`new Promise(met => {
		const look = () => { if (`+so+`) { watcher.disconnect(); met(true) } };
		const watcher = new MutationObserver(look);
		watcher.observe(document, { subtree: true, childList: true, characterData: true });
		look();
	})`, nil)
	if err != nil {
		t.Fatalf("%s is never so: %v; on the screen: %s", so, err, p.Text())
	}
	p.KillTab()
}
