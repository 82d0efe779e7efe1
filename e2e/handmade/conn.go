package handmade

import (
	"fmt"
	"net/http"
	"time"

	"github.com/gorilla/websocket"

	"hushcup/sync/oplog"
	"hushcup/sync/wire"
)

// Path is where the server takes websockets.
const Path = "/socket"

// Patience bounds every read.
const Patience = 15 * time.Second

// Conn is one websocket to a server.
type Conn struct {
	*websocket.Conn
	Hello wire.Hello
	host  string
}

// Dial opens a websocket to the server at host and port, and reads its hello.
func Dial(host string) (*Conn, error) {
	dialer := websocket.Dialer{HandshakeTimeout: Patience}
	raw, _, err := dialer.Dial("ws://"+host+Path, http.Header{"Origin": {"http://" + host}})
	if err != nil {
		return nil, err
	}
	c := &Conn{Conn: raw, host: host}
	frame, err := c.Read()
	if err != nil {
		raw.Close()
		return nil, err
	}
	hello, ok := frame.(*wire.Hello)
	if !ok {
		raw.Close()
		return nil, fmt.Errorf("the server opens with a %T", frame)
	}
	c.Hello = *hello
	return c, nil
}

// DialAs also proves to be the device, and reads the welcome.
func DialAs(host string, device Device) (*Conn, *wire.Welcome, error) {
	c, err := Dial(host)
	if err != nil {
		return nil, nil, err
	}
	welcome, err := c.Prove(device)
	if err != nil {
		c.Close()
		return nil, nil, err
	}
	return c, welcome, nil
}

// Prove answers the challenge.
func (c *Conn) Prove(device Device) (*wire.Welcome, error) {
	signature := device.Sign(wire.ProofMessage(c.Hello.Challenge, c.host, nil))
	if err := c.Send(&wire.Proof{Version: wire.Version, Device: device.ID, Host: c.host, Sig: signature[:]}); err != nil {
		return nil, err
	}
	frame, err := c.Read()
	if err != nil {
		return nil, err
	}
	welcome, ok := frame.(*wire.Welcome)
	if !ok {
		return nil, fmt.Errorf("the server answers the proof with a %T: %+v", frame, frame)
	}
	return welcome, nil
}

// Send writes a frame.
func (c *Conn) Send(frame wire.Frame) error { return c.SendBytes(wire.Encode(frame)) }

// SendBytes writes any bytes as a frame.
func (c *Conn) SendBytes(bytes []byte) error {
	return c.WriteMessage(websocket.BinaryMessage, bytes)
}

// Push offers a run.
func (c *Conn) Push(run oplog.Run) error { return c.Send(&wire.Push{Run: run.Pack()}) }

// Read waits for the next frame.
func (c *Conn) Read() (wire.Frame, error) {
	if err := c.SetReadDeadline(time.Now().Add(Patience)); err != nil {
		return nil, err
	}
	_, bytes, err := c.ReadMessage()
	if err != nil {
		return nil, err
	}
	return wire.Decode(bytes)
}

// Answer waits for the answer to a push: an Ack, a Refuse, a Slow or a Bye.
func (c *Conn) Answer() (wire.Frame, error) {
	for {
		frame, err := c.Read()
		if err != nil {
			return nil, err
		}
		switch frame.(type) {
		case *wire.Ack, *wire.Refuse, *wire.Slow, *wire.Bye:
			return frame, nil
		}
	}
}
