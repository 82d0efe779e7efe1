package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"sync"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/cdproto/target"
	"github.com/chromedp/chromedp"

	"hushcup/e2e/browser"
)

// patience bounds what the browser is waited for.
const patience = time.Minute

// slowness is by how much a phone is slower than this machine: what Chromium
// does to the page, and what is counted for workers, which it cannot slow.
const slowness = 4

// phone is one Chromium with a profile on the disk, as an installed app has it.
type phone struct {
	ctx  context.Context
	stop []func()

	mu      sync.Mutex
	workers []target.ID // dedicated workers, the newest last
}

// openPhone starts Chromium on the profile in folder.
func openPhone(folder string) (*phone, error) {
	program, err := browser.Program()
	if err != nil {
		return nil, err
	}
	p := &phone{}
	quiet := func(string, ...any) {}
	allocator, stopAllocator := chromedp.NewExecAllocator(context.Background(), browser.Options(program, folder)...)
	ctx, stop := chromedp.NewContext(allocator, chromedp.WithLogf(quiet), chromedp.WithErrorf(quiet))
	p.ctx, p.stop = ctx, []func(){stop, stopAllocator}
	err = chromedp.Do(ctx)
	if err == nil {
		err = chromedp.ListenBrowser(ctx, p.noticeWorker)
	}
	if err == nil {
		_, err = chromedp.CallBrowser(ctx, target.SetDiscoverTargets, target.SetDiscoverTargetsParams{Discover: true})
	}
	if err != nil {
		p.close()
		return nil, fmt.Errorf("%s does not start: %w", program, err)
	}
	return p, nil
}

// close ends Chromium in order, so that it keeps what it has in mind.
func (p *phone) close() {
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	_ = chromedp.Cancel(ctx)
	cancel()
	for _, stop := range p.stop {
		stop()
	}
}

func (p *phone) noticeWorker(event any) {
	if created, ok := event.(*target.EventTargetCreated); ok && created.TargetInfo.Type == "worker" {
		p.mu.Lock()
		p.workers = append(p.workers, created.TargetInfo.TargetID)
		p.mu.Unlock()
	}
}

// tab is a page or a worker that expressions can be evaluated in.
type tab struct {
	ctx  context.Context
	stop func()
}

// tab opens a page of a phone's size. Script runs before anything of the page.
func (p *phone) tab(script string) (*tab, error) {
	ctx, stop := chromedp.NewContext(p.ctx)
	t := &tab{ctx, stop}
	if err := chromedp.Do(ctx); err != nil {
		return nil, err
	}
	touch := emulation.SetTouchEmulationEnabledParams{Enabled: true}
	// A phone's graphics processor draws; here a processor does, which need not
	// draw four pixels for one.
	size := emulation.SetDeviceMetricsOverrideParams{Width: 390, Height: 844, DeviceScaleFactor: 1, Mobile: true}
	_, err := chromedp.Call(ctx, emulation.SetDeviceMetricsOverride, size)
	if err == nil {
		_, err = chromedp.Call(ctx, emulation.SetTouchEmulationEnabled, touch)
	}
	if err == nil {
		_, err = chromedp.Call(ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: script})
	}
	return t, err
}

// slow throttles the page's processor.
func (t *tab) slow(factor float64) error {
	_, err := chromedp.Call(t.ctx, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: factor})
	return err
}

func (t *tab) open(address string) error {
	answer, err := chromedp.Call(t.ctx, page.Navigate, page.NavigateParams{URL: address})
	if err == nil && answer.ErrorText != "" {
		err = errors.New(answer.ErrorText)
	}
	return err
}

// inWorker evaluates in the app's worker, and lets go of it again: a worker that
// is watched is slower.
func (p *phone) inWorker(expression string, result any) error {
	worker, err := p.worker()
	if err != nil {
		return err
	}
	defer worker.stop()
	return worker.eval(expression, result)
}

// worker is the app's newest worker, once there is one.
func (p *phone) worker() (*tab, error) {
	for deadline := time.Now().Add(patience); time.Now().Before(deadline); time.Sleep(20 * time.Millisecond) {
		p.mu.Lock()
		list := p.workers
		p.mu.Unlock()
		if len(list) == 0 {
			continue
		}
		ctx, stop := chromedp.NewContext(p.ctx, chromedp.WithTargetID(list[len(list)-1]), chromedp.WithDetachOnCancel())
		return &tab{ctx, stop}, chromedp.Do(ctx)
	}
	return nil, errors.New("the app starts no worker")
}

// eval evaluates JavaScript, awaits it, and decodes what it gives.
func (t *tab) eval(expression string, result any) error {
	ctx, cancel := context.WithTimeout(t.ctx, patience)
	defer cancel()
	yes := true
	answer, err := chromedp.Call(ctx, runtime.Evaluate, runtime.EvaluateParams{
		Expression: expression, AwaitPromise: &yes, ReturnByValue: &yes, UserGesture: &yes,
	})
	if err != nil {
		return err
	}
	if details := answer.ExceptionDetails; details != nil {
		text := details.Text
		if details.Exception != nil {
			text += " " + details.Exception.Description
		}
		return errors.New(text)
	}
	if result == nil || len(answer.Result.Value) == 0 {
		return nil
	}
	return json.Unmarshal(answer.Result.Value, result)
}

// until waits for an expression to be true.
func (t *tab) until(expression string) error {
	last := ""
	for deadline := time.Now().Add(patience); time.Now().Before(deadline); time.Sleep(20 * time.Millisecond) {
		met := false
		if err := t.eval(expression, &met); err != nil {
			last = err.Error()
		} else if met {
			return nil
		}
	}
	var text string
	_ = t.eval("document.body?.innerText ?? ''", &text)
	return fmt.Errorf("waited %v for %s; %s; on the screen: %s", patience, expression, last, strings.Join(strings.Fields(text), " "))
}
