package relay_test

import (
	"context"
	"fmt"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"hushcup/sync/oplog"
	"hushcup/sync/relay"
	"hushcup/sync/relay/memstore"
	"hushcup/sync/wire"
)

// connect opens a session for a device of the world, outside the scripts.
func connect(t testing.TB, w *world, r *relay.Relay, d *device) *relay.Session {
	t.Helper()
	s, out := r.Open(w.now, [32]byte{1}, relay.Peer{Address: "192.0.2.1"})
	hello := must(wire.Decode(out.Send[0].Bytes)).(*wire.Hello)
	sig := d.secret.Sign(wire.ProofMessage(hello.Challenge, "club.example", nil))
	out = s.Frames(ctx, w.now, [][]byte{wire.Encode(&wire.Proof{Version: wire.Version, Device: d.id(), Host: "club.example", Sig: sig[:]})})
	if _, ok := must(wire.Decode(out.Send[0].Bytes)).(*wire.Welcome); !ok {
		t.Fatalf("no welcome")
	}
	return s
}

func (w *world) packed(d *device, line string) []byte {
	c := parse(d.name + " " + line)
	run := w.compose(d, &c)
	return wire.Encode(&wire.Push{Run: run.Pack()})
}

// club makes a book with members, each with a session.
func clubOf(t testing.TB, w *world, r *relay.Relay, members int) (devices []*device, sessions []*relay.Session) {
	t.Helper()
	vega := w.device("vega")
	s := connect(t, w, r, vega)
	s.Frames(ctx, w.now, [][]byte{w.packed(vega, "creates club"), w.packed(vega, fmt.Sprintf("invites door uses=%d", members))})
	devices, sessions = []*device{vega}, []*relay.Session{s}
	for i := 1; i < members; i++ {
		d := w.device(fmt.Sprintf("member%d", i))
		s := connect(t, w, r, d)
		s.Frames(ctx, w.now, [][]byte{w.packed(d, "joins door")})
		devices, sessions = append(devices, d), append(sessions, s)
	}
	if got := must(w.store.Head(ctx, w.book.id)).Order.Pos; got != uint64(members)+1 {
		t.Fatalf("the club has %d entries", got)
	}
	return devices, sessions
}

// counting counts and slows the writes of a store.
type counting struct {
	relay.Store
	writes, reads atomic.Int64
	delay         time.Duration
}

func (c *counting) Write(ctx context.Context, book oplog.BookID, create bool, fn func(relay.Tx) error) error {
	c.writes.Add(1)
	time.Sleep(c.delay)
	return c.Store.Write(ctx, book, create, fn)
}

func (c *counting) Read(ctx context.Context, book oplog.BookID, after uint64, limit relay.Limit) ([]oplog.Placed, error) {
	c.reads.Add(1)
	return c.Store.Read(ctx, book, after, limit)
}

// Runs of several sessions that arrive while a commit is on its way share the next one.
func TestRELAY_18_SessionsShareCommits(t *testing.T) {
	w := newWorld(t)
	store := &counting{Store: w.store}
	r := relay.New(relay.Config{Store: store, Hosts: relay.NewHosts("club.example")})
	const members, each = 8, 10
	devices, sessions := clubOf(t, w, r, members)
	pushes := make([][][]byte, members)
	for i, d := range devices {
		for range each {
			pushes[i] = append(pushes[i], w.packed(d, "writes"))
		}
	}
	before := store.writes.Load()
	store.delay = 2 * time.Millisecond
	var group sync.WaitGroup
	for i, s := range sessions {
		group.Add(1)
		go func() {
			defer group.Done()
			for _, frame := range pushes[i] {
				out := s.Frames(ctx, w.now, [][]byte{frame})
				if _, ok := must(wire.Decode(out.Send[0].Bytes)).(*wire.Ack); !ok {
					t.Errorf("not acknowledged")
				}
			}
		}()
	}
	group.Wait()
	if got := must(w.store.Head(ctx, w.book.id)).Order.Pos; got != members+1+members*each {
		t.Errorf("%d entries are stored", got)
	}
	if writes := store.writes.Load() - before; writes > members*each*3/4 {
		t.Errorf("%d runs took %d transactions", members*each, writes)
	}
}

// One commit is encoded once for all its readers, and read from the store by none of them.
func TestRELAY_24_ReadersShareFrames(t *testing.T) {
	w := newWorld(t)
	store := &counting{Store: w.store}
	r := relay.New(relay.Config{Store: store, Hosts: relay.NewHosts("club.example")})
	devices, sessions := clubOf(t, w, r, 5)
	id := w.book.id
	for _, s := range sessions {
		s.Frames(ctx, w.now, [][]byte{wire.Encode(&wire.Subscribe{Book: id})})
	}
	reads := store.reads.Load()
	out := sessions[0].Frames(ctx, w.now, [][]byte{w.packed(devices[0], "writes")})
	message := out.Send[len(out.Send)-1]
	for _, s := range sessions[1:] {
		woken := s.Wake(ctx, w.now, []oplog.BookID{id})
		if len(woken.Send) != 1 || woken.Send[0] != message || !message.Shared {
			t.Fatalf("a reader got a frame of its own")
		}
	}
	if got := store.reads.Load() - reads; got != 0 {
		t.Errorf("one commit was read %d times", got)
	}
}

// A server keeps so many books and no more, and judges as well after it has forgotten one.
func TestRELAY_25_ForgottenBooksAreReadAgain(t *testing.T) {
	w := newWorld(t)
	books := relay.NewBooks(3, 1000)
	r := relay.New(relay.Config{Store: w.store, Hosts: relay.NewHosts("club.example"), Books: books})
	vega := w.device("vega")
	s := connect(t, w, r, vega)
	for i := range 10 {
		s.Frames(ctx, w.now, [][]byte{w.packed(vega, fmt.Sprintf("creates book%d", i))})
		if books.Len() > 3 {
			t.Fatalf("%d books are kept", books.Len())
		}
	}
	w.book = w.books["book0"]
	out := s.Frames(ctx, w.now, [][]byte{w.packed(vega, "writes ops=3")})
	if ack, ok := must(wire.Decode(out.Send[0].Bytes)).(*wire.Ack); !ok || ack.First != 2 {
		t.Fatalf("a run into a forgotten book was answered %+v", must(wire.Decode(out.Send[0].Bytes)))
	}
}

// The largest run that a phone may push goes out again in a frame that a phone may read.
func TestWIRE_5_TheLargestRunFitsAFrame(t *testing.T) {
	w := newWorld(t)
	r := relay.New(relay.Config{Store: w.store, Hosts: relay.NewHosts("club.example")})
	devices, sessions := clubOf(t, w, r, 2)
	sessions[1].Frames(ctx, w.now, [][]byte{wire.Encode(&wire.Subscribe{Book: w.book.id})})
	for _, line := range []string{"writes ops=64 size=2000", "writes ops=2 size=60000"} {
		push := w.packed(devices[0], line)
		if len(push) > wire.MaxFrame {
			t.Fatalf("a push of %d bytes", len(push))
		}
		sessions[0].Frames(ctx, w.now, [][]byte{push})
		out := sessions[1].Wake(ctx, w.now, []oplog.BookID{w.book.id})
		if len(out.Send) != 1 || len(out.Send[0].Bytes) > wire.MaxFrame {
			t.Fatalf("%q came in %d frames", line, len(out.Send))
		}
	}
}

func TestRELAY_14_BucketsRefillEvenly(t *testing.T) {
	tally, bucket := relay.NewTally(), relay.Bucket{What: "ops", Size: 100, Refill: 10_000}
	if wait := tally.Take(0, "mira", bucket, 100); wait != 0 {
		t.Fatalf("a full bucket asks to wait %d", wait)
	}
	if wait := tally.Take(0, "mira", bucket, 10); wait != 1001 {
		t.Errorf("an empty bucket asks to wait %d ms for a tenth", wait)
	}
	if wait := tally.Take(0, "lyra", bucket, 100); wait != 0 {
		t.Errorf("one key's use counts for another")
	}
	if wait := tally.Take(1001, "mira", bucket, 10); wait != 0 {
		t.Errorf("after the time that it named it asks to wait %d", wait)
	}
	tally.Return("mira", bucket, 10)
	if wait := tally.Take(1001, "mira", bucket, 10); wait != 0 {
		t.Errorf("what was returned is not there: %d", wait)
	}
	if wait := tally.Take(500, "mira", bucket, 1); wait == 0 {
		t.Errorf("a clock that goes back refills")
	}
}

func TestRELAY_2_Hosts(t *testing.T) {
	hosts := relay.NewHosts("Club.example", "127.0.0.1:8080", "[::1]:8080")
	for name, want := range map[string]bool{
		"club.example": true, "club.example:443": true, "CLUB.EXAMPLE": true, "127.0.0.1:8080": true, "[::1]:8080": true,
		"127.0.0.1": false, "127.0.0.1:80": false, "[::1]": false, "": false, ":": false, "evil.example": false, "club.example.evil.example": false,
	} {
		if got := hosts.Has(name); got != want {
			t.Errorf("%q: %v", name, got)
		}
	}
}

// Every write may fail in two ways at every moment of an evening; what was acknowledged is always there, once.
func TestRELAY_12_EveryWriteFailsTwoWays(t *testing.T) {
	for _, fate := range []memstore.Fate{memstore.Lost, memstore.Persisted} {
		for failing := range 6 {
			w := newWorld(t)
			r := relay.New(relay.Config{Store: w.store, Hosts: relay.NewHosts("club.example")})
			devices, sessions := clubOf(t, w, r, 2)
			writes := 0
			w.store.Fail = func(call string) memstore.Fate {
				if call != "write" {
					return memstore.Works
				}
				if writes++; writes == failing+1 {
					return fate
				}
				return memstore.Works
			}
			stored := must(w.store.Head(ctx, w.book.id)).Order.Pos
			for i := range 6 {
				push := w.packed(devices[i%2], "writes ops=2")
				for answered := false; !answered; {
					out := sessions[i%2].Frames(ctx, w.now, [][]byte{push})
					switch f := must(wire.Decode(out.Send[0].Bytes)).(type) {
					case *wire.Ack:
						if f.First != stored+1 {
							t.Fatalf("fate %d of write %d: run %d stands at %d, not %d", fate, failing, i, f.First, stored+1)
						}
						answered = true
					case *wire.Slow:
					default:
						t.Fatalf("fate %d of write %d: run %d was answered %+v", fate, failing, i, f)
					}
				}
				stored += 2
				if got := must(w.store.Head(ctx, w.book.id)).Order.Pos; got != stored {
					t.Fatalf("fate %d of write %d: %d entries are stored, not %d", fate, failing, got, stored)
				}
			}
		}
	}
}

// Ids that somebody made up are not kept, and push nobody's book out.
func TestRELAY_25_MadeUpBooksAreNotKept(t *testing.T) {
	w := newWorld(t)
	books := relay.NewBooks(3, 1000)
	r := relay.New(relay.Config{Store: w.store, Hosts: relay.NewHosts("club.example"), Books: books})
	vega := w.device("vega")
	s := connect(t, w, r, vega)
	s.Frames(ctx, w.now, [][]byte{w.packed(vega, "creates club")})
	for i := range 50 {
		s.Frames(ctx, w.now, [][]byte{wire.Encode(&wire.Subscribe{Book: oplog.BookID{byte(i), 1}, Pos: uint64(i % 2)})})
	}
	if books.Len() != 1 {
		t.Errorf("%d books are kept, want the one that exists", books.Len())
	}
}
