package e2e

import (
	"testing"
	"time"

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
	p.Fill("What is there?", "pale, a little oil") // and not added
	p.Reload()
	p.Tap("Keep these words")
	p.See("What you noticed")
	p.See("even, pale, a little oil")
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
	p.Choose("Recipe", "Without a recipe: a clock and marks")
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

// TestTwoAtOnce brews a second time while the first cup cools: both stay in sight on
// every screen, also after the tab was killed, and the cup calls when it is good to
// taste.
func TestTwoAtOnce(t *testing.T) {
	server := proc.Start(t)
	e := newEvening(t, server)
	p := e.phone("vega")
	installed(t, p)
	p.Offline(true)
	brewOwn(p, "from the valley shop", "")
	p.Tap("What I notice")
	p.See("Two temperatures of this cup")
	reads(p, "71")
	p.See("One more, a few minutes later")
	time.Sleep(11 * time.Second) // a cup in a mountain wind
	reads(p, "63")
	p.See("notes")
	p.ShotWhole("cup that cools")
	p.See("above 65 °C")

	p.Follow("/bench/new")
	p.Choose("Which coffee", "something else")
	p.Fill("Coffee", "from the pass")
	p.Tap("To the clock")
	p.Hold("Hold to start the clock", held)
	p.SeeWithin(40*time.Second, "from the valley shop: about 55 °C, warm notes now")
	p.Shot("brewing beside a call")
	p.KillTab()
	p.Reopen("/")
	p.See("from the valley shop")
	p.See("from the pass")
	p.Shot("tonight with two")
	p.Follow("/practice")
	p.In("Brews that run and cups that cool").Tap("from the pass")
	p.Follow("/cupboard")
	p.Resize(browser.NarrowSize)
	p.FitsWidth("320 points")
	p.Shot("two on a narrow phone")
	p.LargeText(2)
	p.FitsWidth("320 points and text of twice the size")
	p.Shot("two, large")
	p.LargeText(1)
	p.Resize(browser.PhoneSize)
	p.Axe()
	p.In("Brews that run and cups that cool").Tap("from the valley shop")
	notices(p, "cedar")
	p.Tap("Keep these words")
	p.See("cedar")
}

// reads writes down a temperature of the cup.
func reads(p *browser.Phone, celsius string) {
	p.Fill("The cup has now", celsius)
	p.Tap("Write it down")
	p.See(celsius + " °C,")
}

// TestATableOfBowls pours and breaks four bowls by touch alone; the tab is killed in
// the middle.
func TestATableOfBowls(t *testing.T) {
	server := proc.Start(t)
	e := newEvening(t, server)
	p := e.phone("vega")
	p.Open("/bench")
	p.Tap("Bowls side by side")
	p.Tap("I have read this")
	for _, coffee := range []string{"from the valley shop", "from the pass"} {
		p.Fill("Another coffee", coffee)
		p.Tap("Add it")
		p.Tap("One bowl more of " + coffee)
	}
	p.See("Caffeine, estimated: 88–440 mg") // a quarter of four times 11 g, with 0.8 to 4 % of it
	p.See("Tasting by the spoon counts as a quarter of each bowl.")
	p.ShotWhole("bowls to be set")
	p.Axe()
	installed(t, p)
	p.Offline(true)
	p.Tap("To the table: 4 bowls")
	p.Hold("Pour bowl 1", held)
	p.Hold("Pour bowl 2", held)
	p.See("Take back: poured, bowl 2")
	p.Shot("two are poured")
	p.Tap("Take back: poured, bowl 2")
	p.Hold("Pour bowl 2", held)
	p.See("Pour bowl 3")

	p.KillTab()
	p.Reopen("/")
	p.TapRole("link", "2 bowls")
	p.Hold("Pour bowl 3", held)
	p.Hold("Pour bowl 4", held)
	p.See("Break bowl 1") // in its time, and when a hand is early, now
	p.See("in 3:")
	p.Shot("all are poured")
	p.Axe()
	p.Hold("Break bowl 1", held)
	p.See("Break bowl 2")
	p.Tap("Bowl 4") // out of turn
	p.Hold("Break bowl 4", held)
	p.Hold("Break bowl 2", held)
	p.Hold("Break bowl 3", held)
	for _, bowl := range []string{"1", "4", "2", "3"} {
		p.Tap("Bowl " + bowl)
		p.Hold("Skim bowl "+bowl, held)
	}
	p.See("Not above 65 °C.")
	p.Shot("all are skimmed")
	p.Resize(browser.NarrowSize)
	p.FitsWidth("320 points")
	p.LargeText(2)
	p.FitsWidth("320 points and text of twice the size")
	p.Shot("large")
	p.LargeText(1)
	p.Resize(browser.PhoneSize)
	p.Dusk(true)
	p.Shot("dusk")
	p.Axe()
	p.Dusk(false)
	p.Hold("Taste bowl 1", held)
	p.Tap("Keep all bowls")
	p.Tap("Keep them now")
	p.Tap("Done")
	p.See("from the pass")
	p.Shot("the bench afterwards")
}

// TestACoffeeAddedTwice says the same coffee twice: it is one coffee, in two bowls.
func TestACoffeeAddedTwice(t *testing.T) {
	p := newEvening(t, proc.Start(t)).phone("vega")
	p.Follow("/bench/bowls")
	p.Tap("I have read this")
	for range 2 {
		p.Fill("Another coffee", "from the pass")
		p.Tap("Add it")
	}
	p.See("To the table: 2 bowls")
	p.Tap("One bowl less of from the pass") // one such button
	p.See("To the table: 1 bowl")
}

// TestATableThatIsLeft pours two bowls and goes away: hours later the table follows
// nobody about any more, is asked about where there is room for it, and ends.
func TestATableThatIsLeft(t *testing.T) {
	e := newEvening(t, proc.Start(t))
	p := e.phone("rigel")
	p.Follow("/bench/bowls")
	p.Tap("I have read this")
	p.Fill("Another coffee", "from the pass")
	p.Tap("Add it")
	p.Tap("One bowl more of from the pass")
	p.Tap("To the table: 2 bowls")
	p.See("Throw this table away")
	p.Hold("Pour bowl 1", held)
	p.Hold("Pour bowl 2", held)
	p.Follow("/practice")
	p.See("bowl 1: break the crust in")
	p.SetClock(4 * time.Hour)
	if err := p.Eval(`dispatchEvent(new Event("online"))`, nil); err != nil { // as when somebody takes it up again
		t.Fatal(err)
	}
	p.Follow("/")
	p.See("is it over?")
	p.Shot("tonight")
	p.Follow("/practice")
	p.NotSee("2 bowls")
	p.Follow("/bench")
	p.TapRole("link", "2 bowls")
	p.See("2 bowls have stood here since")
	p.Shot("asked")
	p.Axe()
	p.Tap("Keep them")
	p.See("kept")
	p.Tap("Done")
	p.See("Brewed lately")
	p.NotSee("is it over?")
}
