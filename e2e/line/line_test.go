package line_test

import (
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"hushcup/e2e/line"
)

// courier answers every message with itself, in front of it its own name.
func courier(t *testing.T, name string) *httptest.Server {
	t.Helper()
	upgrader := websocket.Upgrader{CheckOrigin: func(*http.Request) bool { return true }}
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path != "/socket" {
			io.WriteString(w, name)
			return
		}
		socket, err := upgrader.Upgrade(w, r, nil)
		if err != nil {
			return
		}
		defer socket.Close()
		for {
			kind, message, err := socket.ReadMessage()
			if err != nil || socket.WriteMessage(kind, append([]byte(name+" "), message...)) != nil {
				return
			}
		}
	}))
	t.Cleanup(server.Close)
	return server
}

func host(server *httptest.Server) string { return server.Listener.Addr().String() }

type phone struct {
	t      *testing.T
	line   *line.Line
	origin string
	client *http.Client
}

func newPhone(t *testing.T, server *httptest.Server) *phone {
	t.Helper()
	l, err := line.Open(host(server))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(l.Close)
	return &phone{t, l, host(server), &http.Client{
		Transport: &http.Transport{Proxy: through(l)},
		Timeout:   10 * time.Second,
	}}
}

func through(l *line.Line) func(*http.Request) (*url.URL, error) {
	return func(*http.Request) (*url.URL, error) { return &url.URL{Scheme: "http", Host: l.Address()}, nil }
}

func (p *phone) get() (string, error) {
	answer, err := p.client.Get("http://" + p.origin + "/")
	if err != nil {
		return "", err
	}
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	return string(body), err
}

func (p *phone) connect() *websocket.Conn {
	p.t.Helper()
	dialer := websocket.Dialer{Proxy: through(p.line), HandshakeTimeout: 10 * time.Second}
	socket, _, err := dialer.Dial("ws://"+p.origin+"/socket", nil)
	if err != nil {
		p.t.Fatal(err)
	}
	p.t.Cleanup(func() { socket.Close() })
	_ = socket.SetReadDeadline(time.Now().Add(10 * time.Second))
	return socket
}

func (p *phone) say(socket *websocket.Conn, words string) (string, error) {
	if err := socket.WriteMessage(websocket.BinaryMessage, []byte(words)); err != nil {
		return "", err
	}
	_, answer, err := socket.ReadMessage()
	return string(answer), err
}

func TestALineCarriesPagesAndSockets(t *testing.T) {
	p := newPhone(t, courier(t, "north"))
	if body, err := p.get(); err != nil || body != "north" {
		t.Fatalf("got %q, %v", body, err)
	}
	if answer, err := p.say(p.connect(), "good evening"); err != nil || answer != "north good evening" {
		t.Fatalf("got %q, %v", answer, err)
	}
}

func TestACutBreaksWhatStandsAndRefusesWhatComes(t *testing.T) {
	p := newPhone(t, courier(t, "north"))
	socket := p.connect()
	p.line.Cut()
	if answer, err := p.say(socket, "still there"); err == nil {
		t.Fatalf("the socket answers %q through a cut line", answer)
	}
	if body, err := p.get(); err == nil {
		t.Fatalf("a page answers %q through a cut line", body)
	}
	p.line.Mend()
	if body, err := p.get(); err != nil || body != "north" {
		t.Fatalf("after the mend: %q, %v", body, err)
	}
}

func TestAHeldLineLosesNothing(t *testing.T) {
	p := newPhone(t, courier(t, "north"))
	socket := p.connect()
	p.line.Hold()
	answers := make(chan string, 1)
	go func() {
		answer, _ := p.say(socket, "slowly")
		answers <- answer
	}()
	select {
	case answer := <-answers:
		t.Fatalf("a held line let %q through", answer)
	case <-time.After(100 * time.Millisecond):
	}
	p.line.Mend()
	if answer := <-answers; answer != "north slowly" {
		t.Fatalf("after the mend: %q", answer)
	}
}

func TestDamageChangesWhatThePhoneHears(t *testing.T) {
	p := newPhone(t, courier(t, "north"))
	socket := p.connect()
	p.line.Damage(1)
	if answer, err := p.say(socket, "intact"); err == nil && answer == "north intact" {
		t.Fatal("nothing was damaged")
	}
	if !p.line.Damaged() {
		t.Fatal("the damage is still to come")
	}
}

func TestToLeadsToAnotherServer(t *testing.T) {
	north, south := courier(t, "north"), courier(t, "south")
	p := newPhone(t, north)
	socket := p.connect()
	p.line.To(host(south))
	if _, err := p.say(socket, "x"); err == nil {
		t.Fatal("the socket to the first server still stands")
	}
	if body, err := p.get(); err != nil || body != "south" {
		t.Fatalf("got %q, %v", body, err)
	}
}

func TestADeadServerLooksDeadNotLikeAnAnswer(t *testing.T) {
	server := courier(t, "north")
	p := newPhone(t, server)
	server.Close()
	if body, err := p.get(); err == nil {
		t.Fatalf("a dead server answers %q", body)
	}
}

func TestStrangersAreRefusedAndNamed(t *testing.T) {
	p := newPhone(t, courier(t, "north"))
	if _, err := p.client.Get("http://stranger.invalid/"); err == nil {
		t.Fatal("a stranger answered")
	}
	if got := p.line.Strangers(); len(got) != 1 || got[0] != "stranger.invalid" {
		t.Fatalf("got %q", got)
	}
}

func TestRecordUnmasksWhatWasSent(t *testing.T) {
	p := newPhone(t, courier(t, "north"))
	p.line.Record()
	socket := p.connect()
	long := strings.Repeat("apricot ", 20_000)
	for _, words := range []string{"short", long[:300], long} {
		if _, err := p.say(socket, words); err != nil {
			t.Fatal(err)
		}
	}
	sent, err := p.line.Sent()
	if err != nil {
		t.Fatal(err)
	}
	all := ""
	for _, payload := range sent {
		all += string(payload)
	}
	if want := "/socketshort" + long[:300] + long; all != want {
		t.Fatalf("recorded %d bytes, sent %d", len(all), len(want))
	}
}
