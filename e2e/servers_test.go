package e2e

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/http/httputil"
	"net/url"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"hushcup/e2e/browser"
	"hushcup/e2e/native"
	"hushcup/e2e/postgres"
	"hushcup/e2e/proc"
	"hushcup/pwa/app"
	"hushcup/sync/wire"
)

// byItself bounds the wait for a phone that tries again by itself: its attempts grow apart while nobody answers.
const byItself = 60 * time.Second

// anyPort is a host's name for all servers that stand behind it.
const anyPort = "127.0.0.1"

// Two servers on one database are one server to a club, each phone on one of them: and when one is lost in the middle of
// an evening, its phones are led to the other and have lost nothing.
func TestTwoServersOfOneClub(t *testing.T) {
	dsn := postgres.Fresh(t)
	first := proc.Start(t, "-database", dsn, "-host", anyPort)
	second := proc.Start(t, "-database", dsn, "-host", anyPort)
	e := newEvening(t, first)
	vega := e.phone("vega")
	mira := e.phoneOn("mira", second)

	club := beginClub(vega, "Observatory", "Vega")
	link, _ := invite(vega, club)
	join(mira, link, "Mira")
	onlyOn(t, first, 1)
	onlyOn(t, second, 1)
	flight := beginFlight(vega, club, "First light")
	vegas := sealQuickly(vega, flight, "Ethiopia", "Washed")
	vegasSample := openSample(vega, flight, vegas)
	mira.Follow(flight)
	mira.See(vegas)
	miras := sealQuickly(mira, flight, "Kenya", "Natural")
	mirasSample := openSample(mira, flight, miras)

	// a guess made on one is seen on the other
	says(mira, vegasSample, "Washed", "60")
	mira.See("in before the close")
	vega.Follow(flight)
	seeCells(t, vega, "Who has guessed", "Mira", "in", "keeps it")

	// so is an unsealing
	mira.Follow(flight)
	unsealOne(vega, vegasSample, vegas)
	mira.See("Ethiopia")
	mira.Shot("unsealed on the other server")

	// one server is lost, and its phone goes on
	first.Kill()
	vega.AllowNetworkErrors()
	says(vega, mirasSample, "Natural", "80")
	vega.See("on this device")
	brewOwn(vega, "Orbital Blend", "apricot under a red lamp")
	vega.Shot("the server is lost")
	vega.Line.To(second.Address())
	sharedByItself(vega)
	onlyOn(t, second, 2)
	vega.Follow("/bench/log")
	vega.See("Orbital Blend")
	mira.Follow(flight)
	seeCells(t, mira, "Who has guessed", "Vega", "keeps it", "in")

	vega.Follow(flight)
	unsealOne(mira, mirasSample, miras)
	vega.See("Kenya")
	sameTables(t, []*browser.Phone{vega, mira}, []string{"Vega", "Mira"}, vegasSample, mirasSample)
	soundBooks(t, "-database", dsn)
}

// phoneOn takes a phone out of its box that reaches the evening's name on another server.
func (e *evening) phoneOn(name string, server *proc.Server) *browser.Phone {
	e.t.Helper()
	p := e.browser.Phone(name, e.server.Address())
	p.Line.To(server.Address())
	p.Open("/")
	p.See("No sample is waiting")
	return p
}

// onlyOn waits until a server has so many phones.
func onlyOn(t *testing.T, server *proc.Server, phones int) {
	t.Helper()
	want := fmt.Sprintf("\nhushcup_connections %d\n", phones)
	var metrics string
	if !soon(func() bool {
		_, body, err := server.Get("/metrics")
		metrics = body
		return err == nil && strings.Contains(body, want)
	}) {
		t.Fatalf("the server at %s has not %d phones: %s", server.Address(), phones, metrics)
	}
}

// unsealOne unseals a sample by who keeps it, before its close.
func unsealOne(p *browser.Phone, sample, code string) {
	p.Follow(sample)
	p.Tap("Unseal " + code)
	p.In("Unseal " + code).Tap("Unseal " + code)
	p.See("Who has guessed")
}

// sharedByItself waits until nothing waits on a phone any more, and does nothing for it.
func sharedByItself(p *browser.Phone) {
	p.Follow("/cupboard/sync")
	p.SeeWithin(byItself, "everything is shared")
}

// sameTables waits until the results of each sample are there on every phone, and compares them.
func sameTables(t *testing.T, phones []*browser.Phone, names []string, samples ...string) {
	t.Helper()
	for _, sample := range samples {
		var first map[string][]string
		for i, p := range phones {
			p.Follow(sample + "/open")
			p.See("together")
			scores := table(p, "The table")
			scores[names[i]] = scores["you"]
			delete(scores, "you")
			if first == nil {
				first = scores
			}
			if len(scores) < 2 || !reflect.DeepEqual(scores, first) {
				t.Errorf("%s shows the scores %q, %s %q", p.Name(), scores, phones[0].Name(), first)
			}
		}
	}
}

// soundBooks lets the server's own check walk over every book.
func soundBooks(t *testing.T, flags ...string) {
	t.Helper()
	out, exit, err := proc.Command(t.TempDir(), append([]string{"verify"}, flags...)...)
	if err != nil || exit != 0 {
		t.Errorf("verify ends with %d, %v: %s", exit, err, out)
	}
}

// A server is stopped while phones write, and comes back: all is shared without anybody's help. In between the app opens
// in a fresh tab, from the phone alone, and keeps a brew.
func TestAServerThatIsStoppedForAWhile(t *testing.T) {
	onBoth(t, func(t *testing.T, server *proc.Server) {
		h := newHome(t, server, "Mira")
		vega, mira := h.vega, h.others["Mira"]
		installed(t, mira)
		startOwn(vega, "Orbital Blend")
		if err := server.Stop(); err != nil {
			t.Errorf("the server did not drain: %v", err)
		}
		vega.AllowNetworkErrors()
		mira.AllowNetworkErrors()
		finishOwn(vega, "a slow sunrise")
		says(mira, h.sample, "Washed", "70")
		mira.See("on this device")

		mira.KillTab()
		mira.Reopen("/")
		mira.See("Tonight")
		brewOwn(mira, "Perihelion", "plum, from the offline shelf")
		mira.Follow("/cupboard/sync")
		mira.See("The server does not answer")
		mira.See("wait on this device")
		mira.Shot("the server is stopped")
		mira.KillTab()
		mira.Reopen("/bench/log")
		mira.See("Perihelion")
		mira.Follow(h.sample)
		if got := said(mira, h.sample, "Washed"); got != "70" {
			t.Errorf("without a server the guess says %q, want 70", got)
		}

		server.Restart(t)
		sharedByItself(vega)
		sharedByItself(mira)
		vega.Follow(h.flight)
		seeCells(t, vega, "Who has guessed", "Mira", "in")
		vega.Follow("/bench/log")
		vega.See("Orbital Blend")
	})
}

// installed waits until the phone could open the app without a network.
func installed(t *testing.T, p *browser.Phone) {
	t.Helper()
	var ready bool
	if !soon(func() bool {
		err := p.Eval(`navigator.serviceWorker.getRegistration().then(r => !!r?.active && r.active.state === "activated")`, &ready)
		return err == nil && ready
	}) {
		t.Fatalf("%s has not installed the app", p.Name())
	}
}

// finishOwn writes down the outcome of a brew that was started.
func finishOwn(p *browser.Phone, notes string) {
	p.Fill("Drawdown", "2:40")
	p.Fill("What you noticed", notes)
	p.Tap("Save the brew")
	p.See("Correct the outcome")
}

// The database is lost under two servers that go on, by a power failure and by an administrator's restart: phones keep
// what they write and say where it is, share it by themselves once the database is back, and hear of each other again.
func TestADatabaseThatIsGoneForAWhile(t *testing.T) {
	cluster := postgres.Start(t)
	dsn := cluster.Fresh(t)
	first := proc.Start(t, "-database", dsn, "-host", anyPort)
	second := proc.Start(t, "-database", dsn, "-host", anyPort)
	h := newHome(t, first, "Mira")
	vega, mira := h.vega, h.others["Mira"]
	vega.AllowNetworkErrors()
	mira.AllowNetworkErrors()
	mira.Line.To(second.Address())
	says(mira, h.sample, "Washed", "60")
	mira.See("in before the close")

	lyra := native.Open("http://"+first.Address(), native.NewDisk())
	defer lyra.Close()
	seeProblem(t, lyra, "")

	for _, outage := range []struct {
		name          string
		lose          func()
		coffee, guess string
	}{
		{"crash", cluster.Crash, "Perihelion", "85"},
		{"restart", cluster.Stop, "Aphelion", "70"},
	} {
		outage.lose()
		for _, server := range []*proc.Server{first, second} {
			waitStatus(t, server, "/readyz", http.StatusServiceUnavailable)
			waitStatus(t, server, "/healthz", http.StatusOK)
		}
		if _, err := native.Do[app.Nothing](lyra, app.CmdNotebookName, app.NotebookName{Name: "Lyra"}); err != nil {
			t.Errorf("without a database a phone keeps nothing: %v", err)
		}
		seeProblem(t, lyra, "slow-down")
		says(mira, h.sample, "Washed", outage.guess)
		brewOwn(vega, outage.coffee, "plum, with the lights out")
		for _, p := range []*browser.Phone{vega, mira} {
			p.Follow("/cupboard/sync")
			p.SeeOneOf("is on its way", "are on their way", "on this device")
			p.NotSee("everything is shared")
			p.Shot(outage.name)
		}
		mira.Reload() // a phone that begins anew meets a server without a database
		mira.SeeOneOf("is on its way", "are on their way", "on this device")

		if err := cluster.Resume(); err != nil {
			t.Fatal(err)
		}
		sharedByItself(vega)
		sharedByItself(mira)
		seeProblem(t, lyra, "")
		mira.Follow(h.sample)
		mira.See("in before the close")
		if got := said(mira, h.sample, "Washed"); got != outage.guess {
			t.Errorf("after the %s the guess says %q, want %q", outage.name, got, outage.guess)
		}
		vega.Follow("/bench/log")
		vega.See(outage.coffee)
	}
	mira.Follow(h.flight)
	unsealOne(vega, h.sample, h.code)
	mira.See("Ethiopia") // the servers tell each other again
	sameTables(t, []*browser.Phone{vega, mira}, []string{"Vega", "Mira"}, h.sample)
	soundBooks(t, "-database", dsn)
}

// seeProblem waits until a phone gives this as the reason why things do not go out; with none, until all is shared.
func seeProblem(t *testing.T, p *native.Phone, want string) {
	t.Helper()
	seen, err := native.SeeWithin(p, byItself, app.ViewSync, app.Nothing{}, func(v app.SyncView) bool {
		return v.Problem == want && (want != "" || v.Mark == "shared")
	})
	if err != nil {
		t.Fatalf("the reason is %q (%+v), want %q: %v", seen.Problem, seen, want, err)
	}
}

func waitStatus(t *testing.T, server *proc.Server, path string, want int) {
	t.Helper()
	var status int
	var body string
	if !soonWithin(byItself, func() bool { status, body, _ = server.Get(path); return status == want }) {
		t.Fatalf("%s answers %d %q, want %d", path, status, body, want)
	}
}

// A phone whose app is older than the server is told to load the app again, one whose app is newer that it is the
// server that is behind. Both go on with what they have, and share it once the versions fit.
func TestAPhoneOfAnotherVersionSaysSo(t *testing.T) {
	server := proc.Start(t)
	e := newEvening(t, server)
	for name, c := range map[string]struct {
		greeting []wire.Frame
		says     string
	}{
		"vega": {[]wire.Frame{&wire.Hello{Version: wire.Version + 1, Oldest: wire.Version + 1}},
			"The server is newer than this app"},
		"mira": {[]wire.Frame{&wire.Hello{Version: wire.Version + 1, Oldest: wire.Version},
			&wire.Bye{Code: "app-too-old", Text: "this server no longer speaks the app's version"}},
			"The server is newer than this app"},
		"lyra": {[]wire.Frame{&wire.Hello{Version: wire.Version - 1, Oldest: wire.Version - 1},
			&wire.Bye{Code: "server-too-old", Text: "this server does not yet speak the app's version"}},
			"The server is older than this app"},
	} {
		p := e.phone(name)
		allShared(p)
		p.AllowNetworkErrors()
		p.Line.To(serverOfAnotherVersion(t, server, c.greeting))
		brewOwn(p, "Orbital Blend", "tastes of next year")
		p.Follow("/cupboard/sync")
		p.SeeWithin(byItself, c.says)
		p.See("wait on this device")
		p.NotSee("does not answer")
		p.Shot("another version")
		p.Line.To(server.Address())
		p.Reload()
		sharedByItself(p)
		p.Follow("/bench/log")
		p.See("Orbital Blend")
	}
}

// serverOfAnotherVersion serves the same app, and greets its websockets with the given frames.
func serverOfAnotherVersion(t *testing.T, server *proc.Server, greeting []wire.Frame) (address string) {
	t.Helper()
	mux := http.NewServeMux()
	mux.Handle("/", &httputil.ReverseProxy{Rewrite: func(r *httputil.ProxyRequest) {
		r.SetURL(&url.URL{Scheme: "http", Host: server.Address()})
		r.Out.Host = r.In.Host
	}})
	upgrader := websocket.Upgrader{}
	mux.HandleFunc("/socket", func(w http.ResponseWriter, r *http.Request) {
		conn, err := upgrader.Upgrade(w, r, nil)
		if err != nil {
			return
		}
		defer conn.Close()
		for _, frame := range greeting {
			if conn.WriteMessage(websocket.BinaryMessage, wire.Encode(frame)) != nil {
				return
			}
		}
		for err == nil { // until the phone hangs up
			_, _, err = conn.ReadMessage()
		}
	})
	other := httptest.NewServer(mux)
	t.Cleanup(other.Close)
	return other.Listener.Addr().String()
}
