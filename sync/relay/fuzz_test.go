package relay_test

import (
	"testing"

	"hushcup/sync/oplog"
	"hushcup/sync/relay"
	"hushcup/sync/wire"
)

// A member may send any bytes at all: the session answers, or says goodbye, and what is stored still chains.
func FuzzRELAY_3_Session(f *testing.F) {
	book, body := oplog.BookID{2}, []byte("sealed")
	packed := oplog.Packed{Ops: []oplog.PackedOp{{Raw: []byte("header"), Body: &body}}, Sig: make([]byte, 64)}
	for _, frame := range []wire.Frame{&wire.BooksAsk{}, &wire.Subscribe{Book: book, Pos: 1 << 63}, &wire.Unsubscribe{Book: book}, &wire.Received{Book: book, Pos: 9},
		&wire.Push{Run: packed}, &wire.Push{}, &wire.Offer{Book: book, Runs: []oplog.Placed{{First: 1, Run: packed}}}, &wire.Offer{}, &wire.Bye{}, &wire.Hello{},
		&wire.Entries{}, &wire.Proof{}} {
		f.Add(wire.Encode(frame), wire.Encode(&wire.Received{}))
	}
	w := newWorld(f)
	devices, _ := clubOf(f, w, relay.New(relay.Config{Store: w.store, Hosts: relay.NewHosts("club.example")}), 2)
	push := w.packed(devices[0], "writes")
	f.Fuzz(func(t *testing.T, one, two []byte) {
		r := relay.New(relay.Config{Store: w.store.Copy(), Hosts: relay.NewHosts("club.example")})
		sessions := []*relay.Session{connect(t, w, r, devices[0]), connect(t, w, r, devices[1])}
		sessions[0].Frames(ctx, w.now, [][]byte{wire.Encode(&wire.Subscribe{Book: w.book.id}), one, two})
		sessions[1].Frames(ctx, w.now, [][]byte{two, one})
		s := connect(t, w, r, devices[0])
		out := s.Frames(ctx, w.now, [][]byte{push})
		if ack, ok := must(wire.Decode(out.Send[0].Bytes)).(*wire.Ack); !ok || ack.First != 4 {
			t.Fatalf("afterwards a run is answered %+v", must(wire.Decode(out.Send[0].Bytes)))
		}
	})
}
