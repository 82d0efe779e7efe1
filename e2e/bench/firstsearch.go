package main

import (
	"fmt"
	"time"
)

// firstSearches measure the first search after a start of the app: a letter that
// is typed as soon as there is a field for it, once at the log's own address, and
// once on the way there over the Bench.
func firstSearches(device *installation) (figures []figure, err error) {
	for _, way := range []struct{ name, path string }{
		{"the first search after a start, at the log", "/bench/log"},
		{"the first search after a start, from the Bench", "/bench"},
	} {
		var times []firstTime
		for _, letter := range firstLetters {
			var both firstTime
			if both.plain, err = firstSearch(device, way.path, letter, 1); err == nil {
				both.slow, err = firstSearch(device, way.path, letter, slowness)
			}
			if err != nil {
				return nil, fmt.Errorf("%q at %s: %w", letter, way.path, err)
			}
			times = append(times, both)
		}
		figures = append(figures, firstFigure(way.name, times))
	}
	return figures, nil
}

// firstLetters find everything, a part, and nothing.
var firstLetters = []string{"v", "4", "s", "1", "z"}

// firstTime is a letter on a page that is not throttled and one on a page that is.
// The worker's part is the first one's, as for taps: its reading of the disk and
// the way there and back are counted four times as well.
type firstTime struct{ plain, slow searchTime }

func (t firstTime) page() float64 { return t.slow.Before + t.slow.After }
func (t firstTime) core() float64 { return max(slowness*t.plain.Away, t.slow.Away) }

func firstFigure(name string, times []firstTime) figure {
	spread := func(of func(firstTime) float64) (list []time.Duration) {
		for _, t := range times {
			list = append(list, time.Duration(of(t)*float64(time.Millisecond)))
		}
		return list
	}
	all := spread(func(t firstTime) float64 { return t.page() + t.core() })
	late := quantile(all, 1)
	return figure{name: name, measured: milliseconds(late), budget: "<= " + milliseconds(searchBudget), within: late <= searchBudget,
		note: fmt.Sprintf("%d brews, typed at once, the slowest of %d; median %s: the page %s, core and disk x4 %s", brewsInNotebook, len(all),
			milliseconds(quantile(all, 0.5)), milliseconds(quantile(spread(firstTime.page), 0.5)), milliseconds(quantile(spread(firstTime.core), 0.5)))}
}

func firstSearch(device *installation, path, letter string, slowed float64) (seen searchTime, err error) {
	phone, err := openPhone(device.home)
	if err != nil {
		return seen, err
	}
	defer phone.close()
	tab, err := phone.tab(watchSearch + fmt.Sprintf(typeAtOnce, letter))
	if err != nil {
		return seen, err
	}
	time.Sleep(time.Second) // Chromium's own start is not what is measured
	if err := tab.slow(slowed); err != nil {
		return seen, err
	}
	if err := tab.open(device.server.URL(path)); err != nil {
		return seen, err
	}
	if err := tab.until("window.hushcupLetters.length > 0"); err != nil {
		return seen, err
	}
	return seen, tab.eval("window.hushcupLetters[0]", &seen)
}

// typeAtOnce types a letter into the log's field in the turn after it came into
// the document; on the Bench it goes to the log first, once that Bench is the
// core's own.
const typeAtOnce = `;(() => {
	let fresh = false, typed = false;
	new PerformanceObserver(list => { fresh ||= list.getEntriesByName("heard bench").length > 0; soon() }).observe({ type: "mark", buffered: true });
	let waiting = false;
	const channel = new MessageChannel();
	const soon = () => { if (!waiting) { waiting = true; channel.port2.postMessage(0) } };
	const look = channel.port1.onmessage = () => {
		waiting = false;
		const field = location.pathname === "/bench/log" && document.querySelector(".field input");
		if (typed) return;
		if (field) {
			typed = true;
			seen.disconnect();
			field.focus();
			document.execCommand("insertText", false, %q);
		} else if (fresh && location.pathname === "/bench") document.querySelector('main a[href="/bench/log"]')?.click();
	};
	const seen = new MutationObserver(soon);
	seen.observe(document, { childList: true, subtree: true });
})();`
