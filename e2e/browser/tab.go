package browser

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/cdproto/target"
	"github.com/chromedp/chromedp"
)

// Tab is one page on a device.
type Tab struct {
	Patience time.Duration // how long waits last; Patience of the package at first

	phone  *Phone
	target target.ID
	ctx    context.Context
	stop   context.CancelFunc
	closed bool

	life  context.Context // of ctx, until a crash
	die   context.CancelCauseFunc
	clock string // JavaScript that sets the clock as the test did, if it did
}

func (p *Phone) newTab() *Tab {
	p.b.t.Helper()
	tab := &Tab{Patience: Patience, phone: p}
	tab.ctx, tab.stop = chromedp.NewContext(p.b.ctx,
		chromedp.WithExistingBrowserContext(p.context),
		chromedp.WithListener(p.console.listen("page")))
	tab.live()
	// The first run of the long-lived context attaches the tab to it.
	if err := chromedp.Do(tab.ctx); err != nil {
		tab.fail("cannot open a tab: %v", err)
	}
	tab.target = chromedp.FromContext(tab.ctx).Target.TargetID
	p.b.mu.Lock()
	p.b.tabs = append(p.b.tabs, tab)
	p.b.mu.Unlock()
	tab.Resize(p.size)
	return tab
}

func (tab *Tab) setSize(ctx context.Context, size Size) error {
	_, err := call(ctx, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{
		Width: size.Width, Height: size.Height, DeviceScaleFactor: size.Scale, Mobile: size.Touch,
	})
	if err != nil {
		return err
	}
	_, err = call(ctx, emulation.SetTouchEmulationEnabled,
		emulation.SetTouchEmulationEnabledParams{Enabled: size.Touch})
	return err
}

// Resize changes the size of the screen.
func (tab *Tab) Resize(size Size) {
	tab.t().Helper()
	set := func(ctx context.Context) error { return tab.setSize(ctx, size) }
	if err := tab.steady(set); err != nil {
		tab.fail("cannot set the size: %v", err)
	}
}

// Dusk makes the system ask for the dark theme, or the light one again.
func (tab *Tab) Dusk(dark bool) {
	tab.t().Helper()
	scheme := "light"
	if dark {
		scheme = "dark"
	}
	if err := tab.askFor(&emulation.MediaFeature{Name: "prefers-color-scheme", Value: scheme}); err != nil {
		tab.fail("cannot set the theme: %v", err)
	}
}

// askFor makes the system ask for these, and for nothing else.
func (tab *Tab) askFor(features ...*emulation.MediaFeature) error {
	return tab.steady(func(ctx context.Context) error {
		_, err := call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: features})
		return err
	})
}

// Throttle makes the page's processor slower by the factor. Workers are not
// slowed: Chromium cannot.
func (tab *Tab) Throttle(factor float64) {
	tab.t().Helper()
	err := tab.steady(func(ctx context.Context) error {
		_, err := call(ctx, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: factor})
		return err
	})
	if err != nil {
		tab.fail("cannot throttle: %v", err)
	}
}

// Open goes to a path of the app, or to a whole address such as an invitation,
// and waits until the document has been read.
func (tab *Tab) Open(path string) {
	tab.t().Helper()
	address := tab.phone.address(path)
	tab.clock = ""
	err := tab.steady(func(ctx context.Context) error {
		answer, err := call(ctx, page.Navigate, page.NavigateParams{URL: address})
		if err == nil && answer.ErrorText != "" {
			err = errors.New(answer.ErrorText)
		}
		return err
	})
	if err != nil {
		tab.fail("cannot open %s: %v", address, err)
	}
	tab.waitRead()
}

// Reload loads the page anew.
func (tab *Tab) Reload() {
	tab.t().Helper()
	ctx, cancel := tab.brief()
	defer cancel()
	tab.clock = ""
	// A mark that the new document will not have: until it is gone, what is
	// seen is still the old page.
	err := tab.evaluate(ctx, "window.hushcupBeforeReload = true", nil)
	if err == nil {
		_, err = call(ctx, page.Reload, page.ReloadParams{})
	}
	if err != nil && !crashed(err) { // after a crash it is loaded anew in any case
		tab.fail("cannot reload: %v", err)
	}
	tab.wait("the page to load again", func() (bool, string) {
		var fresh bool
		err := tab.Eval("window.hushcupBeforeReload === undefined", &fresh)
		return err == nil && fresh, fmt.Sprint(err)
	})
	tab.waitRead()
}

// Back does what the back button does.
func (tab *Tab) Back() {
	tab.t().Helper()
	if err := tab.underWay("the way back", tab.Eval("history.back()", nil)); err != nil {
		tab.fail("cannot go back: %v", err)
	}
}

// Path is the path and the fragment of the address bar.
func (tab *Tab) Path() string {
	tab.t().Helper()
	var path string
	if err := tab.look("location.pathname + location.search + location.hash", &path); err != nil {
		tab.fail("cannot read the address: %v", err)
	}
	return path
}

func (tab *Tab) waitRead() {
	tab.t().Helper()
	tab.wait("the page to load", func() (bool, string) {
		var state string
		err := tab.Eval("document.readyState", &state)
		return err == nil && state != "loading", state
	})
}

// Eval runs JavaScript in the page, awaits it, and decodes what it gives into
// result, unless that is nil. The Content-Security-Policy does not bind it. If the
// tab crashes under it, it gives an error and is not run again: only the test
// knows whether it may be.
func (tab *Tab) Eval(expression string, result any) error {
	tab.t().Helper()
	ctx, cancel := tab.brief()
	defer cancel()
	return tab.evaluate(ctx, expression, result)
}

func (tab *Tab) evaluate(ctx context.Context, expression string, result any) error {
	yes := true
	answer, err := call(ctx, runtime.Evaluate, runtime.EvaluateParams{
		Expression: expression, AwaitPromise: &yes, ReturnByValue: &yes, UserGesture: &yes,
	})
	if err != nil {
		return err
	}
	if answer.ExceptionDetails != nil {
		return fmt.Errorf("javascript: %s", describe(answer.ExceptionDetails))
	}
	if result == nil || len(answer.Result.Value) == 0 {
		return nil
	}
	return json.Unmarshal(answer.Result.Value, result)
}

func (tab *Tab) crash() {
	tab.t().Helper()
	ctx, cancel := tab.brief()
	defer cancel()
	tab.closed = true // before the crash, which is not to be mended
	_, _ = call(ctx, page.Crash, struct{}{})
	<-ctx.Done()
	if _, fell := tab.fallen(); !fell {
		tab.fail("the tab does not crash")
	}
	tab.close()
}

func (tab *Tab) close() {
	tab.closed = true
	tab.stop()
}

// brief bounds one exchange with the browser.
func (tab *Tab) brief() (context.Context, context.CancelFunc) {
	tab.t().Helper()
	tab.phone.b.tend()
	return context.WithTimeout(tab.living(), 2*Patience)
}

// wait polls until met says yes; what it saw last goes into the failure. After a
// crash that is forgiven it has its whole patience again.
func (tab *Tab) wait(what string, met func() (bool, string)) {
	tab.t().Helper()
	tab.waitFor(tab.Patience, what, met)
}

func (tab *Tab) waitFor(patience time.Duration, what string, met func() (bool, string)) {
	tab.t().Helper()
	opened, deadline := tab.phone.b.tend(), time.Now().Add(patience)
	for pause := 10 * time.Millisecond; ; pause = min(2*pause, 100*time.Millisecond) {
		ok, saw := met()
		if ok {
			return
		}
		if now := tab.phone.b.tend(); now != opened {
			opened, deadline = now, time.Now().Add(patience)
			continue
		}
		if time.Now().After(deadline) {
			tab.fail("waited %v for %s; last: %s", patience, what, saw)
		}
		time.Sleep(pause)
	}
}
