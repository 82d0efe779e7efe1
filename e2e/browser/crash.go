package browser

import (
	"context"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/target"
	"github.com/chromedp/chromedp"
)

// Debian's Chromium ends a page's process now and then by itself, about once in
// fifteen runs of all tests: a check in its script engine fails ("Invoke in
// DisallowJavascriptExecutionScope"), of a scope that only Chromium's own code
// enters. So one such crash in a test is forgiven: it is logged, and the tab is
// opened again where it stood, as a person would do it. A crash that the app causes
// comes again when the app is back where it was, and the second one fails the test.
// Nor is a process forgiven that did not crash but was ended, or that says that its
// memory ran out: an app can cause that, if it asks for too much.

// crash is the end of a tab's process. Whatever was in flight gives it as its
// error, at once.
type crash struct {
	status string // "crashed", or for instance "killed" and "oom killed"
	code   int64
}

func (c crash) Error() string {
	return fmt.Sprintf("the tab's process ended under it (Chromium: %s, %d)", c.status, c.code)
}

func crashed(err error) bool { return errors.As(err, new(crash)) }

// call is chromedp.Call that tells a crash from other ends of its context.
func call[P, R any](ctx context.Context, command cdp.Command[P, R], params P) (R, error) {
	var result R
	err := context.Cause(ctx)
	if err == nil { // else nothing is sent to whatever came after
		result, err = chromedp.Call(ctx, command, params)
	}
	if cause := context.Cause(ctx); err != nil && crashed(cause) {
		err = cause
	}
	return result, err
}

// live begins a life of the tab, which ends with the next crash.
func (tab *Tab) live() {
	b := tab.phone.b
	b.mu.Lock()
	defer b.mu.Unlock()
	tab.life, tab.die = context.WithCancelCause(tab.ctx)
}

func (tab *Tab) living() context.Context {
	b := tab.phone.b
	b.mu.Lock()
	defer b.mu.Unlock()
	return tab.life
}

// fallen is the crash that ended the tab's life, if one did.
func (tab *Tab) fallen() (c crash, fell bool) {
	fell = errors.As(context.Cause(tab.living()), &c)
	return c, fell
}

// noticeCrash ends the life of the tab whose process has ended.
func (b *Browser) noticeCrash(event *target.EventTargetCrashed) {
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, tab := range b.tabs {
		if tab.target == event.TargetID {
			tab.die(crash{event.Status, event.ErrorCode})
		}
	}
}

func (b *Browser) allTabs() []*Tab {
	b.mu.Lock()
	defer b.mu.Unlock()
	return slices.Clone(b.tabs)
}

// tend opens every tab again that crashed without being asked to, and says how
// often it did. It comes before every exchange with any tab of the browser and
// within every wait: a phone that nobody looks at may be waited for by another.
func (b *Browser) tend() (opened int) {
	b.t.Helper()
	b.tending.Lock()
	defer b.tending.Unlock()
	for _, tab := range b.allTabs() {
		for !b.condemned {
			fall, fell := tab.fallen()
			if !fell || tab.closed {
				break
			}
			if verdict := b.judge(tab, fall); verdict != "" {
				b.condemned = true
				b.t.Fatalf("%s", verdict)
			}
			b.opened++
			if err := tab.openAgain(); err != nil && !crashed(err) {
				b.condemned = true
				b.t.Fatalf("%s: the crashed tab cannot be opened again: %v", tab.phone.name, err)
			}
		}
	}
	return b.opened
}

// outOfMemory is how Chromium, its script engine or its allocator say that they are.
var outOfMemory = regexp.MustCompile(`(?i)out of memory|\bOOM \(|Last few GCs`)

// judge logs a crash that is forgiven, and says what is wrong with one that is not.
func (b *Browser) judge(tab *Tab, fall crash) (verdict string) {
	b.t.Helper()
	where := "an unknown address"
	info, err := chromedp.CallBrowser(b.ctx, target.GetTargetInfo, target.GetTargetInfoParams{TargetID: tab.target})
	if err == nil {
		where = info.TargetInfo.URL
	}
	what := fmt.Sprintf("%s: Chromium's process of the tab at %s ended by itself (%s, %d)",
		tab.phone.name, where, fall.status, fall.code)
	switch {
	case fall.status != "crashed" || outOfMemory.MatchString(b.said.String()):
		return what + "; that is no crash of Chromium's own, but looks like memory that ran out"
	case b.forgiven != "":
		return what + "; one such crash in a test is forgiven, and this is the second after\n\t" + b.forgiven
	}
	b.forgiven = what
	b.t.Logf("%s. That is a fault of Chromium and forgiven once in a test: the tab is opened again. Chromium said:\n%s",
		what, b.said)
	return ""
}

// tellFallen judges the crashes that nobody has met as the phone is put away.
func (p *Phone) tellFallen() {
	b := p.b
	b.tending.Lock()
	defer b.tending.Unlock()
	for _, tab := range b.allTabs() {
		fall, fell := tab.fallen()
		if !fell || tab.phone != p || tab.closed || b.condemned {
			continue
		}
		if verdict := b.judge(tab, fall); verdict != "" {
			b.t.Errorf("%s", verdict)
		}
	}
}

// openAgain loads the page of a crashed tab at the same address. The session with the
// tab outlives the crash, and with it the history, the listeners and everything that
// was set through it: Chromium itself sets size, theme, quota and the like again in
// the new process. Only the clock was set in the page.
func (tab *Tab) openAgain() error {
	tab.live()
	ctx, cancel := context.WithTimeout(tab.living(), 2*Patience)
	defer cancel()
	if _, err := call(ctx, page.Reload, page.ReloadParams{}); err != nil {
		return err
	}
	if tab.phone.size.Touch {
		// A finger that was down stays down for Chromium, which would then take the
		// next one for no touch. Mostly there was none, and that is an error.
		_, _ = call(ctx, input.DispatchTouchEvent, input.DispatchTouchEventParams{
			Type: input.DispatchTouchEventTypeTouchCancel, TouchPoints: []*input.TouchPoint{}})
	}
	if err := tab.settle(ctx); err != nil {
		return err
	}
	if tab.clock == "" {
		return nil
	}
	return tab.restoreClock(ctx)
}

// settle waits until the screen reads the same for a moment, for who was about to
// read it does not wait for it again. One that never rests is taken as it is.
func (tab *Tab) settle(ctx context.Context) error {
	const reading = "document.readyState === 'complete' && document.body ? document.body.innerText : ''"
	var before, now string
	for rest, tries := 0, 0; rest < 10 && tries < 100; tries++ {
		if err := tab.evaluate(ctx, reading, &now); err != nil {
			if ctx.Err() != nil {
				return err
			}
			now = "" // the document was just replaced
		}
		if rest++; now == "" || now != before {
			rest = 0
		}
		before = now
		time.Sleep(50 * time.Millisecond)
	}
	return nil
}

// steady does what may be done twice, and does it again if the tab crashes under
// it. Once is enough: a second crash ends the test.
func (tab *Tab) steady(do func(context.Context) error) error {
	tab.t().Helper()
	once := func() error {
		ctx, cancel := tab.brief()
		defer cancel()
		return do(ctx)
	}
	err := once()
	if crashed(err) {
		err = once()
	}
	return err
}

// look is Eval for an expression that only reads.
func (tab *Tab) look(expression string, result any) error {
	tab.t().Helper()
	return tab.steady(func(ctx context.Context) error { return tab.evaluate(ctx, expression, result) })
}

// underWay judges the error of an act that must not be done twice. If the tab
// crashed under it, nobody knows whether the page had it: it counts as done, and
// whatever the test waits for next tells.
func (tab *Tab) underWay(what string, err error) error {
	tab.t().Helper()
	if !crashed(err) {
		return err
	}
	tab.t().Logf("%s: %s was under way as the tab crashed: it counts as done", tab.phone.name, what)
	return nil
}
