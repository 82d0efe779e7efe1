package main

import (
	"fmt"
	"slices"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

const (
	searchBudget = 100 * time.Millisecond
	gapBudget    = time.Second
)

// log measures what looking back costs with a full notebook: from a letter typed
// until the list says what it found, and the longest rest of the screen while a
// finger flings through the list.
func log() ([]figure, error) {
	device, err := installed()
	if err != nil {
		return nil, err
	}
	first, err := firstSearches(device)
	if err != nil {
		return nil, fmt.Errorf("the first search: %w", err)
	}
	found, err := search(device)
	if err != nil {
		return nil, fmt.Errorf("the search: %w", err)
	}
	flung, err := fling(device)
	if err != nil {
		return nil, fmt.Errorf("the fling: %w", err)
	}
	return slices.Concat(first, found, flung), nil
}

// typed are searches as people type them; each letter is a search.
var typed = []string{"valley bag 41", "sweeter", "cone 60", "drip dry", "nothing has this"}

// search types letter by letter. As with taps, the worker's part is that of a run
// which is not throttled, counted four times.
func search(device *installation) ([]figure, error) {
	phone, err := openPhone(device.home)
	if err != nil {
		return nil, err
	}
	defer phone.close()
	tab, err := phone.tab(watchSearch)
	if err != nil {
		return nil, err
	}
	if err := openLog(tab, device); err != nil {
		return nil, err
	}
	if err := phone.inWorker(watchViews, nil); err != nil {
		return nil, err
	}
	var plain, slow []searchTime
	if plain, err = searchTimes(phone, tab, 1); err == nil {
		slow, err = searchTimes(phone, tab, slowness)
	}
	if err != nil {
		return nil, err
	}
	return searchFigures(plain, slow), nil
}

func openLog(tab *tab, device *installation) error {
	if err := tab.open(device.server.URL("/bench/log")); err != nil {
		return err
	}
	return tab.until(fmt.Sprintf(`document.querySelectorAll(".longlist a").length > 20 && document.querySelector(".status-line").textContent.replace(/\D/g, "") >= %d`, brewsInNotebook))
}

// searchTime is one letter in milliseconds.
type searchTime struct {
	Before float64 // the page: until the worker was asked
	Away   float64 // the page's wait for the answer
	After  float64 // the page: until the list is in the document
	Took   float64 // the worker, all of it
	Asked  float64 // when the worker was asked, since 1970
	First  bool    // the first answer was the whole one
}

// watchSearch notes for each letter when it came, when the worker was asked for
// the first length of the list, when the answer came and when it was in the
// document.
const watchSearch = watchAnswers + `;(() => {
	const letters = window.hushcupLetters = [], open = new Map();
	let told = 0;
	addEventListener("input", () => { told = performance.now() }, true);
	watchAnswers(message => {
		if (message.type !== "watch" || message.view !== "brews" || message.args.skip !== 0 || told === 0) return;
		open.set(message.watch, { asked: performance.now(), told, answers: 0 });
		told = 0;
	}, (data, at, said) => {
		for (const { type, watch, value } of data) {
			const letter = type === "view" && open.get(watch);
			if (!letter) continue;
			letter.answers++;
			if (!value?.ready) continue;
			open.delete(watch);
			said.then(said => letters.push({
				watch, before: letter.asked - letter.told, away: at - letter.asked, after: said - at,
				asked: performance.timeOrigin + letter.asked, first: letter.answers === 1,
			}));
		}
	});
})()`

// watchViews notes in the worker how long each view was made.
const watchViews = `(() => {
	const took = self.hushcupTook = {}, began = {};
	const hear = self.onmessage;
	self.onmessage = event => {
		if (event.data.type === "watch") began[event.data.watch] = performance.now();
		return hear.call(self, event);
	};
	const say = self.postMessage;
	self.postMessage = messages => {
		for (const { type, watch } of messages) {
			if (type === "view" && began[watch]) took[watch] ??= performance.now() - began[watch];
		}
		return say.call(self, messages);
	};
})()`

// searchTimes types all searches, with room between letters as a thumb leaves.
func searchTimes(phone *phone, tab *tab, slowed float64) ([]searchTime, error) {
	if err := tab.slow(slowed); err != nil {
		return nil, err
	}
	if err := tab.eval("window.hushcupLetters.length = 0", nil); err != nil {
		return nil, err
	}
	letters := 0
	for _, text := range typed {
		if err := tab.eval(`(() => { const field = document.querySelector(".field input"); field.focus(); field.select(); document.execCommand("delete") })()`, nil); err != nil {
			return nil, err
		}
		time.Sleep(undisturbed)
		for _, letter := range text {
			if _, err := chromedp.Call(tab.ctx, input.InsertText, input.InsertTextParams{Text: string(letter)}); err != nil {
				return nil, err
			}
			letters++
			time.Sleep(undisturbed)
		}
		if err := tab.until(`document.querySelectorAll(".longlist a").length > 0 || !!document.querySelector(".brewlog-loosen")`); err != nil {
			return nil, err
		}
	}
	return readLetters(phone, tab, letters)
}

func readLetters(phone *phone, tab *tab, letters int) (times []searchTime, err error) {
	var seen []struct {
		Watch int
		searchTime
	}
	if err := tab.eval("window.hushcupLetters", &seen); err != nil {
		return nil, err
	}
	var took map[int]float64
	if err := phone.inWorker("self.hushcupTook", &took); err != nil {
		return nil, err
	}
	for _, letter := range seen {
		letter.Took = took[letter.Watch]
		if letter.Took == 0 {
			continue // what was asked lately is still at hand
		}
		times = append(times, letter.searchTime)
	}
	if len(times) < letters/2 {
		return nil, fmt.Errorf("of %d letters %d were seen to be answered", letters, len(times))
	}
	return times, nil
}

func searchFigures(plain, slow []searchTime) []figure {
	spread := func(of func(page, worker searchTime) float64) (list []time.Duration) {
		for i := range min(len(plain), len(slow)) {
			list = append(list, time.Duration(of(slow[i], plain[i])*float64(time.Millisecond)))
		}
		return list
	}
	middle := func(of func(page, worker searchTime) float64) string {
		return milliseconds(quantile(spread(of), 0.5))
	}
	all := spread(func(p, w searchTime) float64 { return p.Before + max(slowness*w.Took, p.Away) + p.After })
	late := quantile(all, 0.95)
	return []figure{
		{name: "search: the page", measured: middle(func(p, _ searchTime) float64 { return p.Before + p.After }), note: "median; throttled 4x"},
		{name: "search: the core", measured: middle(func(_, w searchTime) float64 { return slowness * w.Took }), note: "median; x4"},
		{name: "a letter typed to the list in the document", measured: milliseconds(late), budget: "<= " + milliseconds(searchBudget), within: late <= searchBudget,
			note: fmt.Sprintf("%d brews; 95 %% of %d letters are within it; median %s", brewsInNotebook, len(all), milliseconds(quantile(all, 0.5)))},
	}
}

// watchFrames notes the longest time between two frames, and in how many of them
// there was room on the screen whose rows had not come.
const watchFrames = `(() => {
	const seen = window.hushcupFrames = { longest: 0, frames: 0, empty: 0, deepest: 0 };
	let last = performance.now();
	const frame = now => {
		seen.longest = Math.max(seen.longest, now - last);
		seen.frames++;
		seen.deepest = Math.max(seen.deepest, scrollY);
		last = now;
		const rows = document.elementsFromPoint(195, 400).some(each => each.matches(".list-row, .list > li"));
		if (!rows) seen.empty++;
		if (!seen.done) requestAnimationFrame(frame);
	};
	requestAnimationFrame(frame);
})()`

// fling throws the list down and up again as fast as a thumb does.
func fling(device *installation) ([]figure, error) {
	phone, err := openPhone(device.home)
	if err != nil {
		return nil, err
	}
	defer phone.close()
	tab, err := phone.tab("")
	if err != nil {
		return nil, err
	}
	if err := openLog(tab, device); err != nil {
		return nil, err
	}
	if err := tab.slow(slowness); err != nil {
		return nil, err
	}
	if err := tab.eval("scrollTo(0, 600)", nil); err != nil {
		return nil, err
	}
	time.Sleep(time.Second)
	if err := tab.eval(watchFrames, nil); err != nil {
		return nil, err
	}
	const speed = 8000 // points a second
	for _, distance := range []float64{-60_000, -60_000, 40_000} {
		gesture := input.SynthesizeScrollGestureParams{X: 195, Y: 600, YDistance: distance, Speed: speed, GestureSourceType: input.GestureSourceTypeMouse}
		if _, err := chromedp.Call(tab.ctx, input.SynthesizeScrollGesture, gesture); err != nil {
			return nil, err
		}
	}
	var seen struct{ Longest, Frames, Empty, Deepest float64 }
	if err := tab.eval("(hushcupFrames.done = true, hushcupFrames)", &seen); err != nil {
		return nil, err
	}
	if seen.Deepest < 30_000 {
		return nil, fmt.Errorf("the list did not move: it came to %v", seen.Deepest)
	}
	gap := time.Duration(seen.Longest * float64(time.Millisecond))
	return []figure{{name: "longest rest of the screen in a fling", measured: milliseconds(gap), budget: "< " + milliseconds(gapBudget), within: gap < gapBudget,
		note: fmt.Sprintf("page throttled 4x, %d points a second; rows were still to come in %.0f %% of %.0f frames", speed, 100*seen.Empty/seen.Frames, seen.Frames)}}, nil
}
