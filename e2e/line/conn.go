package line

import (
	"net"
	"sync/atomic"
	"time"
)

// accepting refuses connections while the line is cut and remembers the others,
// so that a cut can break them.
type accepting struct {
	net.Listener
	line *Line
}

func (a accepting) Accept() (net.Conn, error) {
	for {
		raw, err := a.Listener.Accept()
		if err != nil {
			return nil, err
		}
		c := &conn{Conn: raw, line: a.line}
		if a.line.admit(c) {
			return c, nil
		}
		// A reset, not an orderly end: nobody was there.
		if tcp, ok := raw.(*net.TCPConn); ok {
			_ = tcp.SetLinger(0)
		}
		_ = raw.Close()
	}
}

func (l *Line) admit(c *conn) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.state == cut {
		return false
	}
	l.conns[c] = true
	return true
}

// conn is the phone's end of a connection: the weather is made here.
type conn struct {
	net.Conn
	line      *Line
	websocket atomic.Bool
	closed    atomic.Bool
}

func (c *conn) Read(p []byte) (int, error) {
	n, err := c.Conn.Read(p)
	if n > 0 {
		if !c.pass() {
			return 0, net.ErrClosed
		}
	}
	return n, err
}

func (c *conn) Write(p []byte) (int, error) {
	if !c.pass() {
		return 0, net.ErrClosed
	}
	if len(p) > 0 && c.websocket.Load() && c.line.spendDamage() {
		p = append([]byte(nil), p...)
		p[len(p)/2] ^= 0x10
	}
	return c.Conn.Write(p)
}

func (c *conn) Close() error {
	c.closed.Store(true)
	c.line.forget(c)
	return c.Conn.Close()
}

// pass waits out a hold and the delay, and reports whether the connection still
// stands afterwards.
func (c *conn) pass() bool {
	l := c.line
	l.mu.Lock()
	for l.state == held && !c.closed.Load() {
		l.changed.Wait()
	}
	delay := l.delay
	l.mu.Unlock()
	if delay > 0 {
		time.Sleep(delay)
	}
	return !c.closed.Load()
}

func (l *Line) forget(c *conn) {
	l.mu.Lock()
	delete(l.conns, c)
	l.changed.Broadcast()
	l.mu.Unlock()
}

func (l *Line) spendDamage() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.damage == 0 {
		return false
	}
	l.damage--
	return true
}
