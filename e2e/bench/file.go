package main

import (
	"fmt"
	"time"
)

// frozenBudget is how long the page may stand still while the file is made.
const frozenBudget = time.Second

// file measures how long a full notebook takes to become a file, and how long
// the page at most stood still meanwhile. The page is throttled; the worker's
// part is within, unthrottled.
func file() ([]figure, error) {
	device, err := installed()
	if err != nil {
		return nil, err
	}
	phone, err := openPhone(device.home)
	if err != nil {
		return nil, err
	}
	defer phone.close()
	tab, err := phone.tab("")
	if err != nil {
		return nil, err
	}
	if err := tab.open(device.server.URL("/cupboard/data")); err != nil {
		return nil, err
	}
	ready := fmt.Sprintf(`document.body.innerText.includes("%d brews")`, brewsInNotebook)
	if err := tab.until(ready); err != nil {
		return nil, err
	}
	if err := tab.slow(slowness); err != nil {
		return nil, err
	}
	var made struct {
		Took, Gap float64
		Says      string
	}
	if err := tab.eval(makeFile, nil); err != nil {
		return nil, err
	}
	for range 5 { // a busy machine takes its time
		if err = tab.until(`!!window.hushcupFile`); err == nil {
			break
		}
	}
	if err != nil {
		return nil, err
	}
	if err := tab.eval(`window.hushcupFile`, &made); err != nil {
		return nil, err
	}
	took, gap := time.Duration(made.Took*float64(time.Millisecond)), time.Duration(made.Gap*float64(time.Millisecond))
	return []figure{
		{name: "file: a full notebook becomes one", measured: milliseconds(took), note: made.Says},
		{name: "file: the longest the page stood still", measured: milliseconds(gap), budget: "<= " + milliseconds(frozenBudget), within: gap <= frozenBudget,
			note: "page throttled 4x; between two frames"},
	}, nil
}

// makeFile presses the one button and watches the frames until the file is there.
const makeFile = `(() => {
	const began = performance.now();
	let last = began, gap = 0;
	const frame = () => {
		const now = performance.now();
		gap = Math.max(gap, now - last);
		last = now;
		const says = document.body.innerText.match(/hushcup .* is ready, .*/);
		if (says) window.hushcupFile = { Took: now - began, Gap: gap, Says: says[0] };
		else requestAnimationFrame(frame);
	};
	document.querySelector("button.primary").click();
	requestAnimationFrame(frame);
})()`
