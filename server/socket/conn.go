package socket

import (
	"io"
	"sync"
	"sync/atomic"
	"time"

	"github.com/gorilla/websocket"

	"hushcup/sync/oplog"
	"hushcup/sync/relay"
)

type bookID = oplog.BookID

// conn is one connection. session, ping, again and timer belong to the worker.
type conn struct {
	server  *Server
	ws      *websocket.Conn
	session *relay.Session
	ping    time.Time // when to send the next one
	again   time.Time // when the session wants to be woken; zero for never

	timer *time.Timer
	left  atomic.Int32

	mu        sync.Mutex
	working   bool      // the worker runs
	over      bool      // and never will again
	pending   bool      // something below has changed since the worker looked
	room      sync.Cond // the reader waits on it while the queue is full
	frames    [][]byte
	bytes     int
	moved     []bookID
	ended     bool // the reader is done
	finishing bool // the server drains
}

func newConn(s *Server, ws *websocket.Conn) *conn {
	c := &conn{server: s, ws: ws, working: true} // by start, which comes: nobody else may write before it, nor end twice
	c.room.L = &c.mu
	return c
}

// Watch implements relay.Watcher.
func (c *conn) Watch(id bookID) { c.server.hub.watch(id, c) }

// Unwatch implements relay.Watcher.
func (c *conn) Unwatch(id bookID) { c.server.hub.unwatch(id, c) }

// poke sees that a worker looks at what has changed. There is none while there is nothing to do: its stack, large from
// verifying signatures, would be most of what an idle connection costs.
func (c *conn) poke() {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.pokeLocked()
}

func (c *conn) pokeLocked() {
	c.pending = true
	if !c.working && !c.over {
		c.working = true
		go c.work()
	}
}

// wake says that a book has moved.
func (c *conn) wake(id bookID) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.moved = append(c.moved, id)
	c.pokeLocked()
}

// finish asks the worker to say goodbye.
func (c *conn) finish() {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.finishing = true
	c.pokeLocked()
}

// read runs until the connection ends.
func (c *conn) read() {
	defer c.leave()
	defer c.end()
	c.ws.SetReadLimit(maxFrame)
	c.ws.SetReadDeadline(time.Now().Add(handshakeTime))
	c.ws.SetPongHandler(func(string) error { return c.ws.SetReadDeadline(time.Now().Add(idleTime)) })
	for {
		kind, r, err := c.ws.NextReader()
		if err != nil {
			return
		}
		frame, err := readAll(r)
		if err != nil {
			return
		}
		if kind != websocket.BinaryMessage {
			frame = nil // which is no frame
		}
		c.ws.SetReadDeadline(time.Now().Add(idleTime))
		if !c.enqueue(frame) {
			c.linger()
			return
		}
	}
}

// buffers lend the reader room for a frame whose size it does not know yet, so that an idle connection holds none.
var buffers = sync.Pool{New: func() any { b := make([]byte, 32<<10); return &b }}

func readAll(r io.Reader) ([]byte, error) {
	lent := buffers.Get().(*[]byte)
	defer buffers.Put(lent)
	n, err := io.ReadFull(r, *lent)
	frame := append(make([]byte, 0, n), (*lent)[:n]...)
	switch {
	case err == io.EOF || err == io.ErrUnexpectedEOF:
		return frame, nil
	case err != nil:
		return nil, err
	}
	rest, err := io.ReadAll(r)
	return append(frame, rest...), err
}

// enqueue waits for room; false once the worker wants no more.
func (c *conn) enqueue(frame []byte) bool {
	c.mu.Lock()
	defer c.mu.Unlock()
	for len(c.frames) >= queueFrames || c.bytes >= queueBytes {
		if c.ended {
			return false
		}
		c.room.Wait()
	}
	if c.ended {
		return false
	}
	c.frames, c.bytes = append(c.frames, frame), c.bytes+len(frame)
	c.pokeLocked()
	return true
}

// linger reads on for a while, so that our last words are not lost to a reset.
func (c *conn) linger() {
	c.ws.SetReadDeadline(time.Now().Add(lingerTime))
	for {
		if _, _, err := c.ws.NextReader(); err != nil {
			return
		}
	}
}

// end tells the worker that the reader is done, or the reader that the worker is.
func (c *conn) end() {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.ended = true
	c.room.Broadcast()
	c.pokeLocked()
}

// start says hello; it is the first worker.
func (c *conn) start(hello relay.Out) {
	c.ping = time.Now().Add(pingTime)
	c.timer = time.AfterFunc(pingTime, c.poke)
	if !c.carryOut(hello) {
		c.goodbye()
		return
	}
	c.work()
}

// work does what there is to do, and ends when there is nothing. There is one worker at a time.
func (c *conn) work() {
	for {
		if !c.step() {
			c.goodbye()
			return
		}
		c.timer.Reset(time.Until(c.next()))
		if c.rest() {
			return
		}
	}
}

// rest lets the worker go unless something has changed.
func (c *conn) rest() bool {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.pending {
		return false
	}
	c.working = false
	return true
}

func (c *conn) next() time.Time {
	if !c.again.IsZero() && c.again.Before(c.ping) {
		return c.again
	}
	return c.ping
}

// step does what there is to do; false when the connection is to end.
func (c *conn) step() bool {
	for {
		t := c.take()
		switch {
		case t.finishing:
			c.carryOut(c.session.End("restarting", "the server is being restarted; connect again"))
			return false
		case len(t.frames) > 0:
			if !c.carryOut(c.session.Frames(c.server.context, c.server.Now(), t.frames)) {
				return false
			}
		case t.ended:
			return false
		}
		if len(t.moved) > 0 || c.due(&c.again) {
			c.again = time.Time{}
			if !c.carryOut(c.session.Wake(c.server.context, c.server.Now(), t.moved)) {
				return false
			}
		}
		if c.due(&c.ping) {
			c.ping = time.Now().Add(pingTime)
			if c.ws.WriteControl(websocket.PingMessage, nil, time.Now().Add(writeTime)) != nil {
				return false
			}
		}
		if len(t.frames) == 0 {
			return true
		}
	}
}

func (c *conn) due(at *time.Time) bool { return !at.IsZero() && !time.Now().Before(*at) }

// taken is what waited for the worker.
type taken struct {
	frames           [][]byte
	moved            []bookID
	ended, finishing bool
}

func (c *conn) take() taken {
	c.mu.Lock()
	defer c.mu.Unlock()
	t := taken{c.frames, c.moved, c.ended, c.finishing}
	c.frames, c.bytes, c.moved, c.pending = nil, 0, nil, false
	c.room.Broadcast()
	return t
}

// carryOut writes what the session says and wakes whom it concerns; false when the connection is to end.
func (c *conn) carryOut(out relay.Out) bool {
	c.server.hub.wake(out.Moved, c)
	if out.Again > 0 {
		c.again = time.Now().Add(time.Duration(out.Again) * time.Millisecond)
	}
	for _, m := range out.Send {
		if err := c.write(m); err != nil {
			return false
		}
	}
	return !out.Close
}

func (c *conn) write(m *relay.Message) error {
	c.ws.SetWriteDeadline(time.Now().Add(writeTime))
	if m.Shared {
		if prepared, ok := m.Prepared(prepare).(*websocket.PreparedMessage); ok {
			return c.ws.WritePreparedMessage(prepared)
		}
	}
	return c.ws.WriteMessage(websocket.BinaryMessage, m.Bytes)
}

// goodbye ends the connection in order: the last words were written, and the peer gets time to read them.
func (c *conn) goodbye() {
	c.mu.Lock()
	c.over = true
	c.mu.Unlock()
	c.timer.Stop()
	for _, id := range c.session.Watching() {
		c.Unwatch(id)
	}
	code := websocket.CloseNormalClosure
	if c.server.isDraining() {
		code = websocket.CloseGoingAway
	}
	c.ws.WriteControl(websocket.CloseMessage, websocket.FormatCloseMessage(code, ""), time.Now().Add(time.Second))
	c.ws.SetReadDeadline(time.Now().Add(lingerTime)) // ends the reader
	c.end()
	c.leave()
}

// leave is called by both; the last one out closes.
func (c *conn) leave() {
	if c.left.Add(1) == 2 {
		c.ws.Close()
		c.server.remove(c)
	}
	c.server.group.Done()
}
