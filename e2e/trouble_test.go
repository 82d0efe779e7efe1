package e2e

import (
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"hushcup/e2e/browser"
	"hushcup/e2e/native"
	"hushcup/e2e/proc"
	"hushcup/pwa/app"
)

// What goes wrong in a club, and what its phones then say: each of these has an
// answer in plain words, and nothing that was saved is lost.

// A member is taken out: the phone is told and reads nothing new; the others go on,
// and what the member guessed before still scores.
func TestAMemberIsTakenOut(t *testing.T) {
	e := newEvening(t, proc.Start(t))
	vega := e.phone("vega")
	club := beginClub(vega, "Observatory", "Vega")
	link, _ := invite(vega, club)
	mira, lyra := e.phone("mira"), e.phone("lyra")
	join(mira, link, "Mira")
	join(lyra, link, "Lyra")
	flight := beginFlight(vega, club, "First light")
	first := sealSample(vega, flight, firstLot)
	sample := openSample(mira, flight, first)
	guess(mira, sample, "Washed", "60")

	mira.Follow(club.path)
	takeOut(vega, club, "Mira")
	vega.Shot("member taken out")
	mira.See("You were taken out of this club")
	mira.See("on this device; you were taken out")
	mira.NotSee("shared")
	mira.Shot("told")

	second := sealSample(vega, flight, secondLot)
	guess(lyra, openSample(lyra, flight, second), "Natural", "70")
	guess(lyra, sample, "Washed", "80")
	mira.Reload() // with a connection that the server has just answered, and everything that it would give
	mira.See("You were taken out of this club")
	mira.Follow(flight)
	mira.See("First light")
	mira.See(first)
	mira.Shot("flight of who is out")
	if mira.Sees(second) {
		t.Errorf("who was taken out reads of a new sample: %s", mira.Text())
	}

	vega.Follow(flight)
	vega.Tap("Unseal all that you can")
	vega.In("Unseal all that you can").Tap("Unseal all that you can")
	vega.See("Guji")
	for _, p := range []*browser.Phone{vega, lyra} {
		p.Follow(sample + "/open")
		p.See("together")
		scored(t, p, "Mira")
	}
	vega.Shot("scores of who is out")
	mira.Follow(sample + "/open")
	mira.See("It was sealed when you were taken out of the club.")
	mira.See("on this device; you were taken out")
	if mira.Sees("still sealed") || mira.Sees("shared") {
		t.Errorf("who is out is told more than their phone knows: %s", mira.Text())
	}
	mira.Shot("not for who is out")
}

// takeOut removes a member, as an organiser.
func takeOut(p *browser.Phone, c house, name string) {
	p.Follow(c.path)
	p.TapRole("link", name)
	p.Tap("Take out of the club")
	p.See("They read nothing new from then on")
	p.In("Take out of the club").Tap("Take out of the club")
	p.See("Members")
	p.See("taken out")
}

// scored fails where a member has no factor in the table of a result.
func scored(t *testing.T, p *browser.Phone, name string) {
	t.Helper()
	cells := table(p, "The table")[name]
	if text := strings.Join(cells, " "); !strings.ContainsAny(text, "×÷") {
		t.Errorf("%s shows %q for %s: no score; on the screen: %s", p.Name(), cells, name, p.Text())
	}
}

// Two tabs at once: one of them has the notebook, and which one is the person's
// choice. What was saved in either is there in the other.
func TestTwoTabsAtOnce(t *testing.T) {
	p := alone(t, "altair")
	first, second := p.Tab, p.NewTab()
	ownBrew(first, "Orbital Blend")

	second.Open("/bench")
	second.See("Hushcup is open in another tab")
	p.Tab = second
	p.Shot("open elsewhere")
	second.Tap("Use it here")
	second.See("Orbital Blend")
	first.See("Hushcup is open in another tab")
	if first.Sees("Orbital Blend") {
		t.Errorf("the tab that lost the notebook still shows: %s", first.Text())
	}
	ownBrew(second, "Tidal Lock")

	first.Tap("Use it here")
	second.See("Hushcup is open in another tab")
	first.Follow("/bench/log")
	first.See("Tidal Lock")
	first.See("Orbital Blend")
	ownBrew(first, "Perihelion")

	p.Tab = first
	p.Reopen("/bench/log") // the other one waits in line, and would come first
	p.SeeOneOf("Perihelion", "Hushcup is open in another tab")
	if p.Sees("Hushcup is open in another tab") {
		p.Tap("Use it here")
	}
	for _, coffee := range []string{"Perihelion", "Tidal Lock", "Orbital Blend"} {
		p.See(coffee)
	}
	p.Shot("all brews")
}

// ownBrew brews a coffee of one's own and saves it.
func ownBrew(tab *browser.Tab, coffee string) {
	toClock(tab, coffee)
	outcome(tab)
	tab.Tap("Save the brew")
	tab.See("Correct the outcome")
}

// toClock writes down what a brew is made with.
func toClock(tab *browser.Tab, coffee string) {
	tab.Follow("/bench/new")
	ownCoffee(tab, coffee)
	tab.Fill("Dose", "15")
	tab.Fill("Water", "250")
	tab.Tap("To the clock")
}

// ownCoffee writes down a coffee that is not in the Cupboard yet.
func ownCoffee(tab *browser.Tab, coffee string) {
	if tab.SeeOneOf("Which coffee", "In your own words"); tab.Has("Which coffee") {
		tab.Choose("Which coffee", "something else")
	}
	tab.Fill("Coffee", coffee)
}

// outcome runs the clock, and writes down what came of it.
func outcome(tab *browser.Tab) {
	tab.Hold("Hold to start the clock", held)
	tab.Hold("The bed is dry: stop", held)
	tab.See("What came of it")
	tab.Fill("Drawdown", "2:40")
}

// A full disk is said in words, at each step. What was saved stays readable, what
// stands in the form stays there, and goes to the disk when there is room again.
func TestAFullDisk(t *testing.T) {
	e := newEvening(t, proc.Start(t))
	p := e.browser.Phone("deneb", e.server.Address())
	p.Quota(smallDisk)
	p.Open("/")
	p.See("No sample is waiting")
	ownBrew(p.Tab, "Orbital Blend")

	fillDisk(t, p)
	toClock(p.Tab, "Perihelion")
	noRoom(t, p)
	p.Shot("no room for a brew")
	p.Quota(2 * smallDisk)
	p.Tap("To the clock")
	outcome(p.Tab)

	fillDisk(t, p)
	p.Fill("What you noticed", "quince, and room for more")
	p.Tap("Save the brew")
	noRoom(t, p)
	if p.Sees("Correct the outcome") {
		t.Errorf("a brew that was not saved is shown as saved: %s", p.Text())
	}
	p.Shot("no room for its outcome")
	p.Quota(3 * smallDisk)
	p.Tap("Save the brew")
	p.See("Correct the outcome")

	fillDisk(t, p)
	p.Reload() // on a start without room, what is there can still be read
	p.See("quince, and room for more")
	p.Follow("/bench/log")
	p.See("Perihelion")
	p.See("Orbital Blend")
	p.Shot("read without room")
	toClock(p.Tab, "Tidal Lock")
	noRoom(t, p)
	p.Quota(-1)
	p.Tap("To the clock")
	outcome(p.Tab)
	p.Tap("Save the brew")
	p.See("Correct the outcome")
	p.Follow("/bench/log")
	p.See("Tidal Lock")
	p.See("Perihelion")
	p.See("Orbital Blend")
}

// smallDisk is the room that a phone has for the app at first, in bytes.
const smallDisk = 32 << 20

// fillDisk takes the rest of the room away. Chromium remembers for a while how much
// room it has granted: that is used up, too.
func fillDisk(t *testing.T, p *browser.Phone) {
	t.Helper()
	p.Quota(1)
	var full bool
	if err := p.Eval(`new Promise((done, fail) => {
		const opening = indexedDB.open("filler", 1);
		opening.onupgradeneeded = () => opening.result.createObjectStore("blocks", { autoIncrement: true });
		opening.onerror = () => fail(opening.error);
		opening.onsuccess = () => write(opening.result, 1 << 20);
		function write(db, size) {
			if (size < 1) { db.close(); return done(true) }
			const block = new Uint8Array(size);
			for (let i = 0; i < size; i += 65536) crypto.getRandomValues(block.subarray(i, i + 65536));
			const tx = db.transaction("blocks", "readwrite", { durability: "relaxed" });
			tx.objectStore("blocks").add(block);
			tx.oncomplete = () => write(db, size);
			tx.onabort = () => tx.error?.name === "QuotaExceededError" ? write(db, size >> 1) : fail(tx.error);
		}
	})`, &full); err != nil || !full {
		t.Fatalf("the disk of %s does not fill: %v", p.Name(), err)
	}
}

// noRoom waits for the sentence about a full disk.
func noRoom(t *testing.T, p *browser.Phone) {
	t.Helper()
	p.See("This device has no room left, so nothing was saved.")
	p.See("What was saved before is safe.")
	if p.Sees("Saved on this device") {
		t.Errorf("%s says both that it saved and that it did not: %s", p.Name(), p.Text())
	}
}

// An invitation that is used up, over or ended lets nobody in, and the phone at the
// door says which of the three it is.
func TestInvitationsThatAreOver(t *testing.T) {
	server := proc.Start(t)
	e := newEvening(t, server)
	vega := e.phone("vega")
	club := beginClub(vega, "Observatory", "Vega")
	over := overSoon(t, server)
	spent := inviteOne(vega, club)
	lyra := e.phone("lyra")
	join(lyra, spent, "Lyra")
	revoked := inviteOne(vega, club)
	vega.Follow(club.path)
	vega.Tap("End this invitation")
	vega.In("End this invitation").Tap("End this invitation")
	vega.NotSee("End this invitation")
	vega.Shot("ended")
	allShared(vega)

	rigel := e.phone("rigel")
	turnedAway(rigel, spent, "Rigel", "This invitation is used up. Ask your organiser for another.")
	turnedAway(rigel, revoked, "", "This invitation was ended. Ask your organiser for another.")
	if !soon(func() bool { return time.Now().UnixMilli() > over.Expires }) {
		t.Fatalf("the invitation is not over by %v", time.UnixMilli(over.Expires))
	}
	turnedAway(rigel, over.Link, "", "This invitation is over. Ask your organiser for another.")

	vega.Follow(club.path)
	vega.See("Lyra")
	if vega.Sees("Rigel") {
		t.Errorf("who was turned away is in: %s", vega.Text())
	}
}

// inviteOne makes an invitation for one person.
func inviteOne(p *browser.Phone, c house) (link string) {
	p.Follow(c.path)
	p.Tap("Invite somebody")
	p.Fill("For how many", "1")
	p.Tap("Make the invitation")
	p.See("Scan this with the other phone's camera")
	p.NotSee("This device waits for the server")
	link, _ = linkOn(p)
	return link
}

// turnedAway tries to come in, and reads why not.
func turnedAway(p *browser.Phone, link, name, why string) {
	p.Open(link)
	p.See("You are invited to a club")
	if name != "" {
		p.Fill("What to call you", name)
	}
	p.Tap("Come in")
	p.See(why)
	p.See("It did not work")
	p.Shot(why)
}

// soonOver is how long the shortest invitation lasts here. It has to reach the server
// before.
const soonOver = 10 * time.Second

// overSoon makes an invitation that ends in a moment. No screen offers that: a day is
// the least, by the server's time as the phone knows it. So this phone's clock goes
// back by nearly a day after the two have been compared.
func overSoon(t *testing.T, server *proc.Server) app.ClubInvited {
	t.Helper()
	var back atomic.Int64
	p := native.Open(server.URL(""), native.NewDisk(), native.At(func() time.Time {
		return time.Now().Add(-time.Duration(back.Load()))
	}))
	t.Cleanup(p.Close)
	if _, err := native.Do[app.Nothing](p, app.CmdNotebookName, app.NotebookName{Name: "Altair"}); err != nil {
		t.Fatal(err)
	}
	club, err := native.Do[app.ClubCreated](p, app.CmdClubCreate, app.ClubCreate{Name: "Perseids"})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := native.See(p, app.ViewSync, nil, func(v app.SyncView) bool { return v.Mark == "shared" }); err != nil {
		t.Fatal(err)
	}
	back.Store(int64(24*time.Hour - soonOver))
	made, err := native.Do[app.ClubInvited](p, app.CmdClubInvite, app.ClubInvite{Club: club.Club, Role: "taster", Uses: 6, Days: 1})
	if err != nil {
		t.Fatal(err)
	}
	if left := time.Until(time.UnixMilli(made.Expires)); left > soonOver {
		t.Fatalf("the invitation lasts another %v", left)
	}
	shared := func(v app.ClubView) bool { return len(v.Invites) == 1 && v.Invites[0].Share == "shared" }
	if _, err := native.See(p, app.ViewClub, app.ClubParams(club), shared); err != nil {
		t.Fatal(err)
	}
	return made
}
