package browser

import (
	"context"
	"encoding/json"
	"slices"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// CrashByItself ends the tab's process as Chromium does now and then: nothing of
// the harness has asked for it. It returns when the harness has heard of it.
func (tab *Tab) CrashByItself() {
	life := tab.living()
	_, _ = chromedp.Call(life, page.Crash, struct{}{})
	<-life.Done()
}

// EndFromOutside ends the tab's process by a signal, as a system does that is
// short of memory.
func (tab *Tab) EndFromOutside() {
	life := tab.living()
	go func() { _, _ = chromedp.Call(life, page.Navigate, page.NavigateParams{URL: "chrome://kill"}) }()
	<-life.Done()
}

// WorkersAhead is by how much the clocks of the workers that live go before.
func (p *Phone) WorkersAhead() (ahead []time.Duration) {
	p.b.mu.Lock()
	workers := slices.Clone(p.workers)
	p.b.mu.Unlock()
	for _, worker := range workers {
		ctx, cancel := context.WithTimeout(worker.ctx, 2*time.Second)
		answer, err := chromedp.Call(ctx, runtime.Evaluate, runtime.EvaluateParams{
			Expression: "Date.now() - performance.timeOrigin - performance.now()",
		})
		cancel()
		var ms float64
		if err == nil && worker.ofPage && json.Unmarshal(answer.Result.Value, &ms) == nil {
			ahead = append(ahead, time.Duration(ms)*time.Millisecond)
		}
	}
	return ahead
}

// HasFallen reports whether the tab has crashed and does not stand again.
func (tab *Tab) HasFallen() bool { return context.Cause(tab.living()) != nil }
