package line

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"net/http"
	"sync"
)

// Tunnel is what one websocket carried from the phone to the server.
type Tunnel struct {
	mu    sync.Mutex
	bytes []byte
}

// Record keeps, from now on, what websockets carry to the server.
func (l *Line) Record() {
	l.mu.Lock()
	l.recording = true
	l.mu.Unlock()
}

// Sent returns the payload of every message that websockets opened since Record
// have carried to the server, unmasked, in order.
func (l *Line) Sent() ([][]byte, error) {
	l.mu.Lock()
	tunnels := append([]*Tunnel(nil), l.sent...)
	l.mu.Unlock()
	var all [][]byte
	for _, t := range tunnels {
		t.mu.Lock()
		payloads, err := unmask(bytes.NewReader(t.bytes))
		t.mu.Unlock()
		if err != nil {
			return nil, err
		}
		all = append(all, payloads...)
	}
	return all, nil
}

func (l *Line) record() io.Writer {
	l.mu.Lock()
	defer l.mu.Unlock()
	if !l.recording {
		return io.Discard
	}
	t := &Tunnel{}
	l.sent = append(l.sent, t)
	return t
}

func (t *Tunnel) Write(p []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.bytes = append(t.bytes, p...)
	return len(p), nil
}

// unmask reads a client's side of a websocket: the request that opens it, then
// frames (RFC 6455, section 5.2). A frame that is cut off at the end, as every
// broken connection may leave, ends the reading.
func unmask(r io.Reader) ([][]byte, error) {
	in := bufio.NewReader(r)
	request, err := http.ReadRequest(in)
	if err != nil {
		if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
			return nil, nil
		}
		return nil, fmt.Errorf("a tunnel that opens no websocket: %w", err)
	}
	payloads := [][]byte{[]byte(request.URL.String())}
	for {
		payload, err := readFrame(in)
		if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
			return payloads, nil
		}
		if err != nil {
			return nil, err
		}
		payloads = append(payloads, payload)
	}
}

func readFrame(in *bufio.Reader) ([]byte, error) {
	var head [2]byte
	if _, err := io.ReadFull(in, head[:]); err != nil {
		return nil, err
	}
	if head[0]&0x70 != 0 {
		return nil, fmt.Errorf("a websocket frame with reserved bits %#x: compressed frames cannot be searched", head[0])
	}
	length, err := readLength(in, head[1]&0x7f)
	if err != nil {
		return nil, err
	}
	var mask [4]byte
	if head[1]&0x80 != 0 {
		if _, err := io.ReadFull(in, mask[:]); err != nil {
			return nil, err
		}
	}
	payload := make([]byte, length)
	if _, err := io.ReadFull(in, payload); err != nil {
		return nil, err
	}
	for i := range payload {
		payload[i] ^= mask[i%4]
	}
	return payload, nil
}

func readLength(in *bufio.Reader, short byte) (uint64, error) {
	switch short {
	case 126:
		var long [2]byte
		_, err := io.ReadFull(in, long[:])
		return uint64(binary.BigEndian.Uint16(long[:])), err
	case 127:
		var long [8]byte
		if _, err := io.ReadFull(in, long[:]); err != nil {
			return 0, err
		}
		length := binary.BigEndian.Uint64(long[:])
		if length > 64<<20 {
			return 0, fmt.Errorf("a websocket frame of %d bytes", length)
		}
		return length, nil
	default:
		return uint64(short), nil
	}
}
