package e2e

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"hushcup/e2e/browser"
	"hushcup/e2e/proc"
)

// notice has a letter beyond the basic plane, and one read from right to left.
const notice = "מתוק bergamot 🫖, and a long finish"

// TestABrewByTheGuide brews a recipe of more than five steps by touch alone, without a
// network; the tab is killed in the middle. The brew is saved, found again, brewed
// again with one change, and compared with the one before.
func TestABrewByTheGuide(t *testing.T) {
	e := newEvening(t, proc.Start(t))
	p := e.phone("lyra")
	installed(t, p)
	p.Offline(true)
	beginWithRecipe(p, "Orbital Blend", "Cone, three pours")
	p.See("Bloom to 38 g, pour to 144 g, pour to 240 g, through at about 3:00")
	p.See("no browser promises sound")
	p.ShotWhole("ready")
	p.Axe()
	p.Tap("Hear the two sounds")
	p.See("Nothing heard?")
	p.Hold("Hold to start the clock", held)
	p.See("pour to reach 38 g")
	var large string
	if err := p.Eval(`[...document.querySelectorAll(".guide-large > *")].map(part => part.textContent.trim()).join("|")`, &large); err != nil || large != "38|g" {
		t.Errorf("a number and its unit are set as %q, %v", large, err)
	}
	p.Shot("bloom")
	p.Axe()
	p.Hold("Hold at 38 g", held)
	p.See("Take back: poured")
	p.Tap("Take back: poured") // a drip after all
	p.See("Taken back: poured")
	p.Hold("Hold at 38 g", held)
	p.See("Hold when done: swirl")

	p.KillTab()
	time.Sleep(9 * time.Second) // the swirl at 0:10 falls into it
	p.Reopen("/")
	p.TapRole("link", "Orbital Blend")
	p.See("The clock ran while you were away. What happened?")
	p.See("0:10 swirl twice")
	p.ShotWhole("what happened")
	p.Axe()
	p.Tap("As planned")
	p.NotSee("What happened?")
	for _, touch := range []string{"Hold as you pour", "Hold at 144 g", "Hold as you pour", "Hold at 240 g", "Hold when done: swirl"} {
		p.Hold(touch, held)
	}
	p.See("as planned, within")
	p.Shot("drain")
	p.Hold("The bed is dry: stop", held)

	p.See("What came of it")
	p.Fill("Drawdown", "2:50")
	p.Fill("In the cup", "206,5")
	p.Fill("TDS", "1,32")
	p.Tap("bitter") // in the middle of its line
	p.Fill("What you noticed", notice)
	p.ShotWhole("outcome")
	p.Axe()
	p.Tap("Save the brew")
	p.See("Correct the outcome")
	p.See(notice)
	p.See("206.5 g")
	p.See("EY 18.2 %")
	p.See("bitter: in agreement")
	p.See("on this device")
	p.Tap("Step by step")
	p.See("pour to 144 g")
	p.ShotWhole("saved")
	p.Axe()
	var cut string
	if err := p.Eval(wordsCutOff, &cut); err != nil || cut != "" {
		t.Errorf("the drawing cuts off %q (%v)", cut, err)
	}

	p.Reopen("/bench")
	p.TapRole("link", "Orbital Blend 15 g")
	p.See(notice)
	again(p)
	p.See("One thing changed")
	p.See("Against the brew before")
	p.ShotWhole("changed")
	p.Tap("Side by side")
	p.See("22")
	p.See("24")
	p.ShotWhole("side by side")
}

// wordsCutOff are the words of a drawing that lie over its edge.
const wordsCutOff = `[...document.querySelectorAll("figure svg text")].filter(word => {
	const box = word.getBoundingClientRect(), all = word.ownerSVGElement.getBoundingClientRect();
	return box.left < all.left || box.right > all.right;
}).map(word => word.textContent).join(" ")`

// TestWhatWasTypedOfABrew writes times that cannot be, before and after the clock is
// stopped, and looks at something else in between: what is wrong is said at its field,
// and what was written still stands there.
func TestWhatWasTypedOfABrew(t *testing.T) {
	e := newEvening(t, proc.Start(t))
	p := e.phone("lyra")
	beginWithRecipe(p, "Apogee", "Cone, three pours")
	p.Hold("Hold to start the clock", held)
	p.Hold("Hold at 38 g", held)
	p.KillTab()
	time.Sleep(9 * time.Second) // the swirl at 0:10 falls into it
	p.Reopen("/")
	p.TapRole("link", "Apogee")
	p.Tap("Poured at about")
	p.Fill("swirl twice: at about", "9:00")
	p.See("You were back at 0:")
	p.ShotWhole("later than now")
	pressable(t, p, "Keep these times", false)
	p.Tap("Cancel")
	p.Tap("Poured at about")
	p.Fill("swirl twice: at about", "0:08")
	p.NotSee("You were back at 0:")
	p.Tap("Keep these times")
	p.NotSee("What happened?")
	p.Tap("Something went wrong")
	p.Hold("Stop the clock now", held)
	p.See("What came of it")

	p.Fill("What you noticed", notice)
	p.Fill("TDS", "1,32")
	p.Follow("/practice")
	p.NotSee("What came of it")
	p.Follow("/bench")
	p.See(", stopped")
	p.TapRole("link", "Apogee 15 g") // the other one is the cup, which cools
	p.See("What came of it")
	if said, tds := p.Value("What you noticed"), p.Value("TDS"); said != notice || tds != "1.32" {
		t.Errorf("after a look elsewhere there is %q, and TDS %q", said, tds)
	}
	var direction string
	if err := p.Eval(`getComputedStyle(document.querySelector("textarea")).direction`, &direction); err != nil || direction != "rtl" {
		t.Errorf("notes that begin from the right run %s (%v)", direction, err)
	}
	p.Tap("More: the bed, water added, pours")
	p.Fill("Pour 1 began at", "soon")
	pressable(t, p, "Save the brew", false)
	p.Fill("Pour 1 began at", "0:01")
	p.Fill("Drawdown", "2:40")
	p.Tap("Save the brew")
	p.See("Correct the outcome")
	p.See(notice)
}

// pressable says whether a button of the screen should take a press.
func pressable(t *testing.T, p *browser.Phone, name string, want bool) {
	t.Helper()
	var is bool
	if err := p.Eval(`![...document.querySelectorAll("button")].find(button => button.textContent === "`+name+`").disabled`, &is); err != nil || is != want {
		t.Errorf("that %q takes a press is %v (%v)", name, is, err)
	}
}

// beginWithRecipe goes to the guide with a coffee of one's own.
func beginWithRecipe(p *browser.Phone, coffee, recipe string) {
	p.Tap("Bench")
	p.Tap("Start a brew")
	p.Tap("I have read this")
	p.Fill("Coffee", coffee)
	p.Choose("Recipe", recipe)
	p.Fill("Grind setting", "22")
	p.Tap("To the clock")
}

// again brews the same with a coarser grind, and stops the clock at once.
func again(p *browser.Phone) {
	p.Tap("Brew it again")
	p.See("Nothing changed")
	p.Fill("Grind setting", "24")
	p.See("One thing changed")
	p.See("grind: 22 to 24")
	p.ShotWhole("again")
	p.Fill("Dose", "14")
	p.See("More than one thing changed")
	p.Fill("Dose", "15")
	p.NotSee("More than one thing changed")
	p.Tap("To the clock")
	p.Hold("Hold to start the clock", held)
	p.Tap("Something went wrong")
	p.Hold("Stop the clock now", held)
	p.See("What came of it")
	p.Fill("Drawdown", "2:40")
	p.Tap("Save the brew")
	p.See("Correct the outcome")
}

// TestFromOpeningToPouring counts the touches between the app's opening and the water,
// with last time's setup: at most four.
func TestFromOpeningToPouring(t *testing.T) {
	e := newEvening(t, proc.Start(t))
	p := e.phone("mira")
	beginWithRecipe(p, "Perihelion", "Flat bed, four even pours")
	p.Hold("Hold to start the clock", held)
	p.Tap("Something went wrong")
	p.Hold("Stop the clock now", held)
	p.Fill("Drawdown", "3:20")
	p.Tap("Save the brew")
	p.See("Correct the outcome")
	p.CloseTab()

	p.Reopen("/")
	touches := 0
	touch := func(how func()) { touches++; how() }
	touch(func() { p.Tap("Brew again: Perihelion") })
	touch(func() { p.Tap("To the clock") })
	touch(func() { p.Hold("Hold to start the clock", held) })
	p.See("pour to reach 45 g")
	p.Shot("pouring")
	if touches > 4 {
		t.Errorf("from opening to pouring it takes %d touches", touches)
	}
}

// TestSomethingWentWrong holds a plan, lets it go on, and gives the brew up: it is kept,
// and nothing is learned from it until its owner says so.
func TestSomethingWentWrong(t *testing.T) {
	e := newEvening(t, proc.Start(t))
	p := e.phone("altair")
	beginWithRecipe(p, "Tidal Lock", "Cone, three pours")
	p.Hold("Hold to start the clock", held)
	p.Tap("Something went wrong")
	p.Tap("Hold the plan")
	p.See("The plan waits for you.")
	p.Shot("held")
	p.Axe()
	p.Hold("Hold to go on", held)
	p.See("pour to reach 38 g")
	if err := p.Eval(wetCloth, nil); err != nil {
		t.Fatal(err)
	}
	if !p.Has("Hold at 38 g") {
		t.Errorf("a cloth has marked something: %s", p.Text())
	}
	p.Hold("Hold at 38 g", held) // and a finger does, afterwards
	p.See("Hold when done: swirl")
	p.Tap("Something went wrong")
	p.Tap("Give it up and keep it")
	p.Fill("What went wrong", "the filter tore")
	p.Tap("Give it up")
	p.See("given up")
	p.See("the filter tore")
	p.See("nothing is learned from it")
	p.ShotWhole("given up")
	p.Tap("Put it back")
	p.See("learn from this brew")
	p.Tap("Leave it out")
	p.See("nothing is learned from it")
}

// wetCloth wipes over the big button: two contacts at once, each longer than a hold,
// one of them beside the button; then one that slides.
const wetCloth = `(async () => {
	const button = document.querySelector("button.hold.tall");
	const box = button.getBoundingClientRect();
	const touch = (what, on, pointerId, across = 0) => on.dispatchEvent(new PointerEvent(what, {
		bubbles: true, pointerType: "touch", pointerId, clientX: box.x + 60 + across, clientY: box.y + 60,
	}));
	const long = () => new Promise(done => setTimeout(done, 600));
	touch("pointerdown", button, 71);
	touch("pointerdown", document.body, 72);
	await long();
	touch("pointerup", document.body, 72);
	touch("pointerdown", button, 73); // the first one still lies there
	await long();
	touch("pointerup", button, 71);
	touch("pointerup", button, 73);
	touch("pointerdown", button, 74);
	touch("pointermove", button, 74, 90);
	await long();
	touch("pointerup", button, 74, 90);
})()`

// TestAClockThatIsSet sets the phone's clock an hour forward, and then back by a day,
// while a brew runs. Forward looks as if the phone had slept, so the guide goes on by
// its own count and asks; back can be nothing else.
func TestAClockThatIsSet(t *testing.T) {
	e := newEvening(t, proc.Start(t))
	p := e.phone("rigel")
	beginWithRecipe(p, "Zodiacal Light", "Cone, three pours")
	p.Hold("Hold to start the clock", held)
	p.See("pour to reach")
	p.SetClock(time.Hour)
	p.Hold("Hold at 38 g", held)
	p.See("Was this phone's clock set?")
	p.ShotWhole("clock set")
	p.Axe()
	first := shownClock(t, p)
	p.Tap("Go by this screen's count")
	p.NotSee("Was this phone's clock set?")
	p.SetClock(-26 * time.Hour)
	p.Hold("Hold when done: swirl", held)
	p.See("Hold as you pour")
	second := shownClock(t, p)
	if first > time.Minute || second < first || second > time.Minute {
		t.Errorf("with a clock that was set the brew shows %v, then %v", first, second)
	}
	p.NotSee("Was this phone's clock set?")
	p.Tap("Something went wrong")
	p.Hold("Stop the clock now", held)
	p.See("What came of it")
	if stopped := p.Value("Drawdown"); !strings.HasPrefix(stopped, "0:") {
		t.Errorf("with a clock that was set the brew took %s", stopped)
	}
	if p.Sees("What happened?") {
		t.Errorf("its owner has said how long it took, and is asked: %s", p.Text())
	}
}

// shownClock reads the time that the guide shows.
func shownClock(t *testing.T, p *browser.Phone) time.Duration {
	t.Helper()
	var shown string
	if err := p.Eval(`document.querySelector("[role=timer]").textContent`, &shown); err != nil {
		t.Fatal(err)
	}
	var seconds int
	for _, part := range strings.Split(shown, ":") { // hours, where there are any
		n, err := strconv.Atoi(part)
		if err != nil {
			t.Fatalf("the clock shows %q", shown)
		}
		seconds = 60*seconds + n
	}
	return time.Duration(seconds) * time.Second
}

// TestNumbersThatCannotBe types what cannot be, and what is hardly meant: the first is
// refused at its field, the second asked about, and nothing that was typed is lost.
func TestNumbersThatCannotBe(t *testing.T) {
	server := proc.Start(t, "-demo")
	e := newEvening(t, server)
	p := e.phone("vega")
	comeBack(p, linkOf(t, server, "Vega")) // water boils at about 92 °C there
	p.Follow("/bench/new")
	p.See("To the clock")
	for _, wrong := range []struct{ field, typed, says string }{
		{"Kettle", "130", "From 1 to 102 °C."},
		{"Dose", "-5", "From 0.3 to 1000 g."},
		{"Dose", "a lot", "This is not a number."},
		{"Dose", "1.234,5", "This is not a number."},
	} {
		before := p.Value(wrong.field)
		p.Fill(wrong.field, wrong.typed)
		p.See(wrong.says)
		if kept := p.Value(wrong.field); kept != wrong.typed {
			t.Errorf("%s of %q was changed to %q", wrong.field, wrong.typed, kept)
		}
		p.Fill(wrong.field, before)
		p.NotSee(wrong.says)
	}
	p.Fill("Kettle", "100")
	p.See("100 °C is unusual. Is it right?")
	p.Tap("To the clock")
	p.See("Kettle: at your home water boils at")
	p.Shot("questioned")
	p.Fill("Kettle", "91,5")
	p.Fill("Dose", "150")
	p.See("150 g is unusual. Is it right?")
	p.Tap("To the clock")
	p.See("Dose: more than 80 g is unusual. Is it right?")
	p.Fill("Dose", "15,5")
	p.Tap("To the clock")
	p.See("Hold to start the clock")
	p.See("15.5 g")
	p.See("91.5 °C")

	p.Hold("Hold to start the clock", held)
	p.Tap("Something went wrong")
	p.Hold("Stop the clock now", held)
	p.Fill("Drawdown", "2:40")
	p.Fill("TDS", "14")
	p.See("14 % is unusual. Is it right?")
	p.Tap("Save the brew")
	p.See("TDS with this dose and water: more than 45 % of the coffee in the cup cannot be.") // more than was in the coffee
	p.Fill("TDS", "1,4")
	p.Fill("What you noticed", notice)
	p.Tap("Save the brew")
	p.See("Correct the outcome")
	p.See(notice)
	p.See("1.4 %")
}
