package web

import (
	"context"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"testing/fstest"

	"hushcup/sync/relay"
)

var built = fstest.MapFS{
	"index.html":             {Data: []byte("the page")},
	"index.html.br":          {Data: []byte("the page, brotli")},
	"sw.js":                  {Data: []byte("the service worker")},
	"manifest.webmanifest":   {Data: []byte("{}")},
	"page-ABCD2345.js":       {Data: []byte("script")},
	"page-ABCD2345.js.br":    {Data: []byte("script, brotli")},
	"page-ABCD2345.js.gz":    {Data: []byte("script, gzip")},
	"core-0123456789.wasm":   {Data: []byte("core")},
	"letters-A1B2C3D4.woff2": {Data: []byte("font")},
	".keep":                  {Data: []byte("")},
	"only-ABCD2345.js.br":    {Data: []byte("a compressed form of nothing")},
}

func get(t *testing.T, h http.Handler, method, path string, headers ...string) *http.Response {
	t.Helper()
	r := httptest.NewRequest(method, "http://club.example"+path, nil)
	for i := 0; i < len(headers); i += 2 {
		r.Header.Set(headers[i], headers[i+1])
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w.Result()
}

func newApp(t *testing.T) *App {
	t.Helper()
	app, err := NewApp(built)
	if err != nil {
		t.Fatal(err)
	}
	return app
}

func TestFiles(t *testing.T) {
	app := newApp(t)
	const forever, asked = "public, max-age=31536000, immutable", "no-cache"
	for _, c := range []struct {
		path, accept  string
		status        int
		body, coding  string
		kind, caching string
	}{
		{"/", "", 200, "the page", "", "text/html; charset=utf-8", asked},
		{"/", "br", 200, "the page, brotli", "br", "text/html; charset=utf-8", asked},
		{"/flights/417", "", 200, "the page", "", "text/html; charset=utf-8", asked},
		{"/index.html", "", 200, "the page", "", "text/html; charset=utf-8", asked},
		{"/sw.js", "br, gzip", 200, "the service worker", "", "text/javascript; charset=utf-8", asked},
		{"/manifest.webmanifest", "", 200, "{}", "", "application/manifest+json", asked},
		{"/page-ABCD2345.js", "", 200, "script", "", "text/javascript; charset=utf-8", forever},
		{"/page-ABCD2345.js", "gzip, deflate, br", 200, "script, brotli", "br", "text/javascript; charset=utf-8", forever},
		{"/page-ABCD2345.js", "gzip, br;q=0", 200, "script, gzip", "gzip", "text/javascript; charset=utf-8", forever},
		{"/page-ABCD2345.js", "gzip;q=0.0, br; q=0.5", 200, "script, brotli", "br", "text/javascript; charset=utf-8", forever},
		{"/page-ABCD2345.js", "brotli", 200, "script", "", "text/javascript; charset=utf-8", forever},
		{"/core-0123456789.wasm", "br", 200, "core", "", "application/wasm", forever},
		{"/letters-A1B2C3D4.woff2", "", 200, "font", "", "font/woff2", forever},
		{"/page-OLD12345.js", "", 404, "there is nothing here\n", "", "text/plain; charset=utf-8", asked},
		{"/only-ABCD2345.js", "br", 404, "there is nothing here\n", "", "text/plain; charset=utf-8", asked},
		{"/.keep", "", 404, "there is nothing here\n", "", "text/plain; charset=utf-8", asked},
		{"/../web.go", "", 404, "there is nothing here\n", "", "text/plain; charset=utf-8", asked},
	} {
		a := get(t, app, http.MethodGet, c.path, "Accept-Encoding", c.accept)
		body, _ := io.ReadAll(a.Body)
		got := []any{a.StatusCode, string(body), a.Header.Get("Content-Encoding"), a.Header.Get("Content-Type"), a.Header.Get("Cache-Control")}
		for i, want := range []any{c.status, c.body, c.coding, c.kind, c.caching} {
			if got[i] != want {
				t.Errorf("%s (%q): %q, want %q", c.path, c.accept, got[i], want)
			}
		}
	}
}

func TestAFileThatIsTheSameIsNotSentAgain(t *testing.T) {
	app := newApp(t)
	plain := get(t, app, http.MethodGet, "/").Header.Get("ETag")
	brotli := get(t, app, http.MethodGet, "/", "Accept-Encoding", "br").Header.Get("ETag")
	if plain == "" || plain == brotli {
		t.Fatalf("marks %q and %q", plain, brotli)
	}
	if a := get(t, app, http.MethodGet, "/", "If-None-Match", "W/"+plain); a.StatusCode != http.StatusNotModified {
		t.Errorf("the same page is answered %d", a.StatusCode)
	}
	if a := get(t, app, http.MethodGet, "/", "If-None-Match", brotli); a.StatusCode != http.StatusOK {
		t.Errorf("another form is answered %d", a.StatusCode)
	}
}

func TestMethods(t *testing.T) {
	app := newApp(t)
	head := get(t, app, http.MethodHead, "/")
	if body, _ := io.ReadAll(head.Body); len(body) != 0 || head.Header.Get("Content-Length") != "8" {
		t.Errorf("HEAD brings %q of %s", body, head.Header.Get("Content-Length"))
	}
	if a := get(t, app, http.MethodPost, "/"); a.StatusCode != http.StatusMethodNotAllowed {
		t.Errorf("POST is answered %d", a.StatusCode)
	}
}

func TestAFolderWithoutAPageIsNoApp(t *testing.T) {
	if _, err := NewApp(fstest.MapFS{"sw.js": {}}); err == nil {
		t.Error("taken")
	}
}

// The only unsafe word in the policy is the one that WebAssembly needs.
func TestThePolicyIsStrict(t *testing.T) {
	h := Secure(newApp(t), relay.NewHosts("club.example").Has)
	answer := get(t, h, http.MethodGet, "/")
	policy := answer.Header.Get("Content-Security-Policy")
	for _, rule := range []string{"default-src 'none'", "script-src 'self' 'wasm-unsafe-eval'", "style-src 'self'", "connect-src 'self' ws://club.example wss://club.example",
		"img-src 'self' data: blob:", "font-src 'self'", "manifest-src 'self'", "worker-src 'self'", "base-uri 'none'", "form-action 'none'", "frame-ancestors 'none'"} {
		if !strings.Contains(policy+";", rule+";") {
			t.Errorf("the policy lacks %q:\n%s", rule, policy)
		}
	}
	if unsafe := strings.Count(policy, "unsafe"); unsafe != 1 || strings.Contains(policy, "*") {
		t.Errorf("the policy allows too much: %s", policy)
	}
	for name, want := range map[string]string{"X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer", "X-Frame-Options": "DENY",
		"Cross-Origin-Opener-Policy": "same-origin", "Cross-Origin-Resource-Policy": "same-origin", "Strict-Transport-Security": ""} {
		if got := answer.Header.Get(name); got != want {
			t.Errorf("%s is %q", name, got)
		}
	}
	r := httptest.NewRequest(http.MethodGet, "http://club.example/", nil)
	r.Host = "evil.example; script-src *"
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	if got := w.Result().Header.Get("Content-Security-Policy"); strings.Contains(got, "evil") {
		t.Errorf("a name that is not the server's stands in the policy: %s", got)
	}
	secure := httptest.NewRecorder()
	h.ServeHTTP(secure, httptest.NewRequest(http.MethodGet, "https://club.example/", nil))
	if secure.Result().Header.Get("Strict-Transport-Security") == "" {
		t.Error("https does not ask to be kept")
	}
}

func TestReady(t *testing.T) {
	for want, check := range map[int]func(context.Context) error{
		200: func(context.Context) error { return nil },
		503: func(context.Context) error { return errors.New("draining") },
	} {
		if a := get(t, Ready(check), http.MethodGet, "/readyz"); a.StatusCode != want {
			t.Errorf("%d, want %d", a.StatusCode, want)
		}
	}
}

func TestMetricsCountNotes(t *testing.T) {
	m := NewMetrics(map[string]func() float64{"connections": func() float64 { return 3 }})
	m.Note(relay.Note{What: "refused", Code: "sample-closed", N: 2})
	m.Note(relay.Note{What: "refused", Code: strings.Repeat("x", 100), N: 1})
	body, _ := io.ReadAll(get(t, m, http.MethodGet, "/metrics").Body)
	for _, line := range []string{`hushcup_events_total{code="sample-closed",what="refused"} 2`, `hushcup_events_total{code="other",what="refused"} 1`, "hushcup_connections 3"} {
		if !strings.Contains(string(body), line) {
			t.Errorf("there is no %q in\n%s", line, body)
		}
	}
}
