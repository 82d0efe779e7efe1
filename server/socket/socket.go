// Package socket carries relay sessions over websockets: gorilla/websocket on one side, sync/relay on the other. It knows
// connections, deadlines and queues; what the frames mean is the relay's.
//
// A connection has one reader and at most one worker. The reader reads frames into a bounded queue. The worker, which runs while
// there is something to do, takes all that waits there at once (so that runs which arrive during a commit share the next one),
// steps the session, and writes what comes out; nobody else touches the session or writes to the connection. A peer that does
// not read stops the worker at its write deadline; one that sends faster than it is served is stopped by the full queue, and so
// by TCP.
package socket

import (
	"context"
	"crypto/rand"
	"log/slog"
	"net"
	"net/http"
	"sync"
	"sync/atomic"
	"time"

	"github.com/gorilla/websocket"

	"hushcup/sync/relay"
	"hushcup/sync/wire"
)

// Path is where the server takes websockets.
const Path = "/socket"

// Deadlines and bounds of a connection.
const (
	handshakeTime = 10 * time.Second
	pingTime      = 25 * time.Second
	idleTime      = 60 * time.Second
	writeTime     = 20 * time.Second
	lingerTime    = 2 * time.Second // for the peer to read our last words
	queueFrames   = 64
	queueBytes    = 1 << 20
	readBuffer    = 512  // larger reads go around it
	writeBuffer   = 4096 // lent from a pool while something is written
	pollTime      = 5 * time.Second
)

// Config is what a Server needs.
type Config struct {
	Relay       *relay.Relay
	Store       relay.Store // for the slow poll
	Log         *slog.Logger
	Connections int                        // at most, at once; 0 is no limit
	Address     func(*http.Request) string // of the peer; nil takes the connection's
	Trusted     func(*http.Request) bool   // shows the host's token; nil trusts nobody
	Now         func() int64               // nil is the system's clock
}

// Server takes websockets until it is drained.
type Server struct {
	Config
	upgrader websocket.Upgrader
	hub      hub
	news     news
	pollNow  chan struct{}
	pool     sync.Pool // of write buffers

	context context.Context // of everything that is asked of the store
	cancel  context.CancelFunc
	open    atomic.Int64
	group   sync.WaitGroup

	mu       sync.Mutex
	draining bool
	conns    map[*conn]struct{}
}

// New makes a Server.
func New(c Config) *Server {
	s := &Server{Config: c, conns: map[*conn]struct{}{}}
	s.hub.watchers = map[bookID]map[*conn]struct{}{}
	s.news = news{waiting: map[bookID]bool{}, signal: make(chan struct{}, 1)}
	s.pollNow = make(chan struct{}, 1)
	if s.Log == nil {
		s.Log = slog.New(slog.DiscardHandler)
	}
	if s.Now == nil {
		s.Now = func() int64 { return time.Now().UnixMilli() }
	}
	if s.Address == nil {
		s.Address = peerAddress
	}
	s.context, s.cancel = context.WithCancel(context.Background())
	s.upgrader = websocket.Upgrader{HandshakeTimeout: handshakeTime, ReadBufferSize: readBuffer, WriteBufferSize: writeBuffer,
		WriteBufferPool: &s.pool, EnableCompression: false} // its own check refuses pages of another origin
	return s
}

func peerAddress(r *http.Request) string {
	host, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		return r.RemoteAddr
	}
	return host
}

// Open is how many connections there are.
func (s *Server) Open() int { return int(s.open.Load()) }

// ServeHTTP turns a request into a connection. It returns at once, so that the HTTP server keeps nothing of it.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if full := s.Connections > 0 && s.Open() >= s.Connections; full || s.isDraining() {
		w.Header().Set("Retry-After", "5")
		http.Error(w, "no more connections for now", http.StatusServiceUnavailable)
		return
	}
	peer := relay.Peer{Address: s.Address(r), Trusted: s.Trusted != nil && s.Trusted(r)}
	ws, err := s.upgrader.Upgrade(w, r, nil)
	if err != nil {
		return // the upgrader has answered
	}
	c := newConn(s, ws)
	if !s.add(c) {
		ws.Close()
		return
	}
	peer.Watcher = c
	var challenge [32]byte
	rand.Read(challenge[:]) // does not fail
	session, out := s.Relay.Open(s.Now(), challenge, peer)
	c.session = session
	go c.read()
	go c.start(out)
}

func (s *Server) add(c *conn) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.draining {
		return false
	}
	s.conns[c] = struct{}{}
	s.open.Add(1)
	s.group.Add(2)
	return true
}

func (s *Server) remove(c *conn) {
	s.mu.Lock()
	delete(s.conns, c)
	s.mu.Unlock()
	s.open.Add(-1)
}

func (s *Server) isDraining() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.draining
}

// Drain says goodbye to every connection and waits until all are gone, or until ctx ends; then what is left is cut. What was
// acknowledged is stored; what was not, the phones send again elsewhere.
func (s *Server) Drain(ctx context.Context) {
	s.mu.Lock()
	s.draining = true
	for c := range s.conns {
		c.finish()
	}
	s.mu.Unlock()
	done := make(chan struct{})
	go func() { s.group.Wait(); close(done) }()
	select {
	case <-done:
	case <-ctx.Done():
		s.cut()
		<-done
	}
	s.cancel()
}

func (s *Server) cut() {
	s.cancel()
	s.mu.Lock()
	defer s.mu.Unlock()
	for c := range s.conns {
		c.ws.Close()
	}
}

// prepare makes a frame once for all connections that it goes to.
func prepare(bytes []byte) any {
	message, err := websocket.NewPreparedMessage(websocket.BinaryMessage, bytes)
	if err != nil {
		return nil
	}
	return message
}

const maxFrame = wire.MaxFrame
