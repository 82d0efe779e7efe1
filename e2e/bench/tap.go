package main

import (
	"fmt"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

const (
	tapRounds = 50 // each a mark by a short hold, and a tap that takes it back
	tapBudget = 50 * time.Millisecond
)

// tap measures how long it takes from when the app hears of a finger on the
// running brew's screen until what it did is durable on the disk and the document
// says so, on a full notebook.
func tap() ([]figure, error) {
	device, err := installed()
	if err != nil {
		return nil, err
	}
	phone, err := openPhone(device.home)
	if err != nil {
		return nil, err
	}
	defer phone.close()
	tab, err := phone.tab(watchTaps)
	if err != nil {
		return nil, err
	}
	if err := beginBrew(tab, device.server.URL("/bench/new")); err != nil {
		return nil, err
	}
	if err := phone.inWorker(watchParts, nil); err != nil {
		return nil, err
	}
	// As in a start, the workers' part comes from taps that are not throttled.
	var plain, slow []tapTime
	if plain, err = tapTimes(phone, tab, 1); err == nil {
		slow, err = tapTimes(phone, tab, slowness)
	}
	if err != nil {
		return nil, err
	}
	return tapFigures(plain, slow), nil
}

// watchTaps notes for every command of the page when the app was told of the
// touch (a mark: when the short hold was over; anything else: when the click
// came), when it asked the worker, when it heard the answer, when the document
// said so, and when that was drawn.
const watchTaps = watchAnswers + `;(() => {
	const taps = window.hushcupTaps = [], open = new Map();
	let clicked = 0;
	addEventListener("click", () => { clicked = performance.now() }, true);
	watchAnswers(message => {
		if (message.type !== "command" || !/^brew[.](un)?mark$/.test(message.name)) return;
		const asked = performance.now();
		open.set(message.id, { asked, told: message.name === "brew.unmark" ? clicked : asked });
	}, (data, at, said) => {
		for (const { type, id, error } of data) {
			const tap = type === "done" && !error && open.get(id);
			if (!tap) continue;
			const drawn = new Promise(then => requestAnimationFrame(() => nextTurn(then)));
			Promise.all([said, drawn]).then(([said, drawn]) => taps.push({ id, before: tap.asked - tap.told, away: at - tap.asked, after: said - at, drawn: drawn - said }));
		}
	});
})()`

// watchParts notes in the worker how long each command was there, and during how
// much of that a transaction was on its way to be durable.
const watchParts = `(() => {
	const parts = self.hushcupParts = {}, began = {};
	let disk = 0, under = 0, since = 0;
	const waited = () => disk + (under > 0 ? performance.now() - since : 0);
	const open = IDBDatabase.prototype.transaction;
	IDBDatabase.prototype.transaction = function(...args) {
		if (under++ === 0) since = performance.now();
		const made = open.apply(this, args), ended = () => { if (--under === 0) disk += performance.now() - since };
		made.addEventListener("complete", ended);
		made.addEventListener("abort", ended);
		return made;
	};
	const hear = self.onmessage;
	self.onmessage = event => {
		if (event.data.type === "command") began[event.data.id] = { at: performance.now(), disk: waited() };
		return hear.call(self, event);
	};
	const say = self.postMessage;
	self.postMessage = messages => {
		for (const { type, id } of messages) {
			if (type === "done") parts[id] = { took: performance.now() - began[id].at, disk: waited() - began[id].disk };
		}
		return say.call(self, messages);
	};
})()`

// beginBrew starts a brew's clock, with the setup of the last one, and marks the
// bloom.
func beginBrew(tab *tab, address string) error {
	if err := tab.open(address); err != nil {
		return err
	}
	for _, step := range []struct{ ready, press string }{
		{`!!document.querySelector("button.primary:not(:disabled)")`, `document.querySelector("button.primary").click()`},
		{`location.pathname.startsWith("/bench/brew/") && !!document.querySelector("button.hold")`, `document.querySelector("button.hold").click()`},
		{`document.querySelectorAll("button.hold.plain").length >= 2`, `document.querySelector("button.hold").click()`},
		{`document.querySelectorAll(".marks tbody tr").length === 2`, ``},
	} {
		if err := tab.until(step.ready); err != nil {
			return err
		}
		if err := tab.eval(step.press, nil); err != nil {
			return err
		}
	}
	return nil
}

// undisturbed is how long after a touch nobody asks the page how it is.
const undisturbed = 300 * time.Millisecond

// markAndTakeBack holds a finger on "stir", sees the mark, and taps it away.
func markAndTakeBack(tab *tab) error {
	const takeBack = `[...document.querySelectorAll("button.wet")].at(-1)`
	if err := touch(tab, `document.querySelector("button.hold.plain")`, 450*time.Millisecond); err != nil {
		return err
	}
	time.Sleep(undisturbed)
	if err := tab.until(`!!` + takeBack + ` && document.querySelectorAll(".marks tbody tr").length === 3`); err != nil {
		return err
	}
	if err := touch(tab, takeBack, 30*time.Millisecond); err != nil {
		return err
	}
	time.Sleep(undisturbed)
	return tab.until(`document.querySelectorAll(".marks tbody tr").length === 2`)
}

// touch lays a finger on an element for so long.
func touch(tab *tab, element string, long time.Duration) error {
	var at struct{ X, Y float64 }
	if err := tab.eval(`(() => {
		const element = `+element+`;
		element.scrollIntoView({ block: "center", behavior: "instant" });
		const box = element.getBoundingClientRect();
		return { X: box.x + box.width / 2, Y: box.y + box.height / 2 };
	})()`, &at); err != nil {
		return err
	}
	down := input.DispatchTouchEventParams{Type: input.DispatchTouchEventTypeTouchStart, TouchPoints: []*input.TouchPoint{{X: at.X, Y: at.Y}}}
	if _, err := chromedp.Call(tab.ctx, input.DispatchTouchEvent, down); err != nil {
		return err
	}
	time.Sleep(long)
	up := input.DispatchTouchEventParams{Type: input.DispatchTouchEventTypeTouchEnd, TouchPoints: []*input.TouchPoint{}}
	_, err := chromedp.Call(tab.ctx, input.DispatchTouchEvent, up)
	return err
}

// tapTime is one tap in milliseconds.
type tapTime struct {
	Before float64 // the page: until the worker was asked
	Away   float64 // the page's wait for the answer
	After  float64 // the page: until the document said that it is saved
	Drawn  float64 // until that was on the screen
	Took   float64 // the worker, all of it
	Disk   float64 // of that, until transactions were durable
}

// saved is when the document says so on a phone that is slow throughout: the page
// as it was throttled, the worker four times as long as it took without that. A
// page that was busier than this hears the answer later.
func saved(page, worker tapTime) float64 {
	return page.Before + max(slowness*worker.Took, page.Away) + page.After
}

// tapTimes taps, and puts together what page and worker noted.
func tapTimes(phone *phone, tab *tab, slowed float64) ([]tapTime, error) {
	if err := tab.slow(slowed); err != nil {
		return nil, err
	}
	if err := tab.eval("window.hushcupTaps.length = 0", nil); err != nil {
		return nil, err
	}
	for range tapRounds {
		if err := markAndTakeBack(tab); err != nil {
			return nil, err
		}
	}
	var taps []struct {
		ID int
		tapTime
	}
	var parts map[int]struct{ Took, Disk float64 }
	if err := tab.eval("window.hushcupTaps", &taps); err != nil {
		return nil, err
	}
	if err := phone.inWorker("self.hushcupParts", &parts); err != nil {
		return nil, err
	}
	var times []tapTime
	for _, tap := range taps {
		tap.Took, tap.Disk = parts[tap.ID].Took, parts[tap.ID].Disk
		times = append(times, tap.tapTime)
		if *verbose {
			fmt.Printf("tap throttled %gx: %+v\n", slowed, tap.tapTime)
		}
	}
	if len(times) != 2*tapRounds {
		return nil, fmt.Errorf("of %d taps %d were seen to be saved", 2*tapRounds, len(times))
	}
	return times, nil
}

func tapFigures(plain, slow []tapTime) []figure {
	spread := func(of func(page, worker tapTime) float64) (list []time.Duration) {
		for i := range plain { // marks with marks, taps with taps
			list = append(list, time.Duration(of(slow[i], plain[i])*float64(time.Millisecond)))
		}
		return list
	}
	middle := func(of func(page, worker tapTime) float64) string {
		return milliseconds(quantile(spread(of), 0.5))
	}
	all := spread(saved)
	late := quantile(all, 0.95)
	return []figure{
		{name: "tap: the page", measured: middle(func(p, _ tapTime) float64 { return p.Before + p.After }), note: "median; throttled 4x"},
		{name: "tap: the core", measured: middle(func(_, w tapTime) float64 { return slowness * (w.Took - w.Disk) }), note: "median; x4"},
		{name: "tap: the disk", measured: middle(func(_, w tapTime) float64 { return slowness * w.Disk }), note: "median; x4, strict durability"},
		{name: "tap: the next frame", measured: middle(func(p, _ tapTime) float64 { return p.Drawn }), note: "median; after it, at the display's beat; throttled 4x"},
		{name: `tap to "saved"`, measured: milliseconds(late), budget: "<= " + milliseconds(tapBudget), within: late <= tapBudget,
			note: fmt.Sprintf("95 %% of %d are within it; median %s", len(all), middle(saved))},
	}
}
