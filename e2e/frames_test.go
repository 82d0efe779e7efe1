package e2e

import (
	"bytes"
	"errors"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"hushcup/e2e/handmade"
	"hushcup/e2e/proc"
	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/wire"
)

// notebook is a book that the server has, and a connection of its device.
type notebook struct {
	*handmade.Book
	conn *handmade.Conn
}

func now() int64 { return time.Now().UnixMilli() }

func newNotebook(t *testing.T, server *proc.Server) notebook {
	t.Helper()
	device := handmade.NewDevice()
	book, create := handmade.NewBook(club.Notebook, device, now())
	n := notebook{book, connect(t, server, device)}
	n.take(t, create)
	return n
}

func connect(t *testing.T, server *proc.Server, device handmade.Device) *handmade.Conn {
	t.Helper()
	conn, _, err := handmade.DialAs(server.Address(), device)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { conn.Close() })
	return conn
}

// take pushes a run that the server must accept.
func (n notebook) take(t *testing.T, run oplog.Run) *wire.Ack {
	t.Helper()
	answer := push(t, n.conn, run)
	ack, ok := answer.(*wire.Ack)
	if !ok {
		t.Fatalf("the server answered %T: %+v", answer, answer)
	}
	return ack
}

func push(t *testing.T, conn *handmade.Conn, run oplog.Run) wire.Frame {
	t.Helper()
	if err := conn.Push(run); err != nil {
		t.Fatal(err)
	}
	answer, err := conn.Answer()
	if err != nil {
		t.Fatal(err)
	}
	return answer
}

func refused(t *testing.T, answer wire.Frame, code string) *wire.Refuse {
	t.Helper()
	refusal, ok := answer.(*wire.Refuse)
	if !ok {
		t.Fatalf("the server answered %T %+v, want a refusal %q", answer, answer, code)
	}
	if refusal.Code != code {
		t.Fatalf("refused as %q (%s), want %q", refusal.Code, refusal.Text, code)
	}
	return refusal
}

// stillServes proves that what happened harmed nobody: the book goes on.
func (n notebook) stillServes(t *testing.T, server *proc.Server) {
	t.Helper()
	fresh := notebook{n.Book, connect(t, server, n.Device)}
	fresh.take(t, n.Parts(now(), 2, 100))
	if status, body, err := server.Get("/readyz"); err != nil || status != 200 {
		t.Fatalf("the server is not ready any more: %d %q %v", status, body, err)
	}
}

func TestBadFramesEndTheConnectionWithAReason(t *testing.T) {
	whole := wire.Encode(&wire.BooksAsk{})
	onBoth(t, func(t *testing.T, server *proc.Server) {
		for name, bad := range map[string]struct {
			bytes []byte
			code  string
		}{
			"noise":        {bytes.Repeat([]byte{0xff}, 40), "malformed-frame"},
			"empty":        {nil, "malformed-frame"},
			"truncated":    {whole[:len(whole)-1], "malformed-frame"},
			"trailing":     {append(bytes.Clone(whole), 0), "malformed-frame"},
			"unknown kind": {[]byte{0x82, 0x18, 0xfa, 0xa0}, "unknown-frame"},
			"nested":       {bytes.Repeat([]byte{0x81}, 10_000), "malformed-frame"},
			"huge count":   {[]byte{0x9b, 0x7f, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff}, "malformed-frame"},
		} {
			t.Run(name, func(t *testing.T) {
				n := newNotebook(t, server)
				if err := n.conn.SendBytes(bad.bytes); err != nil {
					t.Fatal(err)
				}
				bye := sayBye(t, n.conn)
				if bye.Code != bad.code {
					t.Errorf("the server says goodbye with %q (%s), want %q", bye.Code, bye.Text, bad.code)
				}
				n.stillServes(t, server)
			})
		}
	})
}

// sayBye reads until the server's last frame.
func sayBye(t *testing.T, conn *handmade.Conn) *wire.Bye {
	t.Helper()
	for {
		frame, err := conn.Read()
		if err != nil {
			t.Fatalf("the connection ended without a reason: %v", err)
		}
		if bye, ok := frame.(*wire.Bye); ok {
			return bye
		}
	}
}

func TestAnOversizedFrameEndsTheConnection(t *testing.T) {
	onBoth(t, func(t *testing.T, server *proc.Server) {
		n := newNotebook(t, server)
		// The server may have hung up before all of it is sent.
		_ = n.conn.SendBytes(make([]byte, wire.MaxFrame+1))
		var ended error
		for ended == nil {
			_, ended = n.conn.Read()
		}
		var closed *websocket.CloseError
		if errors.As(ended, &closed) && closed.Code != websocket.CloseMessageTooBig {
			t.Errorf("the server closed with %d, want %d", closed.Code, websocket.CloseMessageTooBig)
		}
		n.stillServes(t, server)
	})
}

func TestAForgedSignatureIsRefused(t *testing.T) {
	onBoth(t, func(t *testing.T, server *proc.Server) {
		n := newNotebook(t, server)
		before := n.Head()
		forged := n.Parts(now(), 3, 100)
		forged.Sig[7] ^= 1
		refused(t, push(t, n.conn, forged), "bad-signature")
		n.Rewind(before)
		n.stillServes(t, server)
	})
}

func TestAChangedBodyIsRefused(t *testing.T) {
	onBoth(t, func(t *testing.T, server *proc.Server) {
		n := newNotebook(t, server)
		before := n.Head()
		packed := n.packed(1)
		(*packed.Ops[0].Body)[30] ^= 1
		if err := n.conn.Send(&wire.Push{Run: packed}); err != nil {
			t.Fatal(err)
		}
		answer, err := n.conn.Answer()
		if err != nil {
			t.Fatal(err)
		}
		if _, taken := answer.(*wire.Ack); taken {
			t.Fatal("a body that is not the one that was signed was taken")
		}
		n.Rewind(before)
		n.stillServes(t, server)
	})
}

func (n notebook) packed(ops int) oplog.Packed {
	run := n.Parts(now(), ops, 100)
	packed := run.Pack()
	for i := range packed.Ops { // not the maker's own bytes
		body := bytes.Clone(*packed.Ops[i].Body)
		packed.Ops[i].Body = &body
	}
	return packed
}

func TestAnotherDevicesRunIsRefused(t *testing.T) {
	onBoth(t, func(t *testing.T, server *proc.Server) {
		vega, stranger := newNotebook(t, server), newNotebook(t, server)
		before := vega.Head()
		run := vega.Parts(now(), 1, 100)
		refused(t, push(t, stranger.conn, run), "wrong-device")
		vega.Rewind(before)
		vega.stillServes(t, server)
	})
}

func TestAnOpInAnotherMembersBookIsRefused(t *testing.T) {
	onBoth(t, func(t *testing.T, server *proc.Server) {
		vega := newNotebook(t, server)
		stranger := handmade.NewDevice()
		intruding := handmade.Book{Device: stranger, Member: vega.Member, ID: vega.ID, Epoch: vega.Epoch}
		refused(t, push(t, connect(t, server, stranger), intruding.Parts(now(), 1, 100)), "not-a-member")
		vega.stillServes(t, server)
	})
}

func TestAnUnknownBookIsRefused(t *testing.T) {
	onBoth(t, func(t *testing.T, server *proc.Server) {
		n := newNotebook(t, server)
		nowhere := handmade.Book{Device: n.Device, Member: n.Member, ID: oplog.BookID{1, 2, 3}, Epoch: n.Epoch}
		refused(t, push(t, n.conn, nowhere.Parts(now(), 1, 100)), "no-such-book")
		n.stillServes(t, server)
	})
}

// A frozen run whose acknowledgement was lost is sent again, byte for byte.
func TestAReplayIsAcknowledgedWhereItStands(t *testing.T) {
	onBoth(t, func(t *testing.T, server *proc.Server) {
		n := newNotebook(t, server)
		run := n.Parts(now(), 5, 100)
		first := n.take(t, run)
		again := n.take(t, run)
		if again.First != first.First || again.At != first.At {
			t.Errorf("first placed at %d (%d), then at %d (%d)", first.First, first.At, again.First, again.At)
		}
		next := n.take(t, n.Parts(now(), 1, 100))
		if want := first.First + 5; next.First != want {
			t.Errorf("the next op stands at %d, want %d: the replay took a place", next.First, want)
		}
	})
}

// A storage that was copied or rolled back tells another history after the same
// beginning.
func TestASecondHistoryIsRefused(t *testing.T) {
	onBoth(t, func(t *testing.T, server *proc.Server) {
		n := newNotebook(t, server)
		before := n.Head()
		n.take(t, n.Parts(now(), 3, 100))
		after := n.Head()
		n.Rewind(before)
		refused(t, push(t, n.conn, n.Parts(now(), 3, 100)), "seq-taken")
		n.Rewind(after)
		n.stillServes(t, server)
	})
}

func TestAGapInADeviceChainIsRefused(t *testing.T) {
	onBoth(t, func(t *testing.T, server *proc.Server) {
		n := newNotebook(t, server)
		before := n.Head()
		n.Parts(now(), 2, 100) // made, and never sent
		refused(t, push(t, n.conn, n.Parts(now(), 1, 100)), "chain-gap")
		n.Rewind(before)
		n.stillServes(t, server)
	})
}

func TestAnOpFromTheEndOfTimeIsRefused(t *testing.T) {
	onBoth(t, func(t *testing.T, server *proc.Server) {
		n := newNotebook(t, server)
		before := n.Head()
		for _, ahead := range []int64{now() + oplog.MaxAhead + 60_000, 1<<48 - 1} {
			book := *n.Book
			refused(t, push(t, n.conn, book.Parts(ahead, 1, 100)), "time-ahead")
		}
		n.Rewind(before)
		n.stillServes(t, server)
	})
}

func TestAProofForAnotherHostIsRefused(t *testing.T) {
	onBoth(t, func(t *testing.T, server *proc.Server) {
		device := handmade.NewDevice()
		conn, err := handmade.Dial(server.Address())
		if err != nil {
			t.Fatal(err)
		}
		defer conn.Close()
		elsewhere := "elsewhere.example"
		signature := device.Sign(wire.ProofMessage(conn.Hello.Challenge, elsewhere, nil))
		if err := conn.Send(&wire.Proof{Version: wire.Version, Device: device.ID, Host: elsewhere, Sig: signature[:]}); err != nil {
			t.Fatal(err)
		}
		if bye := sayBye(t, conn); bye.Code != "wrong-host" {
			t.Errorf("the server says goodbye with %q (%s)", bye.Code, bye.Text)
		}
	})
}

func TestAnOldChallengeProvesNothing(t *testing.T) {
	onBoth(t, func(t *testing.T, server *proc.Server) {
		device := handmade.NewDevice()
		first, err := handmade.Dial(server.Address())
		if err != nil {
			t.Fatal(err)
		}
		defer first.Close()
		second, err := handmade.Dial(server.Address())
		if err != nil {
			t.Fatal(err)
		}
		defer second.Close()
		if first.Hello.Challenge == second.Hello.Challenge {
			t.Fatal("two connections got the same challenge")
		}
		second.Hello.Challenge = first.Hello.Challenge
		if _, err := second.Prove(device); err == nil {
			t.Fatal("a proof over another connection's challenge was taken")
		}
	})
}

// An app that is older or newer than the server is told so, in both directions.
func TestAnAppOfAnotherVersionIsToldSo(t *testing.T) {
	onBoth(t, func(t *testing.T, server *proc.Server) {
		for version, code := range map[uint16]string{0: "app-too-old", wire.Version + 1: "server-too-old"} {
			device := handmade.NewDevice()
			conn, err := handmade.Dial(server.Address())
			if err != nil {
				t.Fatal(err)
			}
			defer conn.Close()
			signature := device.Sign(wire.ProofMessage(conn.Hello.Challenge, server.Address(), nil))
			if err := conn.Send(&wire.Proof{Version: version, Device: device.ID, Host: server.Address(), Sig: signature[:]}); err != nil {
				t.Fatal(err)
			}
			if bye := sayBye(t, conn); bye.Code != code {
				t.Errorf("version %d: the server says goodbye with %q (%s), want %q", version, bye.Code, bye.Text, code)
			}
		}
	})
}
