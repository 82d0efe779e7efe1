package e2e

import (
	"regexp"
	"strings"
	"testing"

	"hushcup/e2e/browser"
	"hushcup/e2e/proc"
)

// A kitchen is said in four answers without a network, and serves the first brew.
func TestAKitchenInHalfAMinute(t *testing.T) {
	e := newEvening(t, proc.Start(t))
	vega := e.phone("vega")
	installed(t, vega)
	vega.Offline(true)
	vega.Follow("/cupboard")
	vega.See("What is in your kitchen?")
	vega.Shot("asked")
	vega.Tap("cone, ribs, one large hole")
	vega.Tap("turns and clicks, as 1+12")
	vega.Fill("Clicks in a turn", "24")
	vega.Tap("tenths")
	vega.Fill("How high do you live?", "2350")
	vega.See("water boils at about 92 °C")
	vega.ShotWhole("answered")
	vega.Tap("Keep it")
	vega.NotSee("What is in your kitchen?")
	vega.See("water boils at about 92 °C")
	vega.ShotWhole("kept")

	vega.Follow("/cupboard/have/recipe/cone")
	vega.Choose("In which brewer", "Cone")
	vega.See("right off the boil: 92 °C here")
	vega.Tap("Brew this")
	vega.See("Cone, three pours")
	if dose := vega.Value("Dose"); dose != "15" {
		t.Errorf("the recipe is brewed with a dose of %q", dose)
	}
	vega.Choose("Which brewer", "Cone")
	vega.Choose("Which grinder", "Grinder")
	vega.Shot("brewed with it")
}

// A grinder, a brewer, a coffee and a recipe made by hand; tried, half filled in, and refused where they cannot be.
func TestThingsMadeByHand(t *testing.T) {
	e := newEvening(t, proc.Start(t))
	vega := e.phone("vega")
	makeThings(vega)

	vega.Follow("/cupboard/have/coffee")
	vega.Tap("Add a coffee")
	vega.Fill("Name", "Valley lot 3")
	vega.Fill("In the bag, new", "250,5")
	vega.Tap("More, if you know it")
	vega.Fill("Put aside", "300")
	vega.Tap("Save")
	vega.See("More is kept than is in the bag.")
	vega.Shot("refused")
	vega.Fill("Put aside", "30")
	vega.Tap("Save")
	vega.See("250.5 g left of 250.5 g")
	vega.Shot("coffees")

	writeRecipe(vega)
	vega.Axe()
	vega.ShotWhole("recipe")
	vega.Fill("For a dose of", "20")
	vega.See("to 300 g")
	if pages := vega.Print("recipe", browser.A4); pages != 1 {
		t.Errorf("a recipe is printed on %d pages", pages)
	}
}

// A field that goes from the screen takes what cannot be with it, and letters may be typed one by one.
func TestAScaleIsChosenAnew(t *testing.T) {
	e := newEvening(t, proc.Start(t))
	vega := e.phone("vega")
	vega.Follow("/cupboard/have/grinder/new")
	vega.Tap("letters, as C or C+2")
	vega.Fill("Its letters, in order", "C ")
	if letters := vega.Value("Its letters, in order"); letters != "C " {
		t.Errorf("the letters are %q: the next cannot be typed", letters)
	}
	vega.Fill("Its letters, in order", "C M F")
	vega.Fill("Type a setting of yours", "M")
	vega.See("M reads as 1 step from zero")
	vega.Fill("Clicks from letter to letter", "few")
	vega.Tap("clicks from zero, as 24")
	vega.Tap("Save")
	vega.NotSee("How it shows its setting")

	vega.Follow("/cupboard/have/water/new")
	vega.Fill("Calcium, Ca", "about 30")
	vega.Tap("from a test")
	vega.Choose("Unit", "mmol/L")
	vega.Fill("Hardness", "1")
	vega.Fill("Alkalinity", "1")
	vega.See("50 mg/L as CaCO₃")
	vega.ShotWhole("a test in mmol")
	vega.Tap("Save")
	vega.NotSee("How its numbers are known")

	vega.Follow("/cupboard/have/recipe")
	vega.See("15 g to 240 g, 3:00, 94 °C")
	vega.Follow("/cupboard/home")
	vega.Fill("Altitude", "2350")
	vega.Tap("Save")
	vega.NotSee("Units")
	vega.Follow("/cupboard/have/recipe")
	vega.See("15 g to 240 g, 3:00, 92 °C")
	vega.Follow("/cupboard/have/recipe/cone")
	vega.See("Step by step")
	var cut []string
	if err := vega.Eval(labelsCutOff, &cut); err != nil || len(cut) > 0 {
		t.Errorf("a drawing cuts off %q: %v", cut, err)
	}
}

// labelsCutOff are the words of drawings that reach beyond their drawing.
const labelsCutOff = `[...document.querySelectorAll("svg text")].filter((text) => {
	const label = text.getBoundingClientRect(), drawing = text.ownerSVGElement.getBoundingClientRect();
	return label.left < drawing.left - 1 || label.right > drawing.right + 1;
}).map((text) => text.textContent)`

func makeThings(p *browser.Phone) {
	p.Follow("/cupboard/have/grinder")
	p.Tap("Add a grinder")
	p.Fill("Name", "by the window")
	p.Tap("turns and clicks, as 1+12")
	p.Tap("Save")
	p.See("How many clicks are in a turn.")
	p.Fill("Clicks in a turn", "24")
	p.Fill("Type a setting of yours", "1 + 12")
	p.See("1+12 reads as 36 steps from zero; one step to either side: 1+11, 1+13.")
	p.ShotWhole("grinder")
	p.Tap("Save")
	p.NotSee("Clicks in a turn")
	p.Follow("/cupboard/have/grinder")
	p.See("turns and clicks, as 1+12")

	p.Follow("/cupboard/have/brewer")
	p.Tap("Add a brewer")
	p.Tap("press, inverted")
	p.Shot("brewer")
	p.Tap("Save")
	p.NotSee("Its shape")
	p.Follow("/cupboard/have/brewer")
	p.See("Press")
}

// writeRecipe writes a recipe by hand, from the one that a new one starts with.
func writeRecipe(p *browser.Phone) {
	p.Follow("/cupboard/have/recipe")
	p.Tap("Write a recipe")
	p.Fill("Name", "Valley, two pours")
	p.Fill("Dose", "12")
	p.Fill("Ratio", "15")
	p.See("180 g of water.")
	p.Choose("Add a step", "swirl")
	p.Tap("Add")
	p.Tap("2:45 swirl once")
	p.Tap("Up") // before it drains: the pour is still the last water
	p.See("1:15 swirl once")
	p.Axe()
	p.Tap("0:40–1:15 pour to 180 g")
	p.Fill("The scale then shows", "120")
	p.Tap("Save")
	p.See("The pours are not the whole water.")
	p.ShotWhole("faulty recipe")
	p.Fill("The scale then shows", "180")
	p.Tap("Save")
	p.See("Brew this")
	p.See("to 180 g")
}

var recipeLink = regexp.MustCompile(`http://\S+(/recipe#\S+)`)

// A recipe goes to somebody in no club, by a link that no server has seen; one that lost its end says so.
func TestARecipeGoesToAnotherPhone(t *testing.T) {
	e := newEvening(t, proc.Start(t))
	vega, mira := e.phone("vega"), e.phone("mira")
	writeRecipe(vega)
	vega.Tap("Send it")
	vega.See("The recipe as a link")
	vega.ShotWhole("sent")
	found := recipeLink.FindStringSubmatch(vega.Text())
	if found == nil {
		t.Fatal("there is no link on the screen")
	}
	mira.Open(found[1])
	mira.See("Valley, two pours")
	mira.See("It is kept here only if you want it.")
	mira.Axe()
	mira.ShotWhole("got")
	mira.Follow("/cupboard/have/recipe")
	mira.NotSee("Valley, two pours")
	mira.Follow(found[1])
	mira.Tap("Keep it in my Cupboard")
	mira.See("It is in your Cupboard.")
	mira.Tap("Open it there")
	mira.See("Brew this")
	mira.See("to 180 g")

	mira.Follow(found[1][:len(found[1])-12])
	mira.See("The link is not whole.")
	mira.Shot("damaged")
	mira.Follow(strings.Replace(found[1], "#1", "#2", 1))
	mira.See("made with a newer version of the app")
}

// What brews refer to is put away and comes back; a brew keeps what it was made with, whatever becomes of it.
func TestPutAwayAndBroughtBack(t *testing.T) {
	e := newEvening(t, proc.Start(t))
	vega := e.phone("vega")
	makeThings(vega)
	vega.Follow("/bench/new")
	vega.Fill("Coffee", "Orbital Blend")
	vega.Fill("Dose", "15")
	vega.Fill("Water", "250")
	vega.Choose("Which brewer", "Press")
	vega.Choose("Which grinder", "by the window")
	vega.Fill("Grind setting", "1+12")
	vega.Tap("To the clock")
	vega.Hold("Hold to start the clock", held)
	vega.Hold("Pressed or decanted: stop", held)
	vega.Fill("Drawdown", "2:40")
	vega.Tap("Save the brew")
	vega.See("Correct the outcome")
	brew := vega.Path()

	vega.Follow("/cupboard/have/grinder")
	vega.See("in one brew")
	vega.Tap("by the window")
	vega.Fill("Name", "in the dome")
	vega.Tap("Save")
	vega.NotSee("How it shows its setting")
	vega.See("in the dome")
	vega.Follow(brew)
	vega.See("by the window")
	vega.NotSee("in the dome")

	vega.Follow("/cupboard/have/grinder")
	vega.Tap("in the dome")
	vega.Tap("Remove it")
	vega.In("Remove it").Tap("Remove it")
	vega.See("Put away: 1")
	vega.Shot("put away")
	vega.Follow("/bench/new")
	vega.NotSee("in the dome")
	vega.Follow("/cupboard/have/grinder")
	vega.Tap("Put away: 1")
	vega.Tap("in the dome")
	vega.Tap("Bring it back")
	vega.NotSee("Bring it back")
	vega.Follow("/cupboard/have/grinder")
	vega.NotSee("Put away")
	vega.See("in the dome")
	vega.Follow(brew)
	vega.See("by the window")
}

// The water that a kitchen mostly uses is that of a brew which says no other.
func TestTheUsualWaterIsBrewedWith(t *testing.T) {
	e := newEvening(t, proc.Start(t))
	vega := e.phone("vega")
	saveWater(vega)
	vega.Follow("/cupboard/home")
	vega.Choose("Water", "spring below the dome")
	vega.Tap("Save")
	vega.NotSee("Units")
	brewOwn(vega, "Orbital Blend", "bergamot")
	vega.See("spring below the dome")
}

// Ounces and Fahrenheit are the person's choice, and the numbers stay what they were.
func TestOuncesAndFahrenheit(t *testing.T) {
	e := newEvening(t, proc.Start(t))
	vega := e.phone("vega")
	vega.Follow("/cupboard/home")
	vega.Fill("Altitude", "2350")
	vega.See("Water boils at about 92 °C.")
	vega.Tap("ounces")
	vega.Tap("°F")
	vega.ShotWhole("kitchen")
	vega.Axe()
	vega.Tap("Save")
	vega.See("No sample is waiting") // where it came from
	vega.Follow("/cupboard")
	vega.See("water boils at about 198 °F")
	vega.Follow("/cupboard/have/recipe/flat-bed")
	if dose := vega.Value("For a dose of"); dose != "0.635" {
		t.Errorf("18 g are shown as %q oz", dose)
	}
	vega.Fill("For a dose of", "1")
	vega.See("to 16 oz")
	vega.Shot("recipe in ounces")
}
