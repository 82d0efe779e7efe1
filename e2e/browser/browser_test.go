package browser_test

import (
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"hushcup/e2e/browser"
)

// serve runs the practice page under the policy that the app's own pages have.
func serve(t *testing.T) string {
	t.Helper()
	upgrader := websocket.Upgrader{}
	files := http.FileServer(http.Dir("testdata"))
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Security-Policy",
			"default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; connect-src 'self'; worker-src 'self'; img-src 'self'")
		switch r.URL.Path {
		case "/hello", "/favicon.ico":
			w.WriteHeader(http.StatusOK)
		case "/socket":
			if socket, err := upgrader.Upgrade(w, r, nil); err == nil {
				defer socket.Close()
				_, _, _ = socket.ReadMessage()
			}
		default:
			files.ServeHTTP(w, r)
		}
	}))
	t.Cleanup(server.Close)
	return server.Listener.Addr().String()
}

func open(t *testing.T) *browser.Phone {
	t.Helper()
	phone := browser.Launch(t).Phone("vega", serve(t))
	phone.Open("/")
	phone.See("Practice page")
	return phone
}

func TestFormsAreFilledByLabelAndTappedByName(t *testing.T) {
	phone := open(t)
	phone.Fill("Dose", "15,5")
	phone.Fill("Roasted on", "2024-05-06")
	phone.Fill("Acidity", "7")
	phone.Choose("Process", "washed")
	phone.Choose("Decaf", "yes")
	phone.Tap("Save the brew")
	phone.See("dose 15,5, roasted 2024-05-06, acidity 7, process washed, decaf yes")
	if got := phone.Value("Dose"); got != "15,5" {
		t.Errorf("the field holds %q", got)
	}
	phone.Fill("Dose", "")
	phone.Tap("Save the brew")
	phone.See("dose , roasted 2024-05-06")
	phone.In("Sample 562").Tap("Guess")
	phone.See("guessing Sample 562")
	phone.Nth(1).Tap("Guess")
	phone.See("guessing Sample 417")
	if _, err := os.Stat(phone.Shot("filled")); err != nil {
		t.Error(err)
	}
}

func TestHoldKeepsTheFingerDown(t *testing.T) {
	b, server := browser.Launch(t), serve(t)
	for _, device := range []*browser.Phone{b.Phone("vega", server), b.Laptop("lyra", server)} {
		device.Open("/")
		device.Tap("Stay")
		device.See("only touched")
		device.Hold("Stay", 500*time.Millisecond)
		device.See("held")
	}
}

// A line that comes in just before the finger comes down pushes what it meant away
// from under it.
func TestAFingerThatComesDownBesideTriesAgain(t *testing.T) {
	phone := open(t)
	if err := phone.Eval(`(() => {
		document.documentElement.style.overflowAnchor = "none"; // else the page scrolls along
		const plain = document.elementFromPoint;
		document.elementFromPoint = (x, y) => {
			const hit = plain.call(document, x, y);
			if (hit?.id !== "save") return hit;
			document.elementFromPoint = plain;
			document.querySelector("h1").style.marginTop = "120px"; // something else comes in its place
			return hit;
		};
		document.querySelector("form").addEventListener("click", e => { if (e.target.id !== "save") window.touchedBeside = true });
	})()`, nil); err != nil {
		t.Fatal(err)
	}
	phone.Tap("Save the brew")
	phone.See("dose old")
	var beside bool
	if err := phone.Eval("window.touchedBeside === true", &beside); err != nil || beside {
		t.Errorf("something else was touched: %v, %v", beside, err)
	}
}

func TestALaptopClicks(t *testing.T) {
	laptop := browser.Launch(t).Laptop("lyra", serve(t))
	laptop.Open("/")
	laptop.Fill("Dose", "18")
	laptop.Tap("Save the brew")
	laptop.See("dose 18,")
}

func TestPhonesShareNothing(t *testing.T) {
	b, server := browser.Launch(t), serve(t)
	vega, mira := b.Phone("vega", server), b.Phone("mira", server)
	vega.Open("/")
	vega.Fill("Dose", "12")
	vega.Tap("Save the brew")
	vega.See("kept: 12")
	mira.Open("/")
	mira.See("kept: nothing")
	mira.See("worker: hears")
	mira.Offline(true)
	mira.See("worker: deaf")
	vega.See("worker: hears")
}

func TestStorageOutlivesReloadKillAndClose(t *testing.T) {
	phone := open(t)
	phone.Fill("Dose", "14.2")
	phone.Tap("Save the brew")
	phone.See("kept: 14.2")
	phone.Reload()
	phone.See("kept: 14.2")
	phone.KillTab()
	phone.Reopen("/")
	phone.See("kept: 14.2")
	phone.CloseTab()
	phone.Reopen("/")
	phone.See("kept: 14.2")
	second := phone.NewTab()
	second.Open("/")
	second.See("kept: 14.2")
}

func TestOfflineReachesPageWorkersAndSockets(t *testing.T) {
	phone := open(t)
	phone.See("line: on")
	phone.See("worker: hears")
	phone.See("socket: open")
	if err := phone.Eval("navigator.serviceWorker.ready.then(() => true)", nil); err != nil {
		t.Fatal(err)
	}
	phone.Offline(true)
	phone.See("line: off")
	phone.See("worker: deaf")
	phone.See("socket: closed")
	phone.Reload() // from the service worker's cache
	phone.See("Practice page")
	phone.See("worker: deaf")
	phone.KillTab()
	phone.Reopen("/")
	phone.See("worker: deaf")
	phone.See("line: off")
	phone.Offline(false)
	phone.See("line: on")
	phone.See("worker: hears")
	phone.See("socket: open")
}

func TestAFullDiskIsFelt(t *testing.T) {
	phone := open(t)
	if err := phone.Eval("navigator.serviceWorker.ready.then(() => true)", nil); err != nil {
		t.Fatal(err)
	}
	phone.Quota(1)
	phone.Fill("Dose", strings.Repeat("9", 200_000))
	phone.Tap("Save the brew")
	phone.See("not kept: QuotaExceededError")
	phone.Quota(-1)
	phone.Fill("Dose", "13")
	phone.Tap("Save the brew")
	phone.See("kept: 13")
}
