package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"time"
)

const (
	starts      = 7
	startBudget = time.Second
)

// start measures an installed start, on a full notebook, to a usable Bench.
//
// Chromium throttles a page by a thread that keeps a processor busy, also while
// the page rests. A phone's worker does not lose a processor to that, so every
// figure is put together from two starts: the page's part of a throttled one,
// and four times the workers' part of one that is not.
func start() ([]figure, error) {
	device, err := installed()
	if err != nil {
		return nil, err
	}
	var all []pair
	for range starts {
		both, err := onePair(device)
		if err != nil {
			return nil, err
		}
		all = append(all, both)
	}
	figures := startFigures(all)
	took, err := earlyTap(device)
	if err != nil {
		return nil, fmt.Errorf("a tap on the first paint: %w", err)
	}
	return append(figures, figure{name: "start: a tap on the first paint", measured: milliseconds(took),
		note: "until the form that it opens is there, filled with the last setup; then a second tap is taken and saved"}), nil
}

func startFigures(all []pair) []figure {
	part := func(of func(pair) float64) time.Duration {
		var list []time.Duration
		for _, p := range all {
			list = append(list, time.Duration(of(p)*float64(time.Millisecond)))
		}
		return quantile(list, 0.5)
	}
	worker := func(from, to string) string {
		return milliseconds(slowness * part(func(p pair) float64 { return p.plain.Worker[to] - p.plain.Worker[from] }))
	}
	painted, made := part(pair.painted), part(pair.made)
	return []figure{
		{name: "start: the service worker's part", measured: milliseconds(slowness * part(func(p pair) float64 { return p.plain.Document })), note: "x4, until the document is there"},
		{name: "start: read the worker", measured: worker("began", "script read"), note: "x4"},
		{name: "start: compile the core", measured: worker("script read", "core compiled"), note: "x4"},
		{name: "start: run the core", measured: worker("core compiled", "core started"), note: "x4"},
		{name: "start: read the disk", measured: worker("script read", "disk read"), note: "x4, beside the two before"},
		{name: "start: load the notebook", measured: worker("core started", "notebook loaded"), note: "x4"},
		{name: "start: make the Bench", measured: milliseconds(slowness * part(func(p pair) float64 { return p.plain.making() })), note: "x4"},
		{name: "start: draw it", measured: milliseconds(part(func(p pair) float64 { return p.slow.Drawn - p.slow.Page["heard bench"] })), note: "page throttled 4x"},
		{name: "installed start to a usable Bench", measured: milliseconds(painted), budget: "<= " + milliseconds(startBudget), within: painted <= startBudget,
			note: fmt.Sprintf("%d brews, median of %d; as it was last seen, taps are taken", brewsInNotebook, starts)},
		{name: "start: the Bench as the core makes it anew", measured: milliseconds(made), note: "no budget of its own; until then taps wait in the worker, and none is lost"},
	}
}

// pair is a start that is not throttled and one that is.
type pair struct{ plain, slow startTimes }

// at is a moment of the throttled page on a phone that is slow throughout, with
// the service worker's part before it counted four times.
func (p pair) at(moment float64) float64 {
	return slowness*p.plain.Document + moment - p.slow.Document
}

// painted is when the Bench of last time stands on the screen.
func (p pair) painted() float64 { return p.at(p.slow.Painted) }

// paintedPlain is the same without any throttle.
func (p pair) paintedPlain() float64 { return p.plain.Painted }

// made is when the Bench that the core makes stands there: the core was ready
// and the page had asked, whichever came later.
func (p pair) made() float64 {
	loaded := p.at(p.slow.Worker["began"]) + slowness*(p.plain.Worker["notebook loaded"]-p.plain.Worker["began"])
	asked := p.at(p.slow.Page["asked bench"])
	return max(loaded, asked) + slowness*p.plain.making() + p.slow.Drawn - p.slow.Page["heard bench"]
}

// startTimes are milliseconds since the navigation began.
type startTimes struct {
	Document float64            // the document has come from the service worker
	Painted  float64            // the remembered Bench is on the screen
	Drawn    float64            // the Bench that the core made is on the screen
	Page     map[string]float64 // marks of the page
	Worker   map[string]float64 // marks of the worker
}

// making is how long the core made the view, once it could.
func (t startTimes) making() float64 {
	return t.Worker["told bench"] - max(t.Worker["notebook loaded"], t.Page["asked bench"])
}

// watchStart notes when what was drawn is on the screen: after the frame that
// follows the mark. It hears the mark at once: an observer would hear it when the
// page has time, often a frame too late.
const watchStart = `(() => {
	const shown = window.hushcupShown = {};
	const next = name => requestAnimationFrame(() => { const c = new MessageChannel(); c.port1.onmessage = () => shown[name] ??= performance.now(); c.port2.postMessage(0) });
	const mark = performance.mark.bind(performance);
	performance.mark = (name, ...rest) => {
		if (name === "painted" || name === "heard bench") next(name);
		return mark(name, ...rest);
	};
})()`

func oneStart(device *installation, slowed float64) (times startTimes, err error) {
	phone, err := openPhone(device.home)
	if err != nil {
		return times, err
	}
	defer phone.close()
	tab, err := phone.tab(watchStart)
	if err != nil {
		return times, err
	}
	time.Sleep(time.Second) // Chromium's own start is not what is measured
	if err := tab.slow(slowed); err != nil {
		return times, err
	}
	if err := tab.open(device.server.URL("/bench")); err != nil {
		return times, err
	}
	if err := tab.until(`!!window.hushcupShown["heard bench"] && document.querySelectorAll(".list-row").length >= 5`); err != nil {
		return times, err
	}
	var page struct {
		Origin   float64
		Document float64
		Shown    map[string]float64
		Marks    map[string]float64
	}
	if err := tab.eval(`({
		Origin: performance.timeOrigin, Document: performance.getEntriesByType("navigation")[0].responseEnd, Shown: window.hushcupShown,
		Marks: Object.fromEntries([...performance.getEntriesByType("paint").map(({name, startTime}) => ({name, startTime})), ...performance.getEntriesByType("mark")].map(({ name, startTime }) => [name, startTime])),
	})`, &page); err != nil {
		return times, err
	}
	if err := phone.inWorker(`(() => {
		const origin = performance.timeOrigin;
		const marks = performance.getEntriesByType("mark").map(({ name, startTime }) => [name, startTime + origin]);
		return Object.fromEntries([["began", origin], ...marks]);
	})()`, &times.Worker); err != nil {
		return times, err
	}
	for name := range times.Worker {
		times.Worker[name] -= page.Origin
	}
	times.Document, times.Page = page.Document, page.Marks
	times.Painted, times.Drawn = page.Shown["painted"], page.Shown["heard bench"]
	if times.Page["asked bench"] == 0 {
		return times, fmt.Errorf("the page did not ask for the Bench: %v", times.Page)
	}
	for _, name := range []string{"core compiled", "core started", "disk read", "notebook loaded", "told bench"} {
		if times.Worker[name] == 0 {
			return times, fmt.Errorf("the worker made no mark %q: %v; the page %v", name, times.Worker, page)
		}
	}
	if *verbose {
		text, _ := json.Marshal(times)
		fmt.Println(string(text))
	}
	return times, nil
}

// earlyTap taps "Start a brew" at the first paint, before there is a core, and
// the form's own button as soon as it is there. It gives how long the form took.
func earlyTap(device *installation) (time.Duration, error) {
	phone, err := openPhone(device.home)
	if err != nil {
		return 0, err
	}
	defer phone.close()
	tab, err := phone.tab(tapEarly)
	if err != nil {
		return 0, err
	}
	time.Sleep(time.Second)
	if err := tab.slow(slowness); err != nil {
		return 0, err
	}
	if err := tab.open(device.server.URL("/bench")); err != nil {
		return 0, err
	}
	if err := tab.until(`location.pathname.startsWith("/bench/brew/") && !!document.querySelector("button.hold")`); err != nil {
		return 0, err
	}
	var saw struct {
		Before bool    // there was no core yet
		Dose   string  // as the form had it filled
		Took   float64 // ms
	}
	if err := tab.eval("window.hushcupEarlyTap", &saw); err != nil {
		return 0, err
	}
	if !saw.Before || saw.Dose != "15" {
		return 0, errors.New("the core was there before it, or the form was not filled: " + fmt.Sprint(saw))
	}
	return time.Duration(saw.Took * float64(time.Millisecond)), nil
}

const tapEarly = `(() => {
	let heard = false;
	const note = window.hushcupEarlyTap = {};
	const form = () => {
		const button = document.querySelector("form button.primary:not(:disabled), button.primary:not([href]):not(:disabled)");
		if (location.pathname !== "/bench/new" || !button) return setTimeout(form, 2);
		note.Took = performance.now() - note.at;
		note.Dose = document.querySelector("input[inputmode=decimal]")?.value;
		button.click();
	};
	new PerformanceObserver(list => {
		for (const { name } of list.getEntries()) {
			if (name === "heard bench") heard = true;
			if (name !== "painted" || note.at) continue;
			note.Before = !heard;
			note.at = performance.now();
			document.querySelector("a.primary").click();
			form();
		}
	}).observe({ type: "mark" });
})()`
