package browser

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"

	"github.com/chromedp/cdproto/page"
)

// Shot keeps a picture of the screen in e2e/shots/<test>/, numbered per phone.
// The folder is not committed: it is there to be looked at.
func (p *Phone) Shot(name string) string {
	p.b.t.Helper()
	path, err := p.Tab.shoot(name)
	if err != nil {
		p.fail("no picture %q: %v", name, err)
	}
	return path
}

func (tab *Tab) shoot(name string) (string, error) {
	var taken page.CaptureScreenshotResult
	err := tab.steady(func(ctx context.Context) (err error) {
		taken, err = call(ctx, page.CaptureScreenshot, page.CaptureScreenshotParams{})
		return err
	})
	if err != nil {
		return "", err
	}
	p := tab.phone
	p.shots++
	folder := filepath.Join(shotsFolder(), plain(p.b.t.Name()))
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return "", err
	}
	path := filepath.Join(folder, fmt.Sprintf("%s-%02d-%s-%d.png", plain(p.name), p.shots, plain(name), p.size.Width))
	return path, os.WriteFile(path, []byte(taken.Data), 0o644)
}

var unplain = regexp.MustCompile(`[^A-Za-z0-9]+`)

func plain(name string) string { return strings.Trim(unplain.ReplaceAllString(name, "-"), "-") }

// shotsFolder is e2e/shots, wherever the test runs.
func shotsFolder() string {
	_, here, _, _ := runtime.Caller(0)
	return filepath.Join(filepath.Dir(here), "..", "shots")
}

// ShotWhole keeps a picture of the whole page, as long as it is.
func (p *Phone) ShotWhole(name string) string {
	p.b.t.Helper()
	var height float64
	if err := p.look("document.documentElement.scrollHeight", &height); err != nil {
		p.fail("no picture %q: %v", name, err)
	}
	tall := p.size
	tall.Height = max(tall.Height, int64(height))
	p.Resize(tall)
	defer p.Resize(p.size)
	path, err := p.Tab.shoot(name + "-whole")
	if err != nil {
		p.fail("no picture %q: %v", name, err)
	}
	return path
}
