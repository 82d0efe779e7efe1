package browser

import (
	"context"
	"fmt"
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
	if err := p.Eval(set, nil); err != nil {
		p.fail("cannot set the clock: %v", err)
	}
	p.b.mu.Lock()
	workers := append([]context.Context{}, p.workers...)
	p.b.mu.Unlock()
	reached := 0
	for _, worker := range workers {
		ctx, cancel := context.WithTimeout(worker, 2*time.Second)
		_, err := chromedp.Call(ctx, runtime.Evaluate, runtime.EvaluateParams{Expression: set})
		cancel()
		if err == nil { // those of earlier pages are gone
			reached++
		}
	}
	if reached == 0 {
		p.fail("no worker has a clock to set")
	}
}
