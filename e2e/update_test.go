package e2e

import (
	"io/fs"
	"net/http"
	"net/http/httptest"
	"net/http/httputil"
	"net/url"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"hushcup/e2e/browser"
	"hushcup/e2e/proc"
	"hushcup/pwa"
	"hushcup/server/web"
)

// A new version of the app that comes while a brew is running changes nothing about
// it: the page goes on as it is, and is not even asked. When the brew is saved the new
// version is offered, and takes over with everything there.
func TestAnUpdateDuringABrew(t *testing.T) {
	server := proc.Start(t)
	e := newEvening(t, server)
	p := e.phone("vega")
	opensOffline(t, p)
	brew := startedBrew(p)
	if err := p.Eval("window.hushcupSamePage = true", nil); err != nil {
		t.Fatal(err)
	}

	p.Line.To(nextVersion(t, server))
	comesBack(t, p)
	waitsToTakeOver(t, p)
	p.Hold("swirl", held)
	p.See("40 g")
	p.Follow("/")
	p.See("brewing")
	if p.Sees("A new version is ready") {
		t.Errorf("a new version is offered while a brew is running: %s", p.Text())
	}
	p.Shot("brewing while a new version waits")
	p.Follow(brew)
	var same bool
	if err := p.Eval("window.hushcupSamePage === true", &same); err != nil || !same || version(t, p) != "" {
		t.Fatalf("the page of the running brew was replaced (%v), by version %q", err, version(t, p))
	}
	p.Hold("The bed is dry: stop", held)
	p.See("What came of it")
	p.Fill("Drawdown", "2:40")
	p.Fill("What you noticed", "quince, through two versions")
	p.Tap("Save the brew")
	p.See("quince, through two versions")

	p.Follow("/")
	p.See("A new version is ready")
	p.Shot("a new version is ready")
	p.Axe()
	p.Tap("Use it now")
	if !soon(func() bool { return version(t, p) == nextName }) {
		t.Fatalf("the new version does not take over: the page is of version %q", version(t, p))
	}
	p.Open(brew)
	p.See("quince, through two versions")
	p.Tap("Step by step")
	intact(p)
	if got := version(t, p); got != nextName {
		t.Errorf("the next screen is of version %q", got)
	}
}

// The tab of a running brew is killed while a new version waits, and the network is
// gone: the next start is the new version's, with the clock still running.
func TestAnUpdateByTheNextStart(t *testing.T) {
	server := proc.Start(t)
	e := newEvening(t, server)
	p := e.phone("mira")
	opensOffline(t, p)
	brew := startedBrew(p)
	p.Line.To(nextVersion(t, server))
	comesBack(t, p)
	waitsToTakeOver(t, p)
	p.Offline(true)
	p.KillTab()
	p.Reopen(brew)
	p.See("The bed is dry: stop")
	if got := version(t, p); got != nextName {
		t.Errorf("the start after the update is of version %q", got)
	}
	p.Shot("the clock in the new version")
	intact(p)
	p.Hold("swirl", held)
	p.Hold("The bed is dry: stop", held)
	p.See("What came of it")
}

// opensOffline waits until the app opens without the network.
func opensOffline(t *testing.T, p *browser.Phone) {
	t.Helper()
	var ready bool
	if !soon(func() bool {
		return p.Eval("!!navigator.serviceWorker.controller", &ready) == nil && ready
	}) {
		t.Fatalf("the app of %s does not install itself", p.Name())
	}
}

// startedBrew starts a clock and notes the bloom.
func startedBrew(p *browser.Phone) (path string) {
	toClock(p.Tab, "Orbital Blend")
	p.Hold("Hold to start the clock", held)
	p.Fill("The scale shows", "40")
	p.Hold("Bloom", held)
	p.See("40 g")
	return p.Path()
}

// intact says that a brew is as it was left.
func intact(p *browser.Phone) {
	p.See("40 g")
	p.See("bloom")
}

// comesBack is somebody who looks at the phone again: then the app asks for updates.
func comesBack(t *testing.T, p *browser.Phone) {
	t.Helper()
	if err := p.Eval(`void document.dispatchEvent(new Event("visibilitychange"))`, nil); err != nil {
		t.Fatal(err)
	}
}

// waitsToTakeOver waits until the new version is there in full and waits, while the
// old one still has all of its own files.
func waitsToTakeOver(t *testing.T, p *browser.Phone) {
	t.Helper()
	var state string
	if !soon(func() bool {
		err := p.Eval(`(async () => {
			const registration = await navigator.serviceWorker.getRegistration();
			const own = document.querySelector("script[src^='/page-']").src;
			return (registration?.waiting ? "waits" : registration?.installing ? "is fetched" : "is not there") +
				((await caches.match(own)) ? "" : ", and the old one's page is gone");
		})()`, &state)
		return err == nil && state == "waits"
	}) {
		t.Fatalf("the new version %s", state)
	}
}

// version is what the page says of its own build: nothing, or nextName.
func version(t *testing.T, p *browser.Phone) (name string) {
	t.Helper()
	_ = p.Eval(`document.documentElement.dataset.version ?? ""`, &name)
	return name
}

const nextName = "next"

// nextVersion serves the app as another build of it: page, worker and what starts them
// have other names and contents, and the files of the build before are gone, as after
// an upgrade of the server. Everything else is the server's.
func nextVersion(t *testing.T, server *proc.Server) (address string) {
	t.Helper()
	app, err := web.NewApp(os.DirFS(rebuilt(t)))
	if err != nil {
		t.Fatal(err)
	}
	proxy := &httputil.ReverseProxy{Rewrite: func(r *httputil.ProxyRequest) {
		r.SetURL(&url.URL{Scheme: "http", Host: server.Address()})
		r.Out.Host = r.In.Host
	}}
	front := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/socket" || r.URL.Path == "/healthz" {
			proxy.ServeHTTP(w, r)
			return
		}
		app.ServeHTTP(w, r)
	}))
	t.Cleanup(front.Close)
	return front.Listener.Addr().String()
}

// ownName is a file whose name carries a hash, and that a change of the code renames.
var ownName = regexp.MustCompile(`\b(page|worker|early)-[0-9A-Za-z]{8,}\.js\b`)

// revised is the revision of a file without a hash in its name.
var revised = regexp.MustCompile(`(revision"?:")[0-9a-f]([0-9a-f]{15}")`)

// rebuilt writes the built app anew, with other names for what a change of the code
// renames, and a page that says which version it is.
func rebuilt(t *testing.T) (folder string) {
	t.Helper()
	folder = t.TempDir()
	err := fs.WalkDir(pwa.Dist(), ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || path.Ext(name) == ".br" || path.Ext(name) == ".gz" {
			return err
		}
		content, err := fs.ReadFile(pwa.Dist(), name)
		if err != nil {
			return err
		}
		text := string(content)
		switch path.Ext(name) {
		case ".js", ".html":
			text = ownName.ReplaceAllString(text, "$1-NEXT0000.js")
		}
		switch {
		case name == "sw.js":
			text = revised.ReplaceAllString(text, "${1}x${2}")
		case strings.HasPrefix(name, "page-"):
			text += "\n;document.documentElement.dataset.version = \"" + nextName + "\";"
		}
		return os.WriteFile(filepath.Join(folder, ownName.ReplaceAllString(name, "$1-NEXT0000.js")), []byte(text), 0o600)
	})
	if err != nil {
		t.Fatal(err)
	}
	return folder
}
