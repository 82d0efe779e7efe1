package e2e

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"hushcup/e2e/browser"
	"hushcup/e2e/proc"
)

// focused is what has the focus, as it is read; "nothing" when it fell to the page.
func focused(p *browser.Phone) (name string) {
	_ = p.Eval(`(() => {
		const a = document.activeElement;
		if (!a || a === document.body) return "nothing";
		return (a.getAttribute("aria-label") ?? a.labels?.[0]?.textContent ?? a.textContent).replace(/\s+/g, " ").trim();
	})()`, &name)
	return name
}

// focusIs waits until the focus is on what begins so.
func focusIs(t *testing.T, p *browser.Phone, name string) {
	t.Helper()
	if !soon(func() bool { return strings.HasPrefix(focused(p), name) }) {
		t.Fatalf("%s: the focus is on %q, not on %q; on the screen: %s", p.Name(), focused(p), name, p.Text())
	}
}

// toKey goes on with the Tab key alone until the focus is on what begins so.
func toKey(t *testing.T, p *browser.Phone, name string) {
	t.Helper()
	var passed []string
	for range 60 {
		if strings.HasPrefix(focused(p), name) {
			return
		}
		p.Press("Tab")
		passed = append(passed, focused(p))
	}
	t.Fatalf("%s: no key leads to %q, only to %q", p.Name(), name, passed)
}

// byKey presses what begins so, and says that the focus did not fall to the page.
func byKey(t *testing.T, p *browser.Phone, name, key string) {
	t.Helper()
	toKey(t, p, name)
	p.Press(key)
}

// TestABrewByKeysAlone brews without a pointer, on a narrow screen with letters of
// twice the size, in dusk, without motion, with the left hand and while the house
// sleeps. After each step the focus is where the next one is; nothing that goes away
// takes it along.
func TestABrewByKeysAlone(t *testing.T) {
	e := newEvening(t, proc.Start(t))
	p := e.phone("deneb")
	p.Follow("/bench/new")
	ownCoffee(p.Tab, "Antumbra")
	p.Choose("Recipe", "Cone, three pours")
	p.Resize(browser.NarrowSize)
	p.LargeText(2)
	p.Still()
	byKey(t, p, "I have read this", "Space")
	p.NotSee("I have read this")
	if focused(p) == "nothing" {
		t.Error("with the caution read the focus has fallen to the page")
	}
	byKey(t, p, "To the clock", "Enter")
	focusIs(t, p, "Antumbra")
	byKey(t, p, "Quiet, the house sleeps", "Space")
	p.NotSee("Hear the two sounds")
	focusIs(t, p, "Quiet, the house sleeps")
	byKey(t, p, "Hold to start the clock", "Enter")
	focusIs(t, p, "Hold at 38 g") // the same key, the next step
	p.FitsWidth("320 points and text of twice the size, while it runs")
	p.ShotWhole("runs")
	p.Axe()
	byKey(t, p, "Take back: bloom", "Enter")
	p.See("Taken back: bloom")
	p.See("Hold to start the clock") // one step for the one touch
	if focusIs(t, p, "Antumbra"); p.Sees("Take back") {
		t.Error("there is more to take back than was done")
	}
	byKey(t, p, "Hold to start the clock", "Space")
	focusIs(t, p, "Hold at 38 g")
	p.Press("Enter")
	focusIs(t, p, "Hold when done: swirl")
	byKey(t, p, "Take back: poured", "Enter")
	p.See("Taken back: poured")
	focusIs(t, p, "Something went wrong")
	p.Press("Enter")
	focusIs(t, p, "Something went wrong") // the part of the screen that came
	byKey(t, p, "Hold the plan", "Enter")
	p.See("The plan waits for you.")
	focusIs(t, p, "Hold to go on")
	p.Press("Enter")
	focusIs(t, p, "Hold at 38 g")
	byKey(t, p, "Something went wrong", "Enter")
	byKey(t, p, "Throw this brew away", "Enter")
	focusIs(t, p, "Throw this brew away")
	byKey(t, p, "Cancel", "Enter")
	focusIs(t, p, "Throw this brew away")
	p.NotSee("It is gone for good")
	p.Resize(browser.PhoneSize)
	p.LargeText(1)
	p.Shot("trouble by keys")
	p.Axe()
}

// hear writes down all that a screen reader is told from now on.
const hear = `(() => {
	self.heard = [];
	self.hearing?.disconnect();
	const live = "[role=status], [role=alert], [aria-live]";
	const told = new Map();
	const say = region => {
		const text = region.textContent.replace(/\s+/g, " ").trim();
		if (text === (told.get(region) ?? "")) return;
		told.set(region, text);
		if (text) self.heard.push(text);
	};
	for (const region of document.querySelectorAll(live)) told.set(region, region.textContent.replace(/\s+/g, " ").trim());
	self.hearing = new MutationObserver(list => {
		for (const change of list) {
			const at = change.target.nodeType === 1 ? change.target : change.target.parentElement;
			if (at?.closest(live)) say(at.closest(live));
			for (const node of change.addedNodes) if (node.nodeType === 1) [node, ...node.querySelectorAll(live)].filter(n => n.matches(live)).forEach(say);
		}
	});
	self.hearing.observe(document.body, { childList: true, subtree: true, characterData: true });
})()`

func heard(t *testing.T, p *browser.Phone) (told []string) {
	t.Helper()
	if err := p.Eval("self.heard", &told); err != nil {
		t.Fatal(err)
	}
	return told
}

func listen(t *testing.T, p *browser.Phone) {
	t.Helper()
	if err := p.Eval(hear, nil); err != nil {
		t.Fatal(err)
	}
}

// TestWhatIsSpoken listens as a screen reader does: each step of a plan is told once as
// it begins, and so is the next bowl of a table; the seconds of neither are.
func TestWhatIsSpoken(t *testing.T) {
	e := newEvening(t, proc.Start(t))
	p := e.phone("mira")
	beginWithRecipe(p, "Penumbra", "Cone, three pours")
	p.Hold("Hold to start the clock", held)
	p.See("pour to reach 38 g")
	listen(t, p)
	p.SeeWithin(30*time.Second, "wait, until 0:40. then pour to 144 g at 0:40") // after the swirl
	told := heard(t, p)
	if len(told) == 0 || len(told) > 2 || !slices.Contains(told, "wait, until 0:40. then pour to 144 g at 0:40") {
		t.Errorf("while a bloom and a swirl pass it is told %q", told)
	}
	first := shownClock(t, p)
	until(t, "three seconds more", func() (bool, string) { return shownClock(t, p) >= first+3*time.Second, "" })
	if now := heard(t, p); len(now) != len(told) {
		t.Errorf("while one waits it is told %q", now[len(told):])
	}

	p.Follow("/bench/bowls")
	p.Fill("Another coffee", "from the pass")
	p.Tap("Add it")
	p.Tap("To the table: 1 bowl")
	p.See("Pour bowl 1")
	listen(t, p)
	p.Hold("Pour bowl 1", held)
	p.See("Break bowl 1")
	p.See("in 3:")
	told = heard(t, p)
	if len(told) != 1 || !strings.HasPrefix(told[0], "Break bowl 1, at ") {
		t.Errorf("of a bowl that waits it is told %q", told)
	}
}

// TestAHoldTapsNothingElse keeps the finger on the big button until another screen has
// come: what then lies under it is not tapped as the finger leaves.
func TestAHoldTapsNothingElse(t *testing.T) {
	e := newEvening(t, proc.Start(t))
	p := e.phone("altair")
	beginWithRecipe(p, "Tidal Lock", "Cone, three pours")
	p.Hold("Hold to start the clock", held)
	p.Tap("Something went wrong")
	var tapped int
	if err := p.Eval(`(self.tapped = 0, addEventListener("click", () => self.tapped++, true), undefined)`, nil); err != nil {
		t.Fatal(err)
	}
	p.Hold("Stop the clock now", 2*held)
	p.See("What came of it")
	if err := p.Eval("self.tapped", &tapped); err != nil || tapped != 0 {
		t.Errorf("as the finger leaves, something is tapped %d times: %v", tapped, err)
	}
	p.See("Take back: end")
	if got := fmt.Sprint(focused(p)); got == "nothing" {
		t.Error("the focus has fallen to the page")
	}
}
