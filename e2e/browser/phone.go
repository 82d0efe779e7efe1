package browser

import (
	"context"
	"strings"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/storage"

	"hushcup/e2e/line"
)

// Phone is one device with its storage. It embeds the tab that is in front.
type Phone struct {
	*Tab
	Line *line.Line // the phone's network, to cut, slow or damage

	b       *Browser
	name    string
	origin  string
	context cdp.BrowserContextID
	size    Size
	console *console
	shots   int
	workers []worker // all that ever ran
	offline bool
}

// Size is a screen in CSS points.
type Size struct {
	Width, Height int64
	Touch         bool
	Scale         float64
}

// The sizes that the design names.
var (
	PhoneSize  = Size{Width: 390, Height: 844, Touch: true, Scale: 2}
	NarrowSize = Size{Width: 320, Height: 640, Touch: true, Scale: 2}
	LaptopSize = Size{Width: 1280, Height: 800, Scale: 1}
)

// Name is what the test calls the phone.
func (p *Phone) Name() string { return p.name }

// Origin is the address of the server as the phone sees it.
func (p *Phone) Origin() string { return p.origin }

// NewTab opens a second tab on the same device and storage. It is not in front
// of the phone: speak to it by itself.
func (p *Phone) NewTab() *Tab { return p.newTab() }

// Offline takes the phone out of reach of the network, or back: for the page,
// its workers and its service worker, and for websockets that stand.
func (p *Phone) Offline(off bool) {
	p.b.t.Helper()
	p.offline = off
	if off {
		p.Line.Cut()
		// What failed to load while offline is no fault of the app.
		p.console.allowNetwork()
	} else {
		p.Line.Mend()
	}
	p.Tab.tellOnline(!off)
}

// tellOnline sets what navigator.onLine says and fires the event that goes with
// it. The truth is made by the line; this is the hint that a real phone gives.
func (tab *Tab) tellOnline(online bool) {
	err := tab.steady(func(ctx context.Context) error {
		_, err := call(ctx, network.OverrideNetworkState, network.OverrideNetworkStateParams{
			Offline: !online, Latency: 0, DownloadThroughput: -1, UploadThroughput: -1,
		})
		return err
	})
	if err != nil {
		tab.fail("cannot tell the page that it is online=%v: %v", online, err)
	}
}

// KillTab ends the tab's process as the system does when memory is short: no
// handler of the page runs. The storage stays.
func (p *Phone) KillTab() {
	p.b.t.Helper()
	p.Tab.crash()
}

// CloseTab closes the tab in order, as a thumb does.
func (p *Phone) CloseTab() {
	p.b.t.Helper()
	p.Tab.close()
}

// Reopen opens a new tab in front, with the storage that is there, on path.
func (p *Phone) Reopen(path string) {
	p.b.t.Helper()
	if !p.Tab.closed {
		p.Tab.close()
	}
	p.Tab = p.newTab()
	if p.offline {
		p.Tab.tellOnline(false)
	}
	p.Open(path)
}

// Quota limits the storage that the phone grants the app, in bytes; a negative
// number lifts the limit.
func (p *Phone) Quota(bytes float64) {
	p.b.t.Helper()
	limit := storage.OverrideQuotaForOriginParams{Origin: p.origin}
	if bytes >= 0 {
		limit.QuotaSize = &bytes
	}
	err := p.steady(func(ctx context.Context) error {
		_, err := call(ctx, storage.OverrideQuotaForOrigin, limit)
		return err
	})
	if err != nil {
		p.fail("cannot set the quota: %v", err)
	}
}

// AllowErrors lets console errors pass that contain one of the texts.
func (p *Phone) AllowErrors(texts ...string) { p.console.allow(texts...) }

// AllowNetworkErrors lets failed loads pass, for phones that are not Offline
// but whose server is stopped.
func (p *Phone) AllowNetworkErrors() { p.console.allowNetwork() }

func (p *Phone) address(path string) string {
	if strings.HasPrefix(path, "http://") || strings.HasPrefix(path, "https://") {
		return path
	}
	return p.origin + "/" + strings.TrimPrefix(path, "/")
}
