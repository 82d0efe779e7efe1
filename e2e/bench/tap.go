package main

import (
	"fmt"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

const (
	tapRounds = 60 // each a mark by a short hold, and a tap that takes it back
	tapBudget = 50 * time.Millisecond
)

// tap measures how long it takes from a finger on the running brew's screen
// until what it did is durable on the disk and shown, on a full notebook.
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
	worker, err := phone.worker(0)
	if err != nil {
		return nil, err
	}
	if err := worker.eval(watchParts, nil); err != nil {
		return nil, err
	}
	if err := tab.slow(slowness); err != nil {
		return nil, err
	}
	for range tapRounds {
		if err := markAndTakeBack(tab); err != nil {
			return nil, err
		}
	}
	return tapTimes(tab, worker)
}

// watchTaps notes for every command of the page when the finger asked for it,
// and when what came of it was on the screen: after the frame that follows the
// answer. A mark is asked for when the short hold is over, anything else when
// the finger leaves.
const watchTaps = `(() => {
	const taps = window.hushcupTaps = [], asked = new Map();
	let left = 0;
	addEventListener("pointerup", event => { left = event.timeStamp }, true);
	const shown = tap => requestAnimationFrame(() => {
		const channel = new MessageChannel();
		channel.port1.onmessage = () => taps.push({ ...tap, took: performance.now() - tap.at });
		channel.port2.postMessage(0);
	});
	const post = Worker.prototype.postMessage;
	Worker.prototype.postMessage = function(message, ...rest) {
		if (message.type === "command" && /^brew[.](un)?mark$/.test(message.name)) {
			asked.set(message.id, { id: message.id, at: message.name === "brew.unmark" ? left : performance.now() });
		}
		if (!this.hushcupHeard) {
			this.hushcupHeard = true;
			this.addEventListener("message", ({ data }) => { if (data.type === "done" && !data.error && asked.has(data.id)) shown(asked.get(data.id)) });
		}
		return post.call(this, message, ...rest);
	};
})()`

// watchParts notes in the worker how long each command was there, and how much
// of that went by until transactions were durable.
const watchParts = `(() => {
	const parts = self.hushcupParts = {}, began = {};
	let disk = 0;
	const open = IDBDatabase.prototype.transaction;
	IDBDatabase.prototype.transaction = function(...args) {
		const at = performance.now(), made = open.apply(this, args);
		made.addEventListener("complete", () => { disk += performance.now() - at });
		return made;
	};
	const hear = self.onmessage;
	self.onmessage = event => {
		if (event.data.type === "command") began[event.data.id] = { at: performance.now(), disk };
		return hear.call(self, event);
	};
	const say = self.postMessage;
	self.postMessage = message => {
		if (message.type === "done") {
			const from = began[message.id];
			parts[message.id] = { took: performance.now() - from.at, disk: disk - from.disk };
		}
		return say.call(self, message);
	};
})()`

// beginBrew starts a brew's clock, with the setup of the last one.
func beginBrew(tab *tab, address string) error {
	if err := tab.open(address); err != nil {
		return err
	}
	for _, step := range []struct{ ready, press string }{
		{`!!document.querySelector("button.primary:not(:disabled)")`, `document.querySelector("button.primary").click()`},
		{`location.pathname.startsWith("/bench/brew/") && !!document.querySelector("button.hold")`, `document.querySelector("button.hold").click()`},
		{`document.querySelectorAll("button.hold.plain").length >= 2`, ``},
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
	if err := tab.until(`!!` + takeBack + ` && document.querySelectorAll(".marks tbody tr").length === 2`); err != nil {
		return err
	}
	if err := touch(tab, takeBack, 30*time.Millisecond); err != nil {
		return err
	}
	time.Sleep(undisturbed)
	return tab.until(`document.querySelectorAll(".marks tbody tr").length === 1`)
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

// tapTimes puts page and worker together.
func tapTimes(tab, worker *tab) ([]figure, error) {
	var taps []struct {
		ID   int `json:"id"`
		Took float64
	}
	var parts map[int]struct{ Took, Disk float64 }
	if err := tab.eval("window.hushcupTaps", &taps); err != nil {
		return nil, err
	}
	if err := worker.eval("self.hushcupParts", &parts); err != nil {
		return nil, err
	}
	span := func(ms float64) time.Duration { return time.Duration(ms * float64(time.Millisecond)) }
	var all, page, core, disk []time.Duration
	for _, tap := range taps {
		part, ok := parts[tap.ID]
		if !ok {
			continue // before the worker was watched: the clock's start
		}
		if *verbose {
			fmt.Printf("tap %d: %.1f ms, of it in the worker %.1f ms, of it for the disk %.1f ms\n", tap.ID, tap.Took, part.Took, part.Disk)
		}
		all = append(all, span(tap.Took+(slowness-1)*part.Took))
		page = append(page, span(tap.Took-part.Took))
		core = append(core, span(slowness*(part.Took-part.Disk)))
		disk = append(disk, span(slowness*part.Disk))
	}
	if len(all) < 2*tapRounds {
		return nil, fmt.Errorf("of %d taps only %d were seen to be saved", 2*tapRounds, len(all))
	}
	late := quantile(all, 0.95)
	middle := func(list []time.Duration) string { return milliseconds(quantile(list, 0.5)) }
	return []figure{
		{name: "tap: the page", measured: middle(page), note: "median; page throttled 4x, until the next frame is drawn"},
		{name: "tap: the core", measured: middle(core), note: "median; x4"},
		{name: "tap: the disk", measured: middle(disk), note: "median; x4, strict durability"},
		{name: `tap to "saved"`, measured: milliseconds(late), budget: "<= " + milliseconds(tapBudget), within: late <= tapBudget,
			note: fmt.Sprintf("95 %% of %d are within it; median %s", len(all), middle(all))},
	}, nil
}
