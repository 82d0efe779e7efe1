package e2e

import (
	"strings"
	"testing"

	"hushcup/e2e/browser"
	"hushcup/e2e/proc"
)

// A water is read from a label, another from a test, and both become the water
// that the club brews with.
func TestAWaterIsReadMixedAndSetForTheClub(t *testing.T) {
	e := newEvening(t, proc.Start(t))
	vega := e.phone("vega")
	club := beginClub(vega, "Observatory", "Vega")
	link, _ := invite(vega, club)
	mira := e.phone("mira")
	join(mira, link, "Mira")

	vega.Follow("/cupboard/have/water/new")
	vega.Fill("Name", "tap in the valley")
	vega.Fill("Calcium, Ca", "120")
	vega.Fill("Bicarbonate, HCO₃", "36") // a digit lost
	vega.See("The charges differ by")
	vega.ShotWhole("a label that does not balance")
	vega.Fill("Bicarbonate, HCO₃", "366")
	vega.NotSee("The charges differ by")
	vega.See("300 mg/L as CaCO₃")
	vega.ShotWhole("a label")
	vega.Tap("Save")
	vega.NotSee("From the label, mg/L")

	vega.Follow("/cupboard/mix")
	vega.See("everything chosen brings more")
	vega.ShotWhole("hard water alone")
	vega.Tap("Pure water (distilled, deionised or reverse osmosis)")
	vega.Choose("Towards", "my own numbers")
	vega.Fill("Hardness", "75")
	vega.Fill("Alkalinity", "75")
	vega.See("This reaches the target.")
	vega.See("0.75 L, 75 %")
	vega.Fill("Make", "")
	vega.See("A number above is missing, or cannot be.")
	vega.NotSee("Choose a water to begin with")
	vega.Fill("Make", "4")
	vega.See("3 L, 75 %")
	vega.ShotWhole("mixed")
	vega.Fill("Name of the mixed water", "quarter tap")
	vega.Tap("Keep it as a water")
	vega.See("It stands in the Cupboard now.")
	vega.Fill("Make", "2")
	vega.See("1.5 L, 75 %")
	vega.NotSee("It stands in the Cupboard now.") // of another blend that is not true
	vega.Fill("Hardness", "100")
	vega.Tap("Salts to weigh in")
	vega.Tap("magnesium sulphate, MgSO₄ · 7 H₂O")
	vega.See("magnesium sulphate, MgSO₄ · 7 H₂O 0.124 g") // 25.1 mg/L of hardness, twice, over 4.118 and 98.6 mg of magnesium in a g
	vega.ShotWhole("with a salt")

	vega.Follow("/cupboard/have/concentrate/new")
	vega.Fill("Name", "buffer drops")
	vega.Fill("Weighed in", "600")
	vega.Tap("Save")
	vega.See("This is more salt than the water can hold.")
	var at string
	if err := vega.Eval(`document.querySelector(".field.wrong label")?.textContent ?? ""`, &at); err != nil || at != "Weighed in" {
		t.Errorf("too much salt is told at %q: %v", at, err)
	}
	vega.Fill("Weighed in", "6")
	vega.See("One millilitre to a litre brings")
	vega.Tap("Add a salt")
	vega.ShotWhole("a concentrate")
	vega.Tap("Save")
	vega.NotSee("Weighed in")

	vega.Follow(club.path + "/water")
	vega.See("No common water is set.")
	vega.Fill("Hardness", "75")
	vega.Fill("Alkalinity", "70")
	vega.Fill("How to make it", "three parts pure to one of tap")
	vega.ShotWhole("to be set")
	vega.Tap("Set this water")
	vega.See("Your Cupboard comes this near")
	vega.ShotWhole("set")
	saveTest(vega)
	vega.Follow(club.path + "/water")
	vega.See("Your Cupboard reaches it")
	var told string
	if err := vega.Eval(`document.getElementById(document.querySelector("fieldset.pick").getAttribute("aria-describedby"))?.textContent ?? ""`, &told); err != nil || told != "Only this word is shared, not your waters." {
		t.Errorf("who listens to what is told the club hears %q: %v", told, err)
	}
	vega.Tap("I can make it")

	mira.Follow(club.path + "/water")
	mira.See("three parts pure to one of tap")
	mira.See("No water stands in your Cupboard yet.")
	mira.See("can make it: 1, cannot: 0, have not said: 1")
	mira.Tap("I cannot make it")
	vega.See("can make it: 1, cannot: 1, have not said: 0")
	mira.ShotWhole("a member")
}

// saveTest reads a water from a test kit that speaks in German degrees.
func saveTest(p *browser.Phone) {
	p.Follow("/cupboard/have/water/new")
	p.Fill("Name", "rain from the dome")
	p.Tap("from a test")
	p.Choose("Unit", "°dH, German degrees")
	p.Fill("Hardness", "3,5")
	p.Fill("Alkalinity", "2")
	p.See("62 mg/L as CaCO₃")
	p.ShotWhole("a test")
	p.Tap("Save")
	p.NotSee("Unit")
}

// A brew of a club's sample begins with the club's water, which can be changed, and
// keeps it by its numbers; who cannot make it begins with their own.
func TestASampleIsBrewedWithTheClubsWater(t *testing.T) {
	h := newHome(t, proc.Start(t), "Mira")
	vega, mira := h.vega, h.others["Mira"]
	vega.Follow(h.club.path + "/water")
	vega.Fill("Hardness", "75")
	vega.Fill("Alkalinity", "50")
	vega.Tap("Set this water")
	vega.See("have not said: 2")
	brew := strings.Replace(h.sample, "/sample/", "/bench/new/", 1)
	const name = "Observatory's water: hardness 75, alkalinity 50 mg/L"

	mira.Follow(h.club.path + "/water")
	mira.See("Hardness 75 mg/L")
	mira.Follow(h.sample)
	mira.See("Sample")
	mira.Follow(brew)
	mira.See(name)
	mira.See("How the club's water is made")
	mira.ShotWhole("begins with it")
	mira.Fill("Dose", "15")
	mira.See("Keep one of them to taste again when you know it.")
	mira.Fill("Dose", "35")
	mira.See("Nothing is then left to taste again when you know it.")
	mira.Fill("Dose", "15")
	mira.Fill("Water", "240")
	mira.Tap("To the clock")
	mira.Hold("Hold to start the clock", held)
	mira.Hold("The bed is dry: stop", held)
	mira.Fill("Drawdown", "2:40")
	mira.Tap("Save the brew")
	mira.See(name)

	mira.Follow(brew)
	mira.Choose("Kind of water", "not said")
	mira.Fill("Dose", "15")
	mira.Tap("To the clock")
	mira.See("Hold to start the clock")
	mira.NotSee(name)

	mira.Follow(h.club.path + "/water")
	mira.Tap("I cannot make it")
	mira.See("cannot: 1")
	mira.Follow(brew)
	mira.See("Kind of water")
	mira.See("How the club's water is made")
	if begins := mira.Value("Kind of water"); begins == "club" {
		t.Error("who cannot make the club's water begins with it")
	}
}
