package browser

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"sync"

	"github.com/chromedp/cdproto/cdp"
	devlog "github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/cdproto/target"
	"github.com/chromedp/chromedp"
)

// console collects what a phone's page and workers complain about.
type console struct {
	mu         sync.Mutex
	complaints []complaint
	allowed    []string
	network    bool
}

type complaint struct {
	text    string
	network bool // the browser's own report of a failed load
}

func (c *console) allow(texts ...string) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.allowed = append(c.allowed, texts...)
}

func (c *console) allowNetwork() {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.network = true
}

func (c *console) add(network bool, where, format string, args ...any) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.complaints = append(c.complaints, complaint{where + ": " + fmt.Sprintf(format, args...), network})
}

// list is what remains after what was allowed.
func (c *console) list() []string {
	c.mu.Lock()
	defer c.mu.Unlock()
	var list []string
	for _, complaint := range c.complaints {
		excused := complaint.network && c.network ||
			slices.ContainsFunc(c.allowed, func(text string) bool { return strings.Contains(complaint.text, text) })
		if !excused {
			list = append(list, complaint.text)
		}
	}
	return list
}

// listen returns a listener for the events of a page or worker.
func (c *console) listen(where string) func(any) {
	return func(event any) {
		switch event := event.(type) {
		case *runtime.EventConsoleAPICalled:
			if event.Type == runtime.ConsoleAPICalledTypeError || event.Type == runtime.ConsoleAPICalledTypeAssert {
				c.add(false, where, "%s", spell(event.Args))
			}
		case *runtime.EventExceptionThrown:
			c.add(false, where, "%s", describe(event.ExceptionDetails))
		case *devlog.EventEntryAdded:
			if event.Entry.Level == devlog.EntryLevelError {
				network := event.Entry.Source == devlog.EntrySourceNetwork ||
					strings.Contains(event.Entry.Text, "net::ERR_") || strings.Contains(event.Entry.Text, "WebSocket")
				c.add(network, where, "%s (%s)", event.Entry.Text, event.Entry.URL)
			}
		}
	}
}

func spell(args []*runtime.RemoteObject) string {
	words := make([]string, 0, len(args))
	for _, arg := range args {
		if len(arg.Value) > 0 {
			words = append(words, string(arg.Value))
		} else {
			words = append(words, arg.Description)
		}
	}
	return strings.Join(words, " ")
}

func describe(details *runtime.ExceptionDetails) string {
	text := details.Text
	if details.Exception != nil && details.Exception.Description != "" {
		text += " " + details.Exception.Description
	}
	return fmt.Sprintf("%s (%s:%d)", text, details.URL, details.LineNumber+1)
}

// watchWorkers listens to the console of every worker and service worker as it
// appears: a page does not hear its workers' errors. It hears of crashed tabs, too.
func (b *Browser) watchWorkers() error {
	if err := chromedp.ListenBrowser(b.ctx, func(event any) {
		if ended, ok := event.(*target.EventTargetCrashed); ok {
			b.noticeCrash(ended)
			return
		}
		created, ok := event.(*target.EventTargetCreated)
		if !ok {
			return
		}
		switch info := created.TargetInfo; info.Type {
		case "worker", "service_worker", "shared_worker":
			go b.watchWorker(info)
		}
	}); err != nil {
		return err
	}
	_, err := chromedp.CallBrowser(b.ctx, target.SetDiscoverTargets, target.SetDiscoverTargetsParams{Discover: true})
	return err
}

// worker is one of a page, or else one that serves all pages.
type worker struct {
	ctx    context.Context
	ofPage bool
}

func (b *Browser) watchWorker(info *target.Info) {
	p := b.phoneOf(info.BrowserContextID)
	if p == nil {
		return
	}
	ctx, _ := chromedp.NewContext(b.ctx,
		chromedp.WithTargetID(info.TargetID),
		chromedp.WithDetachOnCancel(),
		chromedp.WithListener(p.console.listen(info.Type)))
	// A worker may be gone before it is attached to; then it has said nothing.
	if chromedp.Do(ctx) == nil {
		b.mu.Lock()
		p.workers = append(p.workers, worker{ctx, info.Type == "worker"})
		b.mu.Unlock()
	}
}

func (b *Browser) phoneOf(context cdp.BrowserContextID) *Phone {
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, p := range b.phones {
		if p.context == context {
			return p
		}
	}
	return nil
}
