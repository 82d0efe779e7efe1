package e2e

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"hushcup/e2e/browser"
	"hushcup/e2e/proc"
)

// held is how long a finger rests on the big buttons of the Bench.
const held = 700 * time.Millisecond

// evening is a club of phones around a server.
type evening struct {
	t       *testing.T
	server  *proc.Server
	browser *browser.Browser
}

func newEvening(t *testing.T, server *proc.Server) *evening {
	return &evening{t: t, server: server, browser: browser.Launch(t)}
}

// phone takes a phone out of its box and opens the app on it: a notebook exists
// at once, without an account.
func (e *evening) phone(name string) *browser.Phone {
	e.t.Helper()
	p := e.browser.Phone(name, e.server.Address())
	p.Open("/")
	p.See("No sample is waiting")
	return p
}

// house is the address of a club as all its phones have it.
type house struct{ path string }

func beginClub(p *browser.Phone, name, person string) house {
	p.Tap("Club")
	p.Tap("Begin a club")
	p.Fill("The club's name", name)
	p.Fill("What to call you", person)
	p.Tap("Begin it")
	p.See("Invite somebody")
	return house{p.Path()}
}

// invite makes an invitation, waits until the server has it, and returns the
// link and the text that stand on the screen.
func invite(p *browser.Phone, c house) (link, text string) {
	p.Open(c.path)
	p.Tap("Invite somebody")
	p.Tap("Make the invitation")
	p.See("Scan this with the other phone's camera")
	p.NotSee("This device waits for the server")
	return linkOn(p)
}

var linkPattern = regexp.MustCompile(`http://\S+/(join|pair|recover)#(\S+)`)

func linkOn(p *browser.Phone) (link, text string) {
	found := linkPattern.FindStringSubmatch(p.Text())
	if found == nil {
		return "", ""
	}
	return found[0], found[2]
}

// join comes in with a link, and waits until the phone is in.
func join(p *browser.Phone, link, name string) {
	p.Open(link)
	p.See("You are invited to a club")
	p.Fill("What to call you", name)
	p.Tap("Come in")
	p.See("You are in")
	p.Tap("To the club")
	p.See("Members")
}

// beginFlight begins a flight and returns the address of its screen.
func beginFlight(p *browser.Phone, c house, title string) (flight string) {
	p.Open(c.path)
	p.Tap("Begin a flight")
	p.Fill("Its name", title)
	p.Fill("For everybody to know", "Two brews each, with water from the kitchen.")
	p.Tap("Begin the flight")
	p.See("No sample is sealed yet")
	return p.Path()
}

// lot is an invented lot of a real origin.
type lot struct {
	name, producer, note   string
	grams                  string
	origin, process, roast string
	variety                string
	low, high              string
}

var (
	firstLot = lot{name: "Comet Ridge", producer: "Halley Station", note: "bought from a meteor shower", grams: "60",
		origin: "Guji", process: "Washed", roast: "light", variety: "Ethiopian landraces", low: "1950", high: "2150"}
	secondLot = lot{name: "Quiet Meridian", producer: "Parallax Estate", note: "rested for three new moons", grams: "45",
		origin: "Cerrado Mineiro", process: "Natural", roast: "dark", variety: "Catuai", low: "900", high: "1100"}
)

// sealSample seals a lot into a flight, and returns the code that was drawn.
func sealSample(p *browser.Phone, flight string, l lot) (code string) {
	p.Open(flight)
	p.Tap("Seal a sample")
	fillSeal(p, l)
	p.Tap("Seal it")
	p.See("Its code is")
	p.See("Write this code on every portion")
	return codeOn(p)
}

func fillSeal(p *browser.Phone, l lot) {
	p.Fill("Grams for each home", l.grams)
	p.Choose("Added things and allergens", "nothing added, no allergen known")
	pick(p, "Where from", l.origin)
	pick(p, "Process", l.process)
	pick(p, "Variety", l.variety)
	p.Choose("Decaf", "Not decaffeinated")
	p.Choose("Roast", l.roast)
	p.Fill("Altitude, from", l.low)
	p.Fill("to", l.high)
	p.Fill("Lot or name of the coffee", l.name)
	p.Tap("Producer, roast date, meter, note")
	p.Fill("Producer", l.producer)
	p.Fill("Anything else", l.note)
}

// pick searches a name of the atlas and takes the first that is found.
func pick(p *browser.Phone, facet, name string) {
	p.Fill("Search: "+facet, name)
	if facet == "Where from" { // the others look alike
		p.Axe()
		p.FitsWidth("390 points, with places that were found")
	}
	p.Choose(facet, name)
}

func codeOn(p *browser.Phone) string {
	_, after, _ := strings.Cut(p.Text(), "Its code is")
	for _, word := range strings.Fields(after) {
		if len(word) == 3 && strings.Trim(word, "0123456789") == "" {
			return word
		}
	}
	return ""
}

// spoken is a code as a screen reader has it.
func spoken(code string) string { return strings.Join(strings.Split(code, ""), " ") }

// openSample goes to a sample from its flight.
func openSample(p *browser.Phone, flight, code string) (sample string) {
	p.Open(flight)
	p.TapRole("link", spoken(code))
	p.See("Sample " + code)
	return p.Path()
}

func guessLabel(name string) string { return fmt.Sprintf("How sure: %s", name) }

// say writes down how sure one is of the candidate at the end of the path of names
// that leads to it from the top, in the question that is open.
func say(p *browser.Phone, percent string, path ...string) {
	for _, name := range path {
		p.TapRole("button", name)
	}
	last := path[len(path)-1]
	p.In(guessLabel(last)).Fill("Exactly", percent)
}

// question turns the guess sheet to a question.
func question(p *browser.Phone, name string) { p.In("Questions").Tap(name) }

// table reads a table by its caption or the name of its region: the cells of each
// row after the row's first cell, by that cell.
func table(p *browser.Phone, caption string) map[string][]string {
	var rows [][]string
	err := p.Eval(fmt.Sprintf(`[...document.querySelectorAll("table")]
		.filter(t => [t.caption?.textContent, t.closest("[aria-label]")?.getAttribute("aria-label")].includes(%q))
		.flatMap(t => [...t.rows]).map(r => [...r.cells].map(c => c.innerText.replace(/\s+/g, " ").trim()))`, caption), &rows)
	if err != nil {
		return nil
	}
	cells := map[string][]string{}
	for _, row := range rows {
		cells[row[0]] = row[1:]
	}
	return cells
}

// seeCells waits until a row of a table has these cells.
func seeCells(t *testing.T, p *browser.Phone, caption, row string, want ...string) {
	t.Helper()
	var got []string
	if !soon(func() bool { got = table(p, caption)[row]; return slices.Equal(got, want) }) {
		t.Fatalf("%s: the row %q of %q is %q, want %q; on the screen: %s", p.Name(), row, caption, got, want, p.Text())
	}
}

// soon waits until something is so.
func soon(met func() bool) bool { return soonWithin(browser.Patience, met) }

func soonWithin(patience time.Duration, met func() bool) bool {
	for deadline := time.Now().Add(patience); !met(); time.Sleep(20 * time.Millisecond) {
		if time.Now().After(deadline) {
			return false
		}
	}
	return true
}
