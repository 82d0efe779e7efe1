package socket_test

import (
	"context"
	"errors"
	"net"
	"net/http"
	"net/http/httptest"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"hushcup/e2e/handmade"
	"hushcup/server/socket"
	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/relay"
	"hushcup/sync/relay/memstore"
	"hushcup/sync/wire"
)

// house is a socket server over a store in memory.
type house struct {
	store  *memstore.Store
	server *socket.Server
	host   string
}

func open(t testing.TB, connections int) *house {
	t.Helper()
	store := memstore.New()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	r := relay.New(relay.Config{Store: store, Hosts: relay.NewHosts(listener.Addr().String())})
	s := socket.New(socket.Config{Relay: r, Store: store, Connections: connections})
	web := &httptest.Server{Listener: listener, Config: &http.Server{Handler: s}}
	web.Start()
	t.Cleanup(func() {
		ended, cancel := context.WithCancel(context.Background())
		cancel()
		s.Drain(ended)
		web.Close()
	})
	return &house{store, s, listener.Addr().String()}
}

func (h *house) dial(t testing.TB, device handmade.Device) *handmade.Conn {
	t.Helper()
	conn, _, err := handmade.DialAs(h.host, device)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { conn.Close() })
	return conn
}

func (h *house) notebook(t testing.TB) (*handmade.Book, *handmade.Conn) {
	t.Helper()
	device := handmade.NewDevice()
	book, create := handmade.NewBook(club.Notebook, device, now())
	conn := h.dial(t, device)
	acked(t, conn, create)
	return book, conn
}

func now() int64 { return time.Now().UnixMilli() }

func acked(t testing.TB, conn *handmade.Conn, runs ...oplog.Run) {
	t.Helper()
	for _, run := range runs {
		if err := conn.Push(run); err != nil {
			t.Fatal(err)
		}
	}
	for range runs {
		answer, err := conn.Answer()
		if err != nil {
			t.Fatal(err)
		}
		if _, ok := answer.(*wire.Ack); !ok {
			t.Fatalf("answered %T: %+v", answer, answer)
		}
	}
}

// Many connections of one device read a book while one writes it; every one of them gets all of it, in order.
func TestRELAY_1_EveryReaderGetsEverything(t *testing.T) {
	h := open(t, 0)
	book, writer := h.notebook(t)
	const readers, runs = 20, 40
	got := make(chan error, readers)
	for range readers {
		conn := h.dial(t, book.Device)
		if err := conn.Send(&wire.Subscribe{Book: book.ID}); err != nil {
			t.Fatal(err)
		}
		go func() { got <- readAll(conn, book.ID, runs+1) }()
	}
	for range runs {
		acked(t, writer, book.Parts(now(), 1, 200))
	}
	for range readers {
		if err := <-got; err != nil {
			t.Error(err)
		}
	}
}

// readAll verifies the order chain up to a position, and confirms what it has.
func readAll(conn *handmade.Conn, id oplog.BookID, upTo uint64) error {
	var order oplog.Order
	for order.Pos < upTo {
		f, err := conn.Read()
		if err != nil {
			return err
		}
		e, ok := f.(*wire.Entries)
		if !ok {
			continue
		}
		for i := range e.Runs {
			run, err := e.Runs[i].Run.Unpack()
			if err != nil {
				return err
			}
			if e.Runs[i].First != order.Pos+1 {
				return errors.New("entries out of order")
			}
			_, order = order.Entries(&run, e.Runs[i].At)
		}
		if err := conn.Send(&wire.Received{Book: id, Pos: order.Pos}); err != nil {
			return err
		}
	}
	return nil
}

// A phone that sends a lot without reading is slowed by the queue, and loses nothing.
func TestRELAY_18_ManyRunsAtOnce(t *testing.T) {
	h := open(t, 0)
	book, conn := h.notebook(t)
	var runs []oplog.Run
	for range 300 {
		runs = append(runs, book.Parts(now(), 2, 100))
	}
	acked(t, conn, runs...)
	if head, err := h.store.Head(context.Background(), book.ID); err != nil || head.Order.Pos != 601 {
		t.Errorf("%d entries are stored, %v", head.Order.Pos, err)
	}
}

func TestRELAY_3_WhatIsNoFrameEndsTheConnectionWithAReason(t *testing.T) {
	h := open(t, 0)
	book, conn := h.notebook(t)
	for name, send := range map[string]func(*handmade.Conn) error{
		"text":  func(c *handmade.Conn) error { return c.WriteMessage(websocket.TextMessage, []byte("redcurrant")) },
		"noise": func(c *handmade.Conn) error { return c.SendBytes([]byte{0xff, 0xff}) },
	} {
		bad := h.dial(t, book.Device)
		if err := send(bad); err != nil {
			t.Fatal(err)
		}
		if code := lastWords(t, bad); code != "malformed-frame" {
			t.Errorf("%s: goodbye with %q", name, code)
		}
	}
	big := h.dial(t, book.Device)
	_ = big.SendBytes(make([]byte, wire.MaxFrame+1))
	var closed *websocket.CloseError
	for err := error(nil); err == nil; {
		if _, err = big.Read(); errors.As(err, &closed) && closed.Code != websocket.CloseMessageTooBig {
			t.Errorf("a frame too large closes with %d", closed.Code)
		}
	}
	acked(t, conn, book.Parts(now(), 1, 100)) // and nobody else noticed
}

func lastWords(t testing.TB, conn *handmade.Conn) string {
	t.Helper()
	for {
		f, err := conn.Read()
		if err != nil {
			t.Fatalf("no last words: %v", err)
		}
		if bye, ok := f.(*wire.Bye); ok {
			return bye.Code
		}
	}
}

func TestAPageOfAnotherOriginGetsNoConnection(t *testing.T) {
	h := open(t, 0)
	for origin, want := range map[string]bool{"http://" + h.host: true, "": true, "http://evil.example": false} {
		header := http.Header{}
		if origin != "" {
			header.Set("Origin", origin)
		}
		conn, answer, err := websocket.DefaultDialer.Dial("ws://"+h.host+socket.Path, header)
		if (err == nil) != want {
			t.Errorf("origin %q: %v", origin, err)
		}
		if err == nil {
			conn.Close()
		} else if answer.StatusCode != http.StatusForbidden {
			t.Errorf("origin %q is answered %d", origin, answer.StatusCode)
		}
	}
}

func TestNoMoreConnectionsThanAllowed(t *testing.T) {
	h := open(t, 2)
	_, first := h.notebook(t)
	h.dial(t, handmade.NewDevice())
	if _, err := handmade.Dial(h.host); err == nil {
		t.Fatal("a third connection was taken")
	}
	first.Close()
	for deadline := time.Now().Add(20 * time.Second); h.server.Open() > 1; time.Sleep(5 * time.Millisecond) {
		if time.Now().After(deadline) {
			t.Fatal("a connection that has gone is still counted")
		}
	}
	h.dial(t, handmade.NewDevice())
}

// A draining server says so to everybody, and then takes nobody.
func TestRELAY_27_Draining(t *testing.T) {
	h := open(t, 0)
	book, conn := h.notebook(t)
	idle := h.dial(t, book.Device)
	drained := make(chan struct{})
	go func() { h.server.Drain(context.Background()); close(drained) }()
	for _, c := range []*handmade.Conn{conn, idle} {
		if code := lastWords(t, c); code != "restarting" {
			t.Errorf("goodbye with %q", code)
		}
		var closed *websocket.CloseError
		if _, err := c.Read(); !errors.As(err, &closed) || closed.Code != websocket.CloseGoingAway {
			t.Errorf("closed with %v", err)
		}
		c.Close()
	}
	<-drained
	if _, answer, err := websocket.DefaultDialer.Dial("ws://"+h.host+socket.Path, nil); err == nil || answer.StatusCode != http.StatusServiceUnavailable {
		t.Errorf("a draining server answers %v", err)
	}
	if h.server.Open() != 0 {
		t.Errorf("%d connections are left", h.server.Open())
	}
}

// What another server wrote reaches readers here: at once when it is told of, and at the slow beat when it is not.
func TestRELAY_26_NewsOfOtherServers(t *testing.T) {
	h := open(t, 0)
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan struct{})
	go func() { h.server.Run(ctx); close(done) }()
	defer func() { stop(); <-done }()
	book, reader := h.notebook(t)
	if err := reader.Send(&wire.Subscribe{Book: book.ID}); err != nil {
		t.Fatal(err)
	}
	waitFor(t, reader, 1)
	other := relay.New(relay.Config{Store: h.store, Hosts: relay.NewHosts(h.host)})
	for i, tell := range []func(){func() { h.server.Heard(book.ID) }, h.server.Poll, func() {}} {
		elsewhere(t, other, h.host, book)
		tell()
		waitFor(t, reader, uint64(i+2))
	}
}

// elsewhere pushes a run through another relay on the same store.
func elsewhere(t *testing.T, r *relay.Relay, host string, book *handmade.Book) {
	t.Helper()
	s, _ := r.Open(now(), [32]byte{7}, relay.Peer{})
	sig := book.Device.Sign(wire.ProofMessage([32]byte{7}, host, nil))
	run := book.Parts(now(), 1, 100)
	out := s.Frames(context.Background(), now(), [][]byte{
		wire.Encode(&wire.Proof{Version: wire.Version, Device: book.Device.ID, Host: host, Sig: sig[:]}), wire.Encode(&wire.Push{Run: run.Pack()})})
	if len(out.Moved) != 1 {
		t.Fatalf("the other server took nothing")
	}
}

func waitFor(t *testing.T, conn *handmade.Conn, pos uint64) {
	t.Helper()
	for {
		f, err := conn.Read()
		if err != nil {
			t.Fatalf("position %d did not come: %v", pos, err)
		}
		if e, ok := f.(*wire.Entries); ok && e.Head >= pos {
			return
		}
	}
}

func TestRELAY_27_AHandshakeThatDoesNotComeIsCutOff(t *testing.T) {
	h := open(t, 0)
	conn, err := handmade.Dial(h.host)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	began := time.Now()
	for err == nil {
		_, err = conn.Read()
	}
	if waited := time.Since(began); waited < 5*time.Second {
		t.Errorf("cut off after %v: %v", waited, err)
	}
}

// A connection that ends, or a server that drains, before the first worker has begun ends it once.
func TestAConnectionThatEndsAtOnceEndsOnce(t *testing.T) {
	for range 200 {
		h := open(t, 0)
		conn, _, err := websocket.DefaultDialer.Dial("ws://"+h.host+socket.Path, nil)
		if err != nil {
			t.Fatal(err)
		}
		conn.Close()
		ended, cancel := context.WithTimeout(context.Background(), time.Second)
		h.server.Drain(ended)
		cancel()
		if n := h.server.Open(); n != 0 {
			t.Fatalf("%d connections are open", n)
		}
	}
}
