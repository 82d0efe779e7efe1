// Package browser drives headless Chromium as the phones and laptops of a club.
//
//	b := browser.Launch(t)
//	vega := b.Phone("vega", server.Address())
//	vega.Open("/club")
//	vega.Tap("Start a club")
//	vega.Fill("Name of the club", "Observatory")
//	vega.See("Observatory")
//
// Each Phone is a browser context of its own (its own storage, service workers
// and cookies) and reaches the server through its own line.Line, so one phone
// can be cut off while the others go on.
//
// A test speaks to a screen as a person or a screen reader does: by role and
// accessible name, read from Chromium's accessibility tree, and taps land where
// a finger would. Whatever has no name or is covered cannot be tapped. All waits
// poll until a deadline and then fail the test with what stands on the screen
// and a picture of it. An error on the console of a page or of any worker fails
// the test unless it was allowed.
package browser

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/target"
	"github.com/chromedp/chromedp"

	"hushcup/e2e/line"
)

// Patience is how long a wait lasts before it fails the test.
const Patience = 15 * time.Second

// Browser is one Chromium process.
type Browser struct {
	t   testing.TB
	ctx context.Context

	mu     sync.Mutex
	phones []*Phone
	tabs   []*Tab // all that ever were

	said *said

	tending   sync.Mutex
	opened    int    // how many tabs were opened again after a crash
	forgiven  string // the one crash that was
	condemned bool   // by a crash that was not
}

// Launch starts Chromium; it ends with the test.
func Launch(t testing.TB) *Browser {
	t.Helper()
	program, err := Program()
	if err != nil {
		t.Fatalf("browser: %v", err)
	}
	// Its profile and everything it leaves in its temporary folder.
	folder, err := os.MkdirTemp("", "hushcup-browser-")
	if err != nil {
		t.Fatalf("browser: %v", err)
	}
	said := &said{}
	options := append(Options(program, folder), chromedp.CombinedOutput(said))
	allocator, stopAllocator := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, stop := chromedp.NewContext(allocator,
		chromedp.WithLogf(quiet), chromedp.WithErrorf(quiet))
	t.Cleanup(func() { stop(); stopAllocator(); os.RemoveAll(folder) })
	if err := chromedp.Do(ctx); err != nil {
		t.Fatalf("browser: %s does not start: %v", program, err)
	}
	b := &Browser{t: t, ctx: ctx, said: said}
	if err := b.watchWorkers(); err != nil {
		t.Fatalf("browser: %v", err)
	}
	return b
}

// quiet drops what chromedp would print about events that come after a tab has
// been closed.
func quiet(string, ...any) {}

// Options start Chromium with a profile inside folder.
func Options(program, folder string) []chromedp.ExecAllocatorOption {
	return append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(program),
		chromedp.UserDataDir(filepath.Join(folder, "profile")),
		chromedp.Env("TMPDIR="+folder),
		chromedp.NoSandbox, // its sandbox refuses to run as root, as CI does
		chromedp.DisableGPU,
		chromedp.Flag("disable-quic", true),
		// The browser itself stays silent, so that any host but the server that is
		// asked for was asked for by the app.
		chromedp.Flag("disable-features", "Translate,AutofillServerCommunication,OptimizationHints,MediaRouter,"+
			"CertificateTransparencyComponentUpdater,DialMediaRouteProvider"),
		chromedp.Flag("disable-component-update", true),
		chromedp.Flag("hide-scrollbars", true),
		chromedp.Flag("mute-audio", true),
		chromedp.WSURLReadTimeout(time.Minute),
	)
}

// Program is the path of Chromium, where e2e/setup puts it.
func Program() (string, error) {
	if program := os.Getenv("HUSHCUP_CHROMIUM"); program != "" {
		return program, nil
	}
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if program, err := exec.LookPath(name); err == nil {
			return program, nil
		}
	}
	return "", fmt.Errorf("there is no Chromium on this machine: run e2e/setup, or set HUSHCUP_CHROMIUM to its path")
}

// Phone takes a new phone out of its box: 390 x 844 points, touch, no storage.
// The server is a host and port.
func (b *Browser) Phone(name, server string) *Phone { return b.device(name, server, PhoneSize) }

// Laptop is a device with a wide screen and a mouse.
func (b *Browser) Laptop(name, server string) *Phone { return b.device(name, server, LaptopSize) }

func (b *Browser) device(name, server string, size Size) *Phone {
	b.t.Helper()
	road, err := line.Open(server)
	if err != nil {
		b.t.Fatalf("%s: %v", name, err)
	}
	b.t.Cleanup(road.Close)
	made, err := chromedp.CallBrowser(b.ctx, target.CreateBrowserContext, target.CreateBrowserContextParams{
		ProxyServer: "http://" + road.Address(),
		// Without this, loopback addresses would go around the line.
		ProxyBypassList: "<-loopback>",
	})
	if err != nil {
		b.t.Fatalf("%s: %v", name, err)
	}
	p := &Phone{
		Line:    road,
		b:       b,
		name:    name,
		origin:  "http://" + server,
		context: made.BrowserContextID,
		size:    size,
		console: &console{},
	}
	b.mu.Lock()
	b.phones = append(b.phones, p)
	b.mu.Unlock()
	b.t.Cleanup(p.putAway)
	p.Tab = p.newTab()
	return p
}

// putAway judges the console, and a crash that nobody has met yet, and ends the phone.
func (p *Phone) putAway() {
	p.tellFallen()
	if complaints := p.console.list(); len(complaints) > 0 {
		p.b.t.Errorf("%s: errors on the console:\n\t%s", p.name, strings.Join(complaints, "\n\t"))
	}
	if strangers := p.Line.Strangers(); len(strangers) > 0 {
		p.b.t.Errorf("%s: the app tried to reach other hosts than its server: %q", p.name, strangers)
	}
	_, _ = chromedp.CallBrowser(p.b.ctx, target.DisposeBrowserContext,
		target.DisposeBrowserContextParams{BrowserContextID: p.context})
}
