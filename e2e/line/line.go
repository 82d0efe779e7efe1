// Package line is the piece of bad network between one phone and the server.
//
// A Line is an HTTP proxy on loopback that one browser context is told to use.
// The address in the browser's address bar stays the server's own, so links,
// origins and storage are what they would be without it; but every byte of
// that phone, its workers and its websockets passes here, where a test can cut,
// hold, slow, damage and record it, or lead it to another server of the same
// club.
//
// A cut is honest: connections break and new ones are refused, as when a phone
// leaves the house. Nothing that the proxy says itself ever reaches the app as
// if a server had said it.
package line

import (
	"context"
	"fmt"
	"io"
	"log"
	"net"
	"net/http"
	"net/http/httputil"
	"slices"
	"sync"
	"time"
)

// Line leads one phone to a server. Its methods may be called at any time.
type Line struct {
	origin    string // the host and port that the phone believes it talks to
	listener  net.Listener
	server    *http.Server
	transport *http.Transport

	mu        sync.Mutex
	changed   *sync.Cond
	target    string // where the bytes really go
	state     state
	delay     time.Duration
	damage    int // how many chunks towards the phone are still to be damaged
	conns     map[*conn]bool
	recording bool
	sent      []*Tunnel
	strangers []string
}

type state int

const (
	open state = iota
	cut
	held
)

// Open listens for a phone and leads it to the server at host and port origin.
func Open(origin string) (*Line, error) {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return nil, err
	}
	l := &Line{origin: origin, target: origin, listener: listener, conns: map[*conn]bool{}}
	l.changed = sync.NewCond(&l.mu)
	l.transport = &http.Transport{
		DialContext:        l.dial,
		DisableKeepAlives:  true, // so that To takes effect with the next request
		DisableCompression: true,
	}
	forward := &httputil.ReverseProxy{
		Transport:    l.transport,
		Rewrite:      func(r *httputil.ProxyRequest) { r.Out.Host = r.In.Host },
		ErrorHandler: func(http.ResponseWriter, *http.Request, error) { panic(http.ErrAbortHandler) },
		ErrorLog:     log.New(io.Discard, "", 0),
	}
	l.server = &http.Server{
		Handler:           l.serve(forward),
		ReadHeaderTimeout: time.Minute,
		ErrorLog:          log.New(io.Discard, "", 0),
	}
	go func() { _ = l.server.Serve(accepting{listener, l}) }()
	return l, nil
}

// Address is what the browser is told as its proxy.
func (l *Line) Address() string { return l.listener.Addr().String() }

// Close ends the line and everything on it.
func (l *Line) Close() {
	l.set(cut)
	_ = l.server.Close()
	l.transport.CloseIdleConnections()
}

// To leads the phone to another server from now on; what is connected breaks.
func (l *Line) To(server string) {
	l.mu.Lock()
	l.target = server
	l.mu.Unlock()
	l.breakAll()
}

// Cut breaks every connection and refuses new ones until Mend.
func (l *Line) Cut() { l.set(cut) }

// Hold lets connections stand and swallows nothing, but nothing passes either:
// the worst kind of weak signal. Mend lets it flow.
func (l *Line) Hold() { l.set(held) }

// Mend ends a cut or a hold.
func (l *Line) Mend() { l.set(open) }

// Break ends the connections that stand; new ones are welcome at once.
func (l *Line) Break() { l.breakAll() }

// Slow delays every chunk, in each direction, by d. Zero is as fast as it goes.
func (l *Line) Slow(d time.Duration) {
	l.mu.Lock()
	l.delay = d
	l.mu.Unlock()
}

// Damage flips a bit in each of the next n chunks that websockets carry to the
// phone.
func (l *Line) Damage(n int) {
	l.mu.Lock()
	l.damage += n
	l.mu.Unlock()
}

// Damaged reports whether every chunk that Damage asked for has been damaged.
func (l *Line) Damaged() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.damage == 0
}

// Strangers lists the hosts other than the server that the phone tried to
// reach. The line refused them.
func (l *Line) Strangers() []string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return slices.Clone(l.strangers)
}

func (l *Line) set(s state) {
	l.mu.Lock()
	l.state = s
	l.changed.Broadcast()
	l.mu.Unlock()
	if s == cut {
		l.breakAll()
	}
}

func (l *Line) breakAll() {
	l.mu.Lock()
	standing := l.conns
	l.conns = map[*conn]bool{}
	l.mu.Unlock()
	for c := range standing {
		_ = c.Close()
	}
}

func (l *Line) dial(ctx context.Context, network, _ string) (net.Conn, error) {
	l.mu.Lock()
	target := l.target
	l.mu.Unlock()
	return (&net.Dialer{Timeout: 10 * time.Second}).DialContext(ctx, network, target)
}

func (l *Line) serve(forward http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Host != l.origin {
			l.mu.Lock()
			l.strangers = append(l.strangers, r.Host)
			l.mu.Unlock()
			panic(http.ErrAbortHandler)
		}
		if r.Method == http.MethodConnect {
			l.tunnel(w, r)
			return
		}
		forward.ServeHTTP(w, r)
	})
}

// tunnel carries a websocket. Where the server does not answer, the connection
// just ends, as it would without a proxy.
func (l *Line) tunnel(w http.ResponseWriter, r *http.Request) {
	server, err := l.dial(r.Context(), "tcp", "")
	if err != nil {
		panic(http.ErrAbortHandler)
	}
	defer server.Close()
	phone, buffered, err := http.NewResponseController(w).Hijack()
	if err != nil {
		panic(http.ErrAbortHandler)
	}
	defer phone.Close()
	if _, err := fmt.Fprint(phone, "HTTP/1.1 200 OK\r\n\r\n"); err != nil {
		return
	}
	// From here on the stream is a websocket's, which may be damaged.
	if c, ok := phone.(*conn); ok {
		c.websocket.Store(true)
	}
	go func() {
		// Recorded first: an answer never comes before what it answers is kept.
		_, _ = io.Copy(io.MultiWriter(l.record(), server), buffered)
		_ = server.Close()
	}()
	_, _ = io.Copy(phone, server)
}
