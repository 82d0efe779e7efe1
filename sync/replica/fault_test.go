package replica_test

import (
	"context"
	"math"
	"strings"
	"testing"

	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/relay/memstore"
	"hushcup/sync/replica"
	"hushcup/sync/seal"
	"hushcup/sync/wire"
)

// Clocks at the end of time, years ahead and years behind: nobody is blocked, and the newer revision wins.
func TestClockAtTheEndOfTime_REPLICA_10(t *testing.T) {
	for _, skew := range []int64{math.MaxInt64 - 1_800_000_000_000, 1<<48 - 1_700_000_000_000, 9 * 365 * 24 * 3_600_000, -20 * 365 * 24 * 3_600_000} {
		w := newWorld(t)
		vega, mira := w.phone("vega"), w.phone("mira")
		mira.skew = skew
		book := w.found(vega, mira)
		mira.goOffline()
		mira.put(book, 1, 1, replica.UnderEpoch, "first")
		mira.goOnline()
		w.pass(5000)
		mira.skew = 0
		mira.cut()
		w.pass(60_000)
		mira.put(book, 1, 1, replica.UnderEpoch, "second")
		mira.skew = skew // while the connection is open
		mira.put(book, 2, 1, replica.UnderEpoch, "stamped in the middle")
		w.pass(30_000)
		if got, _, _ := vega.body(book, mira.me(book), oplog.DocID{1}, 1); got != "second" {
			t.Fatalf("skew %d: vega reads %q", skew, got)
		}
		if got, _, _ := vega.body(book, mira.me(book), oplog.DocID{2}, 1); got != "stamped in the middle" {
			t.Fatalf("skew %d: vega reads %q; %+v", skew, got, mira.r.Refused())
		}
		w.same(book, vega, mira)
		w.quiet(vega, mira)
	}
}

// hear gives a phone a frame as if its server had sent it.
func (p *phone) hear(f wire.Frame) { p.step(replica.FrameIn{Host: host, Bytes: wire.Encode(f)}) }

// A history that contradicts itself stops the book, with its code, and nothing of it is folded.
func TestTampering_REPLICA_11(t *testing.T) {
	cases := map[string]struct {
		bend func(e *wire.Entries, other *wire.Entries)
		want string
	}{
		"forged signature":    {func(e, _ *wire.Entries) { e.Runs[0].Run.Sig[5] ^= 1 }, "bad-signature"},
		"changed body":        {func(e, _ *wire.Entries) { (*e.Runs[0].Run.Ops[0].Body)[9] ^= 1 }, "malformed"},
		"changed header":      {func(e, _ *wire.Entries) { raw := e.Runs[0].Run.Ops[0].Raw; raw[len(raw)-1] ^= 1 }, "malformed"},
		"another book's run":  {func(e, o *wire.Entries) { e.Runs[0].Run = o.Runs[0].Run }, "wrong-book"},
		"time that falls":     {func(e, _ *wire.Entries) { e.Runs[0].At = 1 }, "time-fell"},
		"gap in a chain":      {func(e, _ *wire.Entries) { e.Runs = e.Runs[1:]; e.Runs[0].First-- }, "chain-gap"},
		"replay":              {func(e, _ *wire.Entries) { e.Runs[1] = e.Runs[0]; e.Runs[1].First++ }, "seq-taken"},
		"rewritten past":      {func(e, _ *wire.Entries) { e.Runs[0].First -= 2; e.Runs = e.Runs[:1] }, "order-rewritten"},
		"malformed signature": {func(e, _ *wire.Entries) { e.Runs[0].Run.Sig = nil }, "malformed"},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			w := newWorld(t)
			vega, mira := w.phone("vega"), w.phone("mira")
			book := w.found(vega, mira)
			var caught, other wire.Entries
			w.filter = func(p *phone, f wire.Frame) wire.Frame {
				e, ok := f.(*wire.Entries)
				if !ok || p != mira || len(e.Runs) == 0 || e.Book != book {
					if ok && p == mira && len(e.Runs) > 0 {
						other.Runs = append(other.Runs, e.Runs...)
					}
					return f
				}
				caught.Book, caught.Head = e.Book, e.Head
				caught.Runs = append(caught.Runs, e.Runs...)
				return nil
			}
			vega.put(book, 1, 1, replica.UnderEpoch, "one")
			w.pass(1000)
			vega.put(book, 2, 1, replica.UnderEpoch, "two")
			mira.put(mira.r.Notebook(), 2, 1, replica.UnderEpoch, "elsewhere")
			w.pass(1000)
			w.filter = nil
			if len(caught.Runs) != 2 || len(other.Runs) == 0 {
				t.Fatalf("%d runs were caught", len(caught.Runs))
			}
			before := mira.r.Club(book).Encode()
			c.bend(&caught, &other)
			mira.hear(&caught)
			w.rest()
			if mira.stopped[book] != c.want || mira.info(book).Status != replica.StatusStopped {
				t.Fatalf("stopped with %q, not %q", mira.stopped[book], c.want)
			}
			if c.want != "seq-taken" && string(before) != string(mira.r.Club(book).Encode()) {
				t.Fatal("something of it was folded")
			}
			if _, err := mira.r.Put(mira.clock(), replica.PutArgs{Book: book, Doc: oplog.DocID{1}, Part: 1}); code(err) != c.want {
				t.Fatalf("a stopped book takes ops: %v", err)
			}
			if c.want == "seq-taken" {
				return // part of that history was honest, and is kept
			}
			mira.crash(99)
			w.pass(5000)
			w.same(book, vega, mira)
			if mira.info(book).Status != replica.StatusCurrent {
				t.Fatalf("an honest server again, and still %+v", mira.info(book))
			}
		})
	}
}

// A server that holds a body back is asked once more, and only then is it tampering; when it gives the body, all is well. A body
// that was dropped for an entry still to come stops nothing.
func TestMissingBody_REPLICA_11(t *testing.T) {
	w := newWorld(t)
	vega, mira := w.phone("vega"), w.phone("mira")
	book := w.found(vega, mira)
	w.filter = func(p *phone, f wire.Frame) wire.Frame {
		if e, ok := f.(*wire.Entries); ok && p == mira && e.Book == book {
			for i := range e.Runs {
				e.Runs[i].Run.Ops[0].Body = nil
			}
		}
		return f
	}
	vega.put(book, 1, 1, replica.UnderEpoch, "one")
	w.pass(1000)
	if mira.stopped[book] != "" {
		t.Fatalf("stopped at once: %q", mira.stopped[book])
	}
	vega.put(book, 1, 1, replica.UnderEpoch, "one, again")
	w.pass(1000)
	vega.put(book, 2, 1, replica.UnderEpoch, "two")
	w.pass(10_000)
	if mira.stopped[book] != "body-missing" {
		t.Fatalf("stopped with %q", mira.stopped[book])
	}
	w.filter = nil
	mira.crash(99)
	w.pass(10_000)
	w.same(book, vega, mira)
	if s := mira.info(book); s.Status != replica.StatusCurrent {
		t.Fatalf("%+v", s)
	}
	for doc, want := range map[byte]string{1: "one, again", 2: "two"} {
		if got, status, _ := mira.body(book, vega.me(book), oplog.DocID{doc}, 1); got != want {
			t.Fatalf("mira reads %q %v", got, status)
		}
	}
}

// Two servers' worth of history: what an author had seen contradicts what the reader was shown.
func TestEquivocation_REPLICA_11(t *testing.T) {
	w := newWorld(t)
	vega, mira := w.phone("vega"), w.phone("mira")
	book := w.found(vega, mira)
	w.filter = func(p *phone, f wire.Frame) wire.Frame {
		if e, ok := f.(*wire.Entries); ok && p == mira && e.Book == book {
			for i := range e.Runs {
				e.Runs[i].At++ // mira is shown another order, consistent in itself
			}
		}
		return f
	}
	vega.put(book, 1, 1, replica.UnderEpoch, "one")
	w.pass(1000)
	vega.put(book, 2, 1, replica.UnderEpoch, "two, having seen one")
	w.pass(1000)
	if mira.stopped[book] != "seen-contradicts" {
		t.Fatalf("mira: %q", mira.stopped[book])
	}
}

// What a newer version wrote stops the book with the advice to update.
func TestNewerVersion_REPLICA_12(t *testing.T) {
	w := newWorld(t)
	vega := w.phone("vega")
	book := w.found(vega)
	w.pass(1000)
	state := vega.r.Club(book)
	head := state.Head(oplog.DeviceID(vega.r.Device().Sign))
	h := oplog.Header{Book: book, Device: oplog.DeviceID(vega.r.Device().Sign), Seq: head.Seq + 1, Prev: head.Hash,
		SeenPos: state.Order().Pos, SeenHash: state.Order().Chain, Kind: oplog.Kind(200)}
	op := oplog.New(h, []byte{0xa0})
	run := oplog.Sign([]oplog.Op{op}, signAs(vega))
	vega.hear(&wire.Entries{Book: book, Head: state.Order().Pos + 1, Runs: []oplog.Placed{{First: state.Order().Pos + 1, At: w.now, Run: run.Pack()}}})
	if vega.stopped[book] != "update-the-app" {
		t.Fatalf("stopped with %q", vega.stopped[book])
	}
	w.filter = func(p *phone, f wire.Frame) wire.Frame {
		if hello, ok := f.(*wire.Hello); ok {
			hello.Oldest = wire.Version + 1
		}
		return f
	}
	vega.cut()
	w.pass(35_000)
	if hosts := vega.r.Sync().Hosts; hosts[0].Open || hosts[0].Code != "app-too-old" {
		t.Fatalf("%+v", hosts)
	}
}

// A server that lost its tail gets it back from a phone, orders nothing new until an organiser says so, and then goes on.
func TestServerThatLostItsTail_REPLICA_13(t *testing.T) {
	w := newWorld(t)
	vega, mira := w.phone("vega"), w.phone("mira")
	book := w.found(vega, mira)
	for i := range 180 {
		vega.put(book, byte(i+1), 1, replica.UnderEpoch, strings.Repeat("text ", 300))
		if i%3 == 0 {
			w.pass(400)
		}
	}
	vega.put(book, 1, 1, replica.UnderEpoch, "superseded")
	w.pass(5000)
	head, _ := w.store.Head(context.Background(), book)
	vega.goOffline()
	mira.goOffline()
	w.store.LoseTail(book, head.Order.Pos/3, enrolled(vega, book))
	w.boot()
	mira.put(book, 77, 1, replica.UnderEpoch, "written meanwhile")
	mira.goOnline()
	w.pass(40_000)
	if got, _ := w.store.Head(context.Background(), book); got.Order != head.Order {
		t.Fatalf("the server has %d of %d back; mira: %+v", got.Order.Pos, head.Order.Pos, mira.info(book))
	}
	if s := mira.info(book); s.Status != replica.StatusRestored || s.Waiting != 1 {
		t.Fatalf("mira: %+v", s)
	}
	vega.goOnline()
	w.pass(1000)
	if s := vega.info(book); s.Status != replica.StatusRestored {
		t.Fatalf("vega: %+v", s)
	}
	if _, err := mira.r.Resume(mira.clock(), book); code(err) != "not-an-organiser" {
		t.Fatalf("a taster says resume: %v", err)
	}
	vega.put(book, 78, 1, replica.UnderEpoch, "waits for resume")
	vega.must(vega.r.Resume(vega.clock(), book))
	w.pass(60_000)
	w.same(book, vega, mira)
	w.quiet(vega, mira)
	if got, _, _ := vega.body(book, mira.me(book), oplog.DocID{77}, 1); got != "written meanwhile" {
		t.Fatalf("vega reads %q", got)
	}
	if got, _, _ := mira.body(book, vega.me(book), oplog.DocID{78}, 1); got != "waits for resume" {
		t.Fatalf("mira reads %q", got)
	}
}

// A server that lost a book altogether, and its devices with it, gets it back when a phone that has it asks.
func TestServerThatLostABook_REPLICA_13(t *testing.T) {
	w := newWorld(t)
	vega, mira := w.phone("vega"), w.phone("mira")
	book := w.found(vega, mira)
	vega.put(book, 1, 1, replica.UnderEpoch, "text")
	w.pass(1000)
	vega.goOffline()
	mira.goOffline()
	w.store.LoseTail(book, 0, nil)
	w.boot()
	vega.goOnline()
	mira.goOnline()
	w.pass(40_000)
	w.same(book, vega, mira)
	vega.must(vega.r.Resume(vega.clock(), book))
	mira.put(book, 2, 1, replica.UnderEpoch, "and on")
	w.pass(60_000)
	w.same(book, vega, mira)
	w.quiet(vega, mira)
}

// A server with another history is not given anything: the book stops.
func TestServerWithAnotherHistory_REPLICA_13(t *testing.T) {
	w := newWorld(t)
	vega := w.phone("vega")
	book := w.found(vega)
	w.pass(1000)
	vega.hear(&wire.Behind{Book: book, Pos: 1, Chain: oplog.Hash{1}})
	if vega.stopped[book] != "chain-differs" {
		t.Fatalf("stopped with %q", vega.stopped[book])
	}
}

// A refused op is listed, all else goes on; the person can try it again or let it go.
func TestRefusal_REPLICA_14(t *testing.T) {
	w := newWorld(t)
	vega, mira := w.phone("vega"), w.phone("mira")
	book := w.found(vega, mira)
	flight, ticket, err := vega.r.Flight(vega.clock(), book, replica.FlightArgs{})
	vega.must(ticket, err)
	vega.must(vega.r.Role(vega.clock(), book, mira.me(book), club.Organiser))
	w.pass(1000)
	vega.goOffline()
	mira.goOffline()
	seal := func(p *phone) {
		_, ticket, err := p.r.SealSample(p.clock(), book, replica.SampleArgs{Flight: flight, Code: 300, Answer: []byte("a")})
		p.must(ticket, err)
	}
	seal(vega)
	mira.put(book, 1, 1, replica.UnderEpoch, "before")
	seal(mira)
	mira.put(book, 2, 1, replica.UnderEpoch, "after")
	if _, _, err := mira.r.SealSample(mira.clock(), book, replica.SampleArgs{Flight: flight, Code: 300, Answer: []byte("a")}); code(err) != "code-taken" {
		t.Fatalf("judged by what waits: %v", err)
	}
	vega.goOnline()
	w.pass(1000)
	mira.goOnline()
	w.pass(5000)
	refused := mira.r.Refused()
	if len(refused) != 1 || refused[0].Code != "code-taken" || refused[0].Kind != oplog.Sample {
		t.Fatalf("refused: %+v", refused)
	}
	for doc, want := range map[byte]string{1: "before", 2: "after"} {
		if got, _, _ := vega.body(book, mira.me(book), oplog.DocID{doc}, 1); got != want {
			t.Fatalf("vega reads %q", got)
		}
	}
	mira.crash(99)
	if len(mira.r.Refused()) != 1 {
		t.Fatal("the refused op did not survive a restart")
	}
	if _, err := mira.r.Retry(mira.clock(), refused[0].ID); code(err) != "code-taken" {
		t.Fatalf("retry: %v", err)
	}
	mira.must(mira.r.Discard(mira.clock(), refused[0].ID))
	w.pass(5000)
	w.same(book, vega, mira)
	w.quiet(vega, mira)
}

// A part that the server refuses stays readable on the phone, and goes when it is tried again.
func TestRefusedPart_REPLICA_14(t *testing.T) {
	w := newWorld(t)
	vega, mira := w.phone("vega"), w.phone("mira")
	book := w.found(vega, mira)
	w.filter = func(p *phone, f wire.Frame) wire.Frame {
		if ack, ok := f.(*wire.Ack); ok && p == mira && ack.Book == book {
			return &wire.Refuse{Book: book, Device: ack.Device, First: ack.Seq, Seq: ack.Seq, Code: "too-much", Text: "no"}
		}
		if e, ok := f.(*wire.Entries); ok && p == mira && e.Book == book {
			return nil
		}
		return f
	}
	mira.put(book, 1, 1, replica.UnderEpoch, "mine")
	w.pass(1000)
	got, _, d := mira.body(book, mira.me(book), oplog.DocID{1}, 1)
	if got != "mine" || d.Share != replica.Refused {
		t.Fatalf("%q %v", got, d.Share)
	}
	w.filter = nil
	mira.cut()
	w.pass(5000)
	mira.must(mira.r.Retry(mira.clock(), mira.r.Refused()[0].ID))
	w.pass(5000)
	w.same(book, vega, mira)
	w.quiet(vega, mira)
}

// Two organisers remove at once: the second removal is made anew under the first one's epoch.
func TestTwoRemovalsAtOnce_REPLICA_18(t *testing.T) {
	w := newWorld(t)
	vega, mira, lyra, altair := w.phone("vega"), w.phone("mira"), w.phone("lyra"), w.phone("altair")
	book := w.found(vega, mira, lyra, altair)
	vega.must(vega.r.Role(vega.clock(), book, mira.me(book), club.Organiser))
	w.pass(1000)
	vega.goOffline()
	mira.goOffline()
	vega.must(vega.r.RemoveMember(vega.clock(), book, lyra.me(book)))
	vega.put(book, 1, 1, replica.UnderEpoch, "of vega")
	mira.must(mira.r.RemoveMember(mira.clock(), book, altair.me(book)))
	mira.put(book, 2, 1, replica.UnderEpoch, "of mira")
	vega.goOnline()
	mira.goOnline()
	w.pass(20_000)
	w.same(book, vega, mira)
	w.quiet(vega, mira)
	for _, gone := range []*phone{lyra, altair} {
		if gone.info(book).Status != replica.StatusRemoved {
			t.Fatalf("%s: %+v", gone.name, gone.info(book))
		}
	}
	if got, status, _ := vega.body(book, mira.me(book), oplog.DocID{2}, 1); got != "of mira" {
		t.Fatalf("vega reads %q %v", got, status)
	}
	if got, status, _ := mira.body(book, vega.me(book), oplog.DocID{1}, 1); got != "of vega" {
		t.Fatalf("mira reads %q %v", got, status)
	}
}

// Frames that make no sense end the connection, not the app; the next one goes on.
func TestFramesThatMakeNoSense_REPLICA_20(t *testing.T) {
	w := newWorld(t)
	vega, mira := w.phone("vega"), w.phone("mira")
	book := w.found(vega, mira)
	for _, b := range [][]byte{nil, {0}, {0x82, 0x18, 0xff, 0xa0}, make([]byte, wire.MaxFrame+1), codec.MustMarshal([]any{8, 5})} {
		vega.step(replica.FrameIn{Host: host, Bytes: b})
		if vega.session != nil {
			t.Fatalf("% x: still connected", b[:min(4, len(b))])
		}
		w.pass(35_000)
	}
	for _, f := range []wire.Frame{&wire.Ack{Book: book}, &wire.Refuse{Book: book}, &wire.Entries{}, &wire.Welcome{}, &wire.Hello{}, &wire.Slow{},
		&wire.Closed{}, &wire.Behind{Book: book}, &wire.Subscribe{}, &wire.Push{}} {
		vega.hear(f)
	}
	vega.crash(99)
	mira.put(book, 1, 1, replica.UnderEpoch, "still here")
	w.pass(40_000)
	w.same(book, vega, mira)
	w.quiet(vega, mira)
}

// A connection that says nothing is replaced; one after another, with growing pauses; at once when the person comes back.
func TestReconnecting_REPLICA_20(t *testing.T) {
	w := newWorld(t)
	vega := w.phone("vega")
	book := w.found(vega)
	w.down = true
	vega.cut()
	for range 12 {
		at := vega.timers["dial/"+host] - w.now
		if at < 100 || at > 30_000 {
			t.Fatalf("dials again after %d ms", at)
		}
		w.pass(at)
	}
	w.down = false
	vega.step(replica.Foreground{})
	w.rest()
	if !vega.r.Sync().Hosts[0].Open {
		t.Fatal("not at once")
	}
	w.filter = func(p *phone, f wire.Frame) wire.Frame { return nil }
	vega.put(book, 1, 1, replica.UnderEpoch, "into the void")
	w.pass(20_000)
	if vega.info(book).Waiting == 0 {
		t.Fatal("acknowledged by nobody")
	}
	w.filter = nil
	w.pass(60_000)
	w.quiet(vega)
}

// slow answers hold pushing back, not the rest.
func TestSlowServer_REPLICA_20(t *testing.T) {
	w := newWorld(t)
	vega, mira := w.phone("vega"), w.phone("mira")
	book := w.found(vega, mira)
	w.store.Fail = failWrites
	vega.put(book, 1, 1, replica.UnderEpoch, "patience")
	w.pass(10_000)
	w.store.Fail = nil
	w.pass(40_000)
	w.same(book, vega, mira)
	w.quiet(vega, mira)
}

func failWrites(call string) memstore.Fate {
	if call == "write" {
		return memstore.Lost
	}
	return memstore.Works
}

func enrolled(p *phone, book oplog.BookID) []oplog.DeviceID { return p.r.Club(book).Enrolled() }

// identity is what the phone stored: tests that lie need to sign as it.
func (p *phone) identity() seal.Identity {
	var record struct {
		_         struct{} `cbor:",toarray"`
		Sign, Box [32]byte
		Notebook  oplog.BookID
		Host      string
		Device    oplog.DeviceID
	}
	if err := codec.Unmarshal(p.disk["own/phone"], &record); err != nil {
		p.w.t.Fatal(err)
	}
	return seal.Identity{SignSeed: record.Sign, BoxSeed: record.Box}
}

func signAs(p *phone) func([]byte) [64]byte { return p.identity().Sign }
