package native

import (
	"net/http"
	"net/url"
	"sync"
	"time"

	"github.com/gorilla/websocket"

	"hushcup/pwa/app"
)

// socket is one websocket, from the moment that it is dialled. What it has to
// say after it was replaced is not heard.
type socket struct {
	mu     sync.Mutex
	conn   *websocket.Conn
	closed bool
}

func (p *Phone) connect(address string) {
	p.closeSocket()
	s := &socket{}
	p.socket = s
	go p.dial(s, address)
}

func (p *Phone) dial(s *socket, address string) {
	dialer := websocket.Dialer{HandshakeTimeout: 10 * time.Second}
	if p.proxy != "" {
		dialer.Proxy = func(*http.Request) (*url.URL, error) { return &url.URL{Scheme: "http", Host: p.proxy}, nil }
	}
	conn, _, err := dialer.Dial(address, http.Header{"Origin": {p.origin}})
	if err != nil {
		s.say(p, app.Input{Kind: app.InDisconnected})
		return
	}
	s.mu.Lock()
	if s.closed {
		s.mu.Unlock()
		conn.Close()
		return
	}
	s.conn = conn
	s.mu.Unlock()
	s.say(p, app.Input{Kind: app.InConnected})
	for {
		kind, frame, err := conn.ReadMessage()
		if err != nil {
			s.say(p, app.Input{Kind: app.InDisconnected})
			return
		}
		if kind != websocket.BinaryMessage {
			continue
		}
		if p.heard != nil {
			p.heard(frame)
		}
		s.say(p, app.Input{Kind: app.InFrame, Bytes: frame})
	}
}

func (s *socket) say(p *Phone, in app.Input) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if !s.closed {
		p.tell(in)
	}
}

func (p *Phone) send(frame []byte) {
	if p.socket == nil {
		return
	}
	p.socket.mu.Lock()
	conn := p.socket.conn
	p.socket.mu.Unlock()
	if conn != nil {
		// A write that fails shows as a read that fails.
		_ = conn.WriteMessage(websocket.BinaryMessage, frame)
	}
}

func (p *Phone) closeSocket() {
	if p.socket == nil {
		return
	}
	p.socket.mu.Lock()
	p.socket.closed = true
	conn := p.socket.conn
	p.socket.mu.Unlock()
	if conn != nil {
		conn.Close()
	}
	p.socket = nil
}
