package main

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"time"
)

const (
	starts      = 7
	startBudget = time.Second
)

// start measures an installed start, on a full notebook, to a usable Bench.
func start() ([]figure, error) {
	device, err := installed()
	if err != nil {
		return nil, err
	}
	var all []startTimes
	for range starts {
		times, err := oneStart(device)
		if err != nil {
			return nil, err
		}
		all = append(all, times)
	}
	return startFigures(all), nil
}

func startFigures(all []startTimes) []figure {
	part := func(of func(t startTimes) float64) time.Duration {
		var list []time.Duration
		for _, t := range all {
			list = append(list, time.Duration(of(t)*float64(time.Millisecond)))
		}
		return quantile(list, 0.5)
	}
	usable := part(startTimes.usable)
	best := time.Duration(slices.MinFunc(all, func(a, b startTimes) int { return cmp.Compare(a.usable(), b.usable()) }).usable() * float64(time.Millisecond))
	worker := func(from, to string) string {
		return milliseconds(slowness * part(func(t startTimes) float64 { return t.Worker[to] - t.Worker[from] }))
	}
	median := fmt.Sprintf("median of %d, each in a fresh Chromium", starts)
	return []figure{
		{name: "start: service worker and document", measured: milliseconds(slowness * part(startTimes.offline)), note: "x4"},
		{name: "start: first paint", measured: milliseconds(part(func(t startTimes) float64 { return t.Painted + (slowness-1)*t.offline() })), note: "the Bench as it was last seen"},
		{name: "start: worker's script", measured: worker("began", "script read"), note: "x4"},
		{name: "start: compile the core", measured: worker("script read", "core compiled"), note: "x4"},
		{name: "start: read the disk", measured: worker("script read", "disk read"), note: "x4, meanwhile"},
		{name: "start: start the core", measured: worker("core compiled", "core started"), note: "x4"},
		{name: "start: load the notebook", measured: worker("core started", "notebook loaded"), note: "x4"},
		{name: "start: make the view", measured: milliseconds(slowness * part(func(t startTimes) float64 {
			return t.Worker["told bench"] - max(t.Worker["notebook loaded"], t.Page["asked bench"])
		})), note: "x4"},
		{name: "start: draw it", measured: milliseconds(part(func(t startTimes) float64 { return t.Drawn - t.Worker["told bench"] })), note: "page throttled 4x"},
		{name: "installed start to a usable Bench", measured: milliseconds(usable), budget: "<= " + milliseconds(startBudget), within: usable <= startBudget,
			note: fmt.Sprintf("%d brews; %s; the best %s", brewsInNotebook, median, milliseconds(best))},
	}
}

// startTimes are milliseconds since the navigation began.
type startTimes struct {
	Document float64            // the document has come from the service worker
	Painted  float64            // the remembered Bench is on the screen
	Drawn    float64            // the Bench that the core made is on the screen
	Page     map[string]float64 // marks of the page
	Worker   map[string]float64 // marks of the worker
}

func (t startTimes) offline() float64 { return t.Document }

// usable is when the Bench that the core made stands on the screen of a phone
// that is as slow in its workers as in its page: a tap on it is answered, since
// the core that made it waits for one.
func (t startTimes) usable() float64 {
	loaded := t.Worker["began"] + slowness*(t.Worker["notebook loaded"]-t.Worker["began"])
	asked := t.Page["asked bench"]
	made := slowness * (t.Worker["told bench"] - max(t.Worker["notebook loaded"], asked))
	return (slowness-1)*t.offline() + max(loaded, asked) + made + t.Drawn - t.Worker["told bench"]
}

// watchStart notes when what was drawn is on the screen: after the frame that
// follows the mark.
const watchStart = `(() => {
	const shown = window.hushcupShown = {};
	const next = name => requestAnimationFrame(() => { const c = new MessageChannel(); c.port1.onmessage = () => shown[name] ??= performance.now(); c.port2.postMessage(0) });
	new PerformanceObserver(list => { for (const { name } of list.getEntries()) if (name === "painted" || name === "heard bench") next(name) }).observe({ type: "mark" });
})()`

func oneStart(device *installation) (times startTimes, err error) {
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
	if err := tab.slow(slowness); err != nil {
		return times, err
	}
	if err := tab.open(device.server.URL("/bench")); err != nil {
		return times, err
	}
	if err := tab.until(`!!window.hushcupShown["heard bench"] && document.querySelectorAll(".list-row").length > 5`); err != nil {
		return times, err
	}
	worker, err := phone.worker(0)
	if err != nil {
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
		Marks: Object.fromEntries(performance.getEntriesByType("mark").map(({ name, startTime }) => [name, startTime])),
	})`, &page); err != nil {
		return times, err
	}
	if err := worker.eval(`(() => {
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
