package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"hushcup/e2e/native"
	"hushcup/e2e/proc"
	"hushcup/pwa/app"
)

const (
	unsealRounds = 30
	unsealBudget = time.Second
)

// unseal measures how long it takes from an organiser's tap on the last button of
// an unsealing, close included, until the answer stands in the document of another
// phone that is open on that sample: two Chromiums with a disk of their own, around
// a real server. Both read the machine's clock.
func unseal() ([]figure, error) {
	home, err := os.MkdirTemp("", "hushcup-bench-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(home)
	server, err := proc.Run(home, generous...)
	if err != nil {
		return nil, err
	}
	defer server.Kill()
	table, stop, err := layTable(server, home)
	defer stop()
	if err != nil {
		return nil, err
	}
	var took []time.Duration
	for i := range unsealRounds {
		d, err := table.open(i)
		if err != nil {
			return nil, fmt.Errorf("unsealing %d: %w", i+1, err)
		}
		took = append(took, d)
	}
	late := quantile(took, 0.95)
	return []figure{{name: "unsealed on another open phone", measured: milliseconds(late), budget: "<= " + milliseconds(unsealBudget), within: late <= unsealBudget,
		note: fmt.Sprintf("95 %% of %d are within it; median %s; from the organiser's tap to the answer in the document", len(took), milliseconds(quantile(took, 0.5)))}}, nil
}

// table is a club of two people, each with a tab, and with another device without a
// screen for all that is not measured.
type table struct {
	club            string
	organiser, home *tab
	vega, mira      *native.Phone
}

func layTable(server *proc.Server, home string) (t *table, stop func(), err error) {
	var stops []func()
	stop = func() {
		for _, each := range stops {
			each()
		}
	}
	t = &table{}
	tabOf := func(name string) (*tab, error) {
		phone, err := openPhone(filepath.Join(home, name))
		if err != nil {
			return nil, err
		}
		stops = append(stops, phone.close)
		return phone.tab("")
	}
	if t.organiser, err = tabOf("organiser"); err != nil {
		return t, stop, err
	}
	if t.home, err = tabOf("home"); err != nil {
		return t, stop, err
	}
	t.vega, t.mira = native.Open(server.URL(""), native.NewDisk()), native.Open(server.URL(""), native.NewDisk())
	stops = append(stops, t.vega.Close, t.mira.Close)
	return t, stop, t.comeTogether()
}

// comeTogether begins a club of two, and makes each browser one of their devices.
func (t *table) comeTogether() error {
	for name, phone := range map[string]*native.Phone{"Vega": t.vega, "Mira": t.mira} {
		if _, err := native.Do[app.Nothing](phone, app.CmdNotebookName, app.NotebookName{Name: name}); err != nil {
			return err
		}
	}
	made, err := native.Do[app.ClubCreated](t.vega, app.CmdClubCreate, app.ClubCreate{Name: "Observatory"})
	if err != nil {
		return err
	}
	t.club = made.Club
	invited, err := native.Do[app.ClubInvited](t.vega, app.CmdClubInvite, app.ClubInvite{Club: t.club, Role: "taster", Uses: 6, Days: 7})
	if err == nil {
		err = shared(t.vega)
	}
	if err == nil {
		_, err = native.Do[app.ClubJoining](t.mira, app.CmdClubJoin, app.ClubJoin{Link: invited.Link})
	}
	if err == nil {
		_, err = native.See(t.mira, app.ViewClub, app.ClubParams{Club: t.club}, func(v app.ClubView) bool { return v.Status == "in" })
	}
	if err != nil {
		return err
	}
	if err := bringIn(t.vega, t.organiser); err != nil {
		return fmt.Errorf("the organiser's browser: %w", err)
	}
	if err := bringIn(t.mira, t.home); err != nil {
		return fmt.Errorf("the other browser: %w", err)
	}
	return nil
}

func shared(phone *native.Phone) error {
	_, err := native.See(phone, app.ViewSync, app.Nothing{}, func(v app.SyncView) bool { return v.Mark == "shared" })
	return err
}

// bringIn makes a browser one of a person's devices.
func bringIn(phone *native.Phone, browser *tab) error {
	paired, err := native.Do[app.DevicePairing](phone, app.CmdDevicePair, app.DevicePair{})
	if err == nil {
		err = shared(phone)
	}
	if err == nil {
		err = browser.open(paired.Link)
	}
	if err == nil {
		err = browser.until("!!(" + buttonNamed("Link this device") + ")")
	}
	if err == nil {
		err = browser.eval(buttonNamed("Link this device")+".click()", nil)
	}
	if err == nil {
		err = browser.until(`document.body.innerText.includes("You are in")`)
	}
	return err
}

func buttonNamed(name string) string {
	return `[...document.querySelectorAll("button")].find(each => each.innerText.trim() === "` + name + `" && !each.disabled)`
}

// open seals a sample, has the other phone guess it and look on, and unseals it.
func (t *table) open(round int) (time.Duration, error) {
	flight, err := native.Do[app.FlightCreated](t.vega, app.CmdFlightCreate, app.FlightCreate{Club: t.club, Title: fmt.Sprintf("Evening %d", round+1)})
	if err != nil {
		return 0, err
	}
	lot := fmt.Sprintf("Comet Ridge %d", round+1)
	sealed, err := native.Do[app.SampleSealed](t.vega, app.CmdSampleSeal, app.SampleSeal{
		Club: t.club, Flight: flight.Flight, Grams: 60, Declared: app.Declared{Choice: "nothing"},
		Answer: app.Answer{Lot: lot, Origin: &app.Known{Nodes: []string{"origin/africa/ethiopia/guji"}, Source: "label"}},
	})
	if err == nil {
		err = t.guessed(flight.Flight, sealed.Sample)
	}
	if err != nil {
		return 0, err
	}
	sample := "/sample/" + t.club + "/" + sealed.Sample
	if err := t.home.follow(sample, "in before the close"); err != nil {
		return 0, err
	}
	if err := t.home.follow(sample+"/open", "still sealed"); err != nil {
		return 0, err
	}
	if err := t.home.eval(watchFor(lot), nil); err != nil {
		return 0, err
	}
	if err := t.organiser.follow("/flights/"+t.club+"/"+flight.Flight, "Unseal all that you can"); err != nil {
		return 0, err
	}
	return t.unseal()
}

// unseal taps twice, the second time in earnest.
func (t *table) unseal() (time.Duration, error) {
	const last = `[...document.querySelectorAll("button")].filter(each => each.innerText.trim() === "Unseal all that you can")`
	if err := t.organiser.eval(last+`.at(-1).click()`, nil); err != nil {
		return 0, err
	}
	if err := t.organiser.until(`document.body.innerText.includes("cannot be undone")`); err != nil {
		return 0, err
	}
	time.Sleep(undisturbed)
	var tapped, there float64
	if err := t.organiser.eval(`(() => {
		const at = performance.timeOrigin + performance.now();
		`+last+`.at(-1).click();
		return at;
	})()`, &tapped); err != nil {
		return 0, err
	}
	if err := t.home.eval("window.hushcupThere", &there); err != nil {
		return 0, err
	}
	return time.Duration((there - tapped) * float64(time.Millisecond)), nil
}

// watchFor notes when a text stands in the document.
func watchFor(text string) string {
	return `void (window.hushcupThere = new Promise(there => {
		const look = () => {
			if (!document.body.innerText.includes("` + text + `")) return;
			watcher.disconnect();
			there(performance.timeOrigin + performance.now());
		};
		const watcher = new MutationObserver(look);
		watcher.observe(document.body, { subtree: true, childList: true, characterData: true });
	}))`
}

// guessed has the other person guess a sample, so that it opens for them without
// asking.
func (t *table) guessed(flight, sample string) error {
	came := func(v app.ClubView) bool { return v.Flights[0].Flight == flight && v.Flights[0].Samples == 1 } // the newest
	_, err := native.See(t.mira, app.ViewClub, app.ClubParams{Club: t.club}, func(v app.ClubView) bool { return len(v.Flights) > 0 && came(v) })
	if err != nil {
		return err
	}
	_, err = native.Do[app.Nothing](t.mira, app.CmdGuessSave, app.GuessSave{Club: t.club, Sample: sample,
		Facets: []app.SaidFacet{{Facet: "process", Said: []app.Said{{Node: "process/washed", Share: 6000}}}}})
	if err == nil {
		err = shared(t.mira)
	}
	return err
}

// follow goes to a screen without loading the page anew, and waits for a text.
func (t *tab) follow(path, text string) error {
	if err := t.eval(`(() => {
		const link = document.createElement("a");
		link.href = "`+path+`";
		document.body.append(link);
		link.click();
		link.remove();
	})()`, nil); err != nil {
		return err
	}
	return t.until(`location.pathname === "` + path + `" && document.body.innerText.includes("` + strings.ReplaceAll(text, `"`, `\"`) + `")`)
}
