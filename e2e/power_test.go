package e2e

import (
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"hushcup/e2e/handmade"
	"hushcup/e2e/proc"
	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/wire"
)

const (
	cuts         = 5  // how often the server is killed
	writers      = 4  // phones that write meanwhile
	acksAPowerUp = 25 // runs that were acknowledged before the next cut, of all phones together
)

// The server is killed under writes, as by a power cut, again and again. What it acknowledged is there afterwards, where it
// was said to be; what it did not is taken once; and every chain holds.
func TestAPowerCutUnderWrites(t *testing.T) {
	onBoth(t, func(t *testing.T, server *proc.Server) {
		var acked atomic.Int64
		var over atomic.Bool
		var group sync.WaitGroup
		for range writers {
			w := newPersistent(server)
			group.Add(1)
			go func() { defer group.Done(); w.write(t, &acked, &over) }()
		}
		for range cuts {
			from := acked.Load()
			if !soon(func() bool { return acked.Load() >= from+acksAPowerUp || t.Failed() }) {
				t.Errorf("after %d acknowledgements nothing more comes", acked.Load())
				break
			}
			server.Restart(t)
		}
		over.Store(true)
		group.Wait()
		t.Logf("%d runs were acknowledged", acked.Load())
		soundBooks(t, "-database", server.Database())
	})
}

// persistent is a phone that sends a run until it is acknowledged, over as many connections as that takes.
type persistent struct {
	address string
	book    *handmade.Book
	create  oplog.Run
	placed  []oplog.Run // what was acknowledged, from position 2 on
	conn    *handmade.Conn
}

func newPersistent(server *proc.Server) *persistent {
	p := &persistent{address: server.Address()}
	p.book, p.create = handmade.NewBook(club.Notebook, handmade.NewDevice(), now())
	return p
}

func (p *persistent) write(t *testing.T, acked *atomic.Int64, over *atomic.Bool) {
	p.deliver(t, p.create, 1)
	for next := uint64(2); !over.Load() && !t.Failed(); acked.Add(1) {
		run := p.book.Parts(now(), 3, 400)
		p.deliver(t, run, next)
		p.placed = append(p.placed, run)
		next += 3
	}
	defer p.hangUp()
	for i, run := range p.placed { // sent again, it stands where it was acknowledged
		p.deliver(t, run, uint64(2+3*i))
	}
}

// deliver sends a run until it is acknowledged, which has to be at the position where it belongs.
func (p *persistent) deliver(t *testing.T, run oplog.Run, position uint64) {
	for until := time.Now().Add(byItself); time.Now().Before(until) && !t.Failed(); time.Sleep(5 * time.Millisecond) {
		answer := p.once(run)
		switch answer := answer.(type) {
		case *wire.Ack:
			if answer.First != position {
				t.Errorf("a run stands at %d, not %d", answer.First, position)
			}
			return
		case *wire.Refuse:
			t.Errorf("the run for %d is refused: %+v", position, answer)
			return
		} // the server is away, or wants it later
	}
	t.Errorf("the run for %d is not acknowledged", position)
}

// once sends a run, over a new connection where the last one broke; nil when no answer came.
func (p *persistent) once(run oplog.Run) wire.Frame {
	if p.conn == nil {
		conn, _, err := handmade.DialAs(p.address, p.book.Device)
		if err != nil {
			return nil
		}
		p.conn = conn
	}
	if p.conn.Push(run) == nil {
		if answer, err := p.conn.Answer(); err == nil {
			return answer
		}
	}
	p.conn.Close()
	p.conn = nil
	return nil
}

func (p *persistent) hangUp() {
	if p.conn != nil {
		p.conn.Close()
	}
}
