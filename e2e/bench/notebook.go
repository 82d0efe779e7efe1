package main

import (
	"errors"
	"fmt"
	"strings"
	"sync/atomic"
	"time"

	"hushcup/e2e/native"
	"hushcup/pwa/app"
)

const (
	brewsInNotebook = 5000
	betweenBrews    = 2 * time.Hour
)

// generous are limits for a notebook of years that comes in minutes.
var generous = []string{"-limits", "ops-second=1000000,ops-burst=1000000,ops-day=10000000,books-day=100000"}

// fillNotebook brews for more than a year on a phone without a screen, until
// everything is shared. What it stored is what a browser would have stored.
func fillNotebook(origin string, brews int) ([]app.StoredRecord, error) {
	var ago atomic.Int64
	ago.Store(int64(brews) * int64(betweenBrews))
	disk := native.NewDisk()
	vega := native.Open(origin, disk, native.At(func() time.Time { return time.Now().Add(-time.Duration(ago.Load())) }))
	defer vega.Close()
	pass := func(d time.Duration) { ago.Add(-int64(d)) }
	if _, err := native.Do[app.Nothing](vega, app.CmdNotebookName, app.NotebookName{Name: "Vega"}); err != nil {
		return nil, err
	}
	for i := range brews {
		if err := brew(vega, i, pass); err != nil {
			return nil, fmt.Errorf("brew %d: %w", i, err)
		}
	}
	if _, err := native.SeeWithin(vega, time.Minute, app.ViewSync, app.Nothing{}, func(s app.SyncView) bool {
		return s.Waiting == 0 && s.OnItsWay == 0
	}); err != nil {
		return nil, err
	}
	bench, err := native.Now[app.BenchView](vega, app.ViewBench, app.Nothing{})
	if err != nil || bench.Brews != brews {
		return nil, fmt.Errorf("the notebook has %d brews (%w)", bench.Brews, err)
	}
	if err := rested(vega, disk); err != nil {
		return nil, err
	}
	vega.Close()
	return disk.Records(), nil
}

// rested looks for a brew, which reads all of them, and waits until the months are packed and the book's snapshot is written, as
// they are after a quiet moment.
func rested(phone *native.Phone, disk *native.Disk) error {
	search := app.BrewsParams{Limit: 1, Search: app.BrewSearch{Words: "valley"}}
	if _, err := native.Now[app.BrewsView](phone, app.ViewBrews, search); err != nil {
		return err
	}
	const few = 64
	for deadline := time.Now().Add(time.Minute); time.Now().Before(deadline); time.Sleep(100 * time.Millisecond) {
		loose, tail := 0, 0
		for _, record := range disk.Records() {
			if strings.HasPrefix(record.Key, "cold/app/brews/") && !strings.HasSuffix(record.Key, "/packed") {
				loose++
			}
			if strings.Contains(record.Key, "/tail/") {
				tail++
			}
		}
		if loose < few && tail <= 1 {
			return nil
		}
	}
	return errors.New("the notebook does not come to rest")
}

// brew is one evening's cup: planned, poured by the clock, noted.
func brew(phone *native.Phone, i int, pass func(time.Duration)) error {
	setup := app.BrewSetup{
		Coffee: fmt.Sprintf("from the valley shop, bag %d", i/12), Method: "drip", Brewer: "cone, 60 degrees", Filter: "paper",
		Dose: 15, Ratio: 16, Kettle: 92, Grinder: "conical, 40 clicks a turn", Grind: fmt.Sprint(20 + i%9),
	}
	made, err := native.Do[app.BrewStarted](phone, app.CmdBrewStart, app.BrewStart{Setup: setup, Run: true})
	if err != nil {
		return err
	}
	for _, mark := range []app.BrewMark{{Mark: "bloom", Grams: 45}, {Mark: "pour", Grams: 150}, {Mark: "pour", Grams: 240}, {Mark: "end"}} {
		pass(40 * time.Second)
		mark.Book, mark.Brew = made.Book, made.Brew
		if _, err := native.Do[app.Nothing](phone, app.CmdBrewMark, mark); err != nil {
			return err
		}
	}
	pass(10 * time.Minute)
	outcome := app.BrewOutcome{Drawdown: 165 + float64(i%20), Beverage: 208, Notes: "A little sweeter than yesterday, dry at the end; one click coarser next."}
	_, err = native.Do[app.Nothing](phone, app.CmdBrewSave, app.BrewSave{Book: made.Book, Brew: made.Brew, Outcome: outcome})
	pass(betweenBrews - 10*time.Minute - 160*time.Second)
	return err
}
