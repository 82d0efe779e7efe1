package browser

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// SetClock sets the phone's clock that much forward, or back, while the app runs: for
// the page in front and for its workers. What counts the time since the app began
// goes on as it was, as on a real phone. A new page or worker has the right time.
func (p *Phone) SetClock(by time.Duration) {
	p.b.t.Helper()
	set := fmt.Sprintf(`(() => {
		const real = self.rightNow ??= Date.now.bind(Date);
		Date.now = () => real() + %d;
		return Date.now();
	})()`, by.Milliseconds())
	p.Tab.clock = set
	if err := p.look(set, nil); err != nil {
		p.fail("cannot set the clock: %v", err)
	}
	if p.setWorkers(set) == 0 {
		p.fail("no worker has a clock to set")
	}
}

// setWorkers tells how many workers of pages have a clock that could be set.
func (p *Phone) setWorkers(set string) (reached int) {
	p.b.mu.Lock()
	workers := slices.Clone(p.workers)
	p.b.mu.Unlock()
	for _, worker := range workers {
		ctx, cancel := context.WithTimeout(worker.ctx, 2*time.Second)
		_, err := chromedp.Call(ctx, runtime.Evaluate, runtime.EvaluateParams{Expression: set})
		cancel()
		if err == nil && worker.ofPage { // those of earlier pages are gone
			reached++
		}
	}
	return reached
}

// restoreClock sets the clock again of the page that came back, and of its workers,
// which may come later than the page.
func (tab *Tab) restoreClock(ctx context.Context) error {
	if err := tab.evaluate(ctx, tab.clock, nil); err != nil {
		return err
	}
	for tab.phone.setWorkers(tab.clock) == 0 {
		if ctx.Err() != nil {
			return errors.New("no worker has a clock to set")
		}
		time.Sleep(50 * time.Millisecond)
	}
	return nil
}
