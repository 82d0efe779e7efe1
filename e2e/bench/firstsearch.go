package main

import (
	"fmt"
	"time"
)

// A way is how somebody comes to the log's field after a start of the app.
type way struct {
	name, path string
	after      time.Duration // that the field is on the screen, until a letter is typed; on a phone that is slow four times as long counts
}

// ways are as quick as a thumb that knows where it goes, and quicker than any
// could be, to see what is left of the start then.
var ways = []way{
	{"the first search after a start, at the log", "/bench/log", 100 * time.Millisecond},
	{"the first search after a start, from the Bench", "/bench", 100 * time.Millisecond},
	{"typed the moment that the field is on the screen, at the log", "/bench/log", 0},
	{"typed the moment that the field is on the screen, from the Bench", "/bench", 0},
}

// firstSearches measure the first search after a start of the app, at the log's
// own address and on the way there over the Bench.
func firstSearches(device *installation) (figures []figure, err error) {
	for _, w := range ways {
		var times []firstTime
		for _, letter := range firstLetters {
			var both firstTime
			if both.plain, err = firstSearch(device, w, letter, 1); err == nil {
				both.slow, err = firstSearch(device, w, letter, slowness)
			}
			if err != nil {
				return nil, fmt.Errorf("%q at %s: %w", letter, w.path, err)
			}
			if *verbose {
				fmt.Printf("%s, %q: plain %+v, throttled %+v\n", w.path, letter, both.plain, both.slow)
			}
			times = append(times, both)
		}
		figures = append(figures, firstFigure(w, times))
	}
	return figures, nil
}

// firstLetters find everything, a part, and nothing.
var firstLetters = []string{"v", "4", "s", "1", "z"}

// firstTime is a letter on a page that is not throttled and one on a page that is.
// The worker's part, from the moment that it was asked until it answered, is four
// times that of the first: with what it waited for others, and for the disk. All
// the rest is the throttled page's, also while an answer lay there and the page
// was still drawing.
type firstTime struct{ plain, slow searchTime }

func (t firstTime) page() float64 {
	return t.slow.Before + t.slow.Away - t.slow.Took + t.slow.After
}
func (t firstTime) core() float64 { return slowness * t.plain.Took }

func firstFigure(w way, times []firstTime) figure {
	spread := func(of func(firstTime) float64) (list []time.Duration) {
		for _, t := range times {
			list = append(list, time.Duration(of(t)*float64(time.Millisecond)))
		}
		return list
	}
	all := spread(func(t firstTime) float64 { return t.page() + t.core() })
	late := quantile(all, 1)
	return figure{name: w.name, measured: milliseconds(late), budget: "<= " + milliseconds(searchBudget), within: late <= searchBudget,
		note: fmt.Sprintf("typed %s after its field was seen, the slowest of %d; median %s: the page %s, core and disk x4 %s", milliseconds(slowness*w.after), len(all),
			milliseconds(quantile(all, 0.5)), milliseconds(quantile(spread(firstTime.page), 0.5)), milliseconds(quantile(spread(firstTime.core), 0.5)))}
}

func firstSearch(device *installation, w way, letter string, slowed float64) (seen searchTime, err error) {
	phone, err := openPhone(device.home)
	if err != nil {
		return seen, err
	}
	defer phone.close()
	tab, err := phone.tab(watchSearch + fmt.Sprintf(typeSoon, (w.after*time.Duration(slowed)).Milliseconds(), (onLink*time.Duration(slowed)/slowness).Milliseconds(), letter))
	if err != nil {
		return seen, err
	}
	time.Sleep(time.Second) // Chromium's own start is not what is measured
	if err := tab.slow(slowed); err != nil {
		return seen, err
	}
	if err := tab.open(device.server.URL(w.path)); err != nil {
		return seen, err
	}
	if err := tab.until("window.hushcupLetters.length > 0"); err != nil {
		return seen, err
	}
	if err := tab.eval("window.hushcupLetters[0]", &seen); err != nil {
		return seen, err
	}
	seen.Took = seen.Away
	if !seen.First {
		return seen, nil // when the whole answer was given is not known
	}
	var answers []float64
	if err := phone.inWorker(`performance.getEntriesByName("told brews").map(({ startTime }) => performance.timeOrigin + startTime)`, &answers); err != nil {
		return seen, err
	}
	for _, at := range answers {
		if at >= seen.Asked {
			seen.Took = min(at-seen.Asked, seen.Away)
			break
		}
	}
	return seen, nil
}

// onLink is how long a quick finger stays on a link before it lifts. On a page that
// is not throttled it stays a part of that: there the core has four times the speed.
const onLink = 60 * time.Millisecond

// typeSoon types a letter into the log's field so many milliseconds after the
// first frame that shows it; on the Bench it touches the way to the log first, once
// that Bench is the core's own.
const typeSoon = `;(() => {
	const after = %d, touch = %d;
	let fresh = false, touched = false, typed = false;
	new PerformanceObserver(list => { fresh ||= list.getEntriesByName("heard bench").length > 0; soon() }).observe({ type: "mark", buffered: true });
	let waiting = false;
	const channel = new MessageChannel();
	const soon = () => { if (!waiting) { waiting = true; channel.port2.postMessage(0) } };
	const type = () => {
		document.querySelector(".field input").focus();
		document.execCommand("insertText", false, %q);
	};
	channel.port1.onmessage = () => {
		waiting = false;
		if (typed) return;
		if (location.pathname === "/bench/log" && document.querySelector(".field input")) {
			typed = true;
			seen.disconnect();
			requestAnimationFrame(() => {
				const shown = new MessageChannel(); // answered behind the frame
				shown.port1.onmessage = () => after > 0 ? setTimeout(type, after) : type();
				shown.port2.postMessage(0);
			});
		} else if (fresh && !touched && location.pathname === "/bench") {
			const link = document.querySelector('main a[href="/bench/log"]');
			touched = !!link;
			link?.dispatchEvent(new PointerEvent("pointerdown", { bubbles: true }));
			setTimeout(() => link?.click(), touch);
		}
	};
	const seen = new MutationObserver(soon);
	seen.observe(document, { childList: true, subtree: true });
})();`
