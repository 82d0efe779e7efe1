package browser_test

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"sync/atomic"
	"testing"

	"hushcup/e2e/browser"
)

// stuck serves a page that tells the server as soon as it has the act, and then never comes
// back from it, so that the crash surely comes while the act is under way.
func stuck(t *testing.T, event string) (server string, reached chan bool, times *atomic.Int32) {
	reached, times = make(chan bool, 9), &atomic.Int32{}
	mux := http.NewServeMux()
	mux.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/html")
		_, _ = w.Write([]byte(`<h1>Practice page</h1><label>Dose <input></label><button>Stay</button><script>
			addEventListener("` + event + `", () => {
				const tell = new XMLHttpRequest();
				tell.open("POST", "/reached", false);
				tell.send();
				while (tell.responseText === "stay") ;
			});</script>`))
	})
	mux.HandleFunc("POST /reached", func(w http.ResponseWriter, r *http.Request) {
		if times.Add(1) == 1 {
			_, _ = w.Write([]byte("stay"))
			reached <- true
		}
	})
	made := httptest.NewServer(mux)
	t.Cleanup(made.Close)
	return made.Listener.Addr().String(), reached, times
}

func TestATapUnderWayIsNotRepeatedOneBeforeIs(t *testing.T) {
	for _, test := range []struct {
		event string
		times int32
	}{
		{"pointerup", 1},   // the finger has left: the page may have acted
		{"pointerdown", 2}, // nothing was tapped yet
	} {
		for _, device := range []string{"phone", "laptop"} {
			if device == "laptop" && test.event == "pointerdown" {
				continue // a mouse button goes up before anyone can ask
			}
			server, reached, times := stuck(t, test.event)
			inner := overhear(t, func(inner testing.TB) {
				b := browser.Launch(inner)
				phone := b.Phone("vega", server)
				if device == "laptop" {
					phone = b.Laptop("lyra", server)
				}
				phone.Open("/")
				phone.See("Practice page")
				go func() { <-reached; phone.CrashByItself() }()
				phone.Tap("Stay")
				phone.See("Practice page")
			})
			log := content(t, inner)
			if told := strings.Contains(log, "it counts as done"); told != (test.times == 1) {
				t.Errorf("%s, %s: the log is %q", device, test.event, log)
			}
			if got := times.Load(); got != test.times {
				t.Errorf("%s, %s came %d times", device, test.event, got)
			}
		}
	}
}

func TestAFieldIsFilledAgainAfterACrash(t *testing.T) {
	server, reached, _ := stuck(t, "input")
	content(t, overhear(t, func(inner testing.TB) {
		phone := browser.Launch(inner).Phone("vega", server)
		phone.Open("/")
		go func() { <-reached; phone.CrashByItself() }()
		phone.Fill("Dose", "15,5")
		if got := phone.Value("Dose"); got != "15,5" {
			inner.Errorf("the field holds %q", got)
		}
	}))
}
