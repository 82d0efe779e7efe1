package replica_test

import (
	"bytes"
	"maps"
	"testing"

	"hushcup/sync/oplog"
	"hushcup/sync/replica"
	"hushcup/sync/wire"
)

// Nothing is saved before the disk says so, and what was saved survives.
func TestSavedMeansDurable_REPLICA_2(t *testing.T) {
	w := newWorld(t)
	vega := w.phone("vega")
	w.pass(1000)
	vega.hold = true
	ticket := vega.put(vega.r.Notebook(), 1, 1, replica.UnderEpoch, "a brew")
	w.rest()
	if vega.saved[ticket] {
		t.Fatal("saved before it was durable")
	}
	vega.hold = false
	w.rest()
	if !vega.saved[ticket] {
		t.Fatal("durable, and not saved")
	}
	vega.goOffline()
	vega.crash(0)
	if got, _, _ := vega.body(vega.r.Notebook(), vega.me(vega.r.Notebook()), oplog.DocID{1}, 1); got != "a brew" {
		t.Fatalf("after a restart: %q", got)
	}
}

// Every write of an evening is lost in a crash once, and lost-but-persisted once; nothing that was saved is missing after.
func TestCrashAtEveryWrite_REPLICA_2_REPLICA_3(t *testing.T) {
	for _, keep := range []int{0, 1} {
		for at := 0; at < 14; at++ {
			w := newWorld(t)
			vega, mira := w.phone("vega"), w.phone("mira")
			book := w.found(vega, mira)
			start := vega.persists
			saved := map[byte]replica.Ticket{}
			watch := func() bool { // true when the crash has happened
				for i := 0; i < 400; i++ {
					vega.hold = vega.persists-start >= at
					moved := false
					for _, p := range w.phones {
						moved = p.deliver() || moved
					}
					if vega.hold && len(vega.held) > 0 {
						return true
					}
					if !moved {
						return false
					}
				}
				return false
			}
			crashed := false
			durable := map[byte]bool{}
			for doc := byte(1); doc <= 5 && !crashed; doc++ {
				saved[doc] = vega.put(book, doc, 1, replica.UnderEpoch, "text")
				crashed = watch()
				w.now += 200
				if !crashed {
					for _, n := range []string{"freeze/" + book.String()} {
						if _, set := vega.timers[n]; set {
							delete(vega.timers, n)
							vega.step(replica.Timer{Name: n})
						}
					}
					crashed = watch()
				}
				for d, ticket := range saved {
					if vega.saved[ticket] {
						durable[d] = true
					}
				}
			}
			vega.crash(keep)
			w.pass(30_000)
			for doc := range durable {
				if got, status, d := mira.body(book, vega.me(book), oplog.DocID{doc}, 1); got != "text" {
					t.Fatalf("crash at write %d (%d kept): doc %d was saved and is %q %v %+v", at, keep, doc, got, status, d)
				}
			}
			w.same(book, vega, mira)
			w.quiet(vega, mira)
		}
	}
}

// A run whose acknowledgement was lost is sent again, byte for byte, and stands in the order once.
func TestFrozenRunThatLostItsAcknowledgement_REPLICA_4(t *testing.T) {
	w := newWorld(t)
	vega, mira := w.phone("vega"), w.phone("mira")
	book := w.found(vega, mira)
	w.filter = func(p *phone, f wire.Frame) wire.Frame {
		switch f.(type) {
		case *wire.Ack, *wire.Entries:
			if p == vega {
				return nil
			}
		}
		return f
	}
	before := mira.r.Club(book).Order().Pos
	vega.put(book, 1, 1, replica.UnderEpoch, "once")
	w.pass(500)
	vega.put(book, 1, 1, replica.UnderEpoch, "newer, behind the frozen one")
	_, _, d := vega.body(book, vega.me(book), oplog.DocID{1}, 1)
	if d.Share != replica.OnDevice {
		t.Fatalf("share %v", d.Share)
	}
	vega.sent = nil
	vega.crash(99)
	first := pushes(vega)
	w.filter = nil
	vega.cut()
	w.pass(10_000)
	if again := pushes(vega); len(again) == 0 || len(first) > 0 && !bytes.Equal(first[0], again[0]) {
		t.Fatal("not sent again as it was")
	}
	if got := mira.r.Club(book).Order().Pos; got != before+2 {
		t.Fatalf("%d entries came of two revisions", got-before)
	}
	if got, _, _ := mira.body(book, vega.me(book), oplog.DocID{1}, 1); got != "newer, behind the frozen one" {
		t.Fatalf("mira reads %q", got)
	}
	w.quiet(vega, mira)
}

func pushes(p *phone) (runs [][]byte) {
	for _, f := range p.sent {
		if push, ok := f.(*wire.Push); ok {
			runs = append(runs, wire.Encode(push))
		}
	}
	return runs
}

// Nothing leaves before the frozen run is durable.
func TestNothingLeavesBeforeItIsDurable_REPLICA_3(t *testing.T) {
	w := newWorld(t)
	vega := w.phone("vega")
	book := w.found(vega)
	w.pass(1000)
	vega.sent, vega.hold = nil, true
	_, ticket, err := vega.r.Flight(vega.clock(), book, replica.FlightArgs{})
	vega.must(ticket, err)
	w.pass(1000)
	if len(pushes(vega)) != 0 {
		t.Fatal("a run left before it was durable")
	}
	vega.hold = false
	w.pass(1000)
	if len(pushes(vega)) != 1 {
		t.Fatalf("%d runs left", len(pushes(vega)))
	}
}

// Revisions that did not leave are superseded, so that an evening of typing is a handful of ops.
func TestTypingBecomesOneOp_REPLICA_5(t *testing.T) {
	w := newWorld(t)
	vega, mira := w.phone("vega"), w.phone("mira")
	book := w.found(vega, mira)
	before := mira.r.Club(book).Order().Pos
	for i := range 40 {
		vega.put(book, 1, 1, replica.UnderEpoch, string(bytes.Repeat([]byte("a"), i+1)))
	}
	w.pass(1000)
	if got := mira.r.Club(book).Order().Pos - before; got > 2 {
		t.Fatalf("40 revisions became %d ops", got)
	}
	if got, _, _ := mira.body(book, vega.me(book), oplog.DocID{1}, 1); len(got) != 40 {
		t.Fatalf("mira reads %q", got)
	}
}

// More than fits into one run goes in several, in order.
func TestManyOps_REPLICA_5(t *testing.T) {
	w := newWorld(t)
	vega, mira := w.phone("vega"), w.phone("mira")
	book := w.found(vega, mira)
	vega.goOffline()
	for i := range 200 {
		vega.put(book, byte(i), 1, replica.UnderEpoch, "short")
	}
	for i := range 12 {
		vega.put(book, byte(i), 2, replica.UnderEpoch, string(bytes.Repeat([]byte("long"), 8000)))
	}
	vega.goOnline()
	w.pass(20_000)
	n := 0
	mira.r.Docs(book, func(d replica.DocPart) bool { n++; return true })
	if n != 212 {
		t.Fatalf("mira has %d of 212", n)
	}
	w.same(book, vega, mira)
	w.quiet(vega, mira)
	for _, p := range []*phone{vega, mira} { // past a snapshot
		before := p.r.Club(book).Encode()
		p.crash(99)
		if !bytes.Equal(before, p.r.Club(book).Encode()) {
			t.Fatalf("%s forgot something", p.name)
		}
	}
}

// On a full disk a command fails with its code, is not there, and nothing else is lost; when there is room all goes on.
func TestFullDisk_REPLICA_6(t *testing.T) {
	w := newWorld(t)
	vega, mira := w.phone("vega"), w.phone("mira")
	book := w.found(vega, mira)
	ticket := vega.put(book, 1, 1, replica.UnderEpoch, "kept")
	w.pass(1000)
	vega.full = true
	lost := vega.put(book, 1, 1, replica.UnderEpoch, "no room")
	flight, refusedTicket, err := vega.r.Flight(vega.clock(), book, replica.FlightArgs{})
	vega.must(refusedTicket, err)
	w.rest()
	if vega.failed[lost] != "storage-full" || vega.failed[refusedTicket] != "storage-full" || vega.saved[lost] || !vega.saved[ticket] {
		t.Fatalf("failed: %v", vega.failed)
	}
	if got, _, _ := vega.body(book, vega.me(book), oplog.DocID{1}, 1); got != "kept" {
		t.Fatalf("the screen would show %q", got)
	}
	if _, ok := vega.r.Ahead(book).Flight(flight); ok {
		t.Fatal("a flight that was not saved is there")
	}
	if vega.r.Sync().Storage != "storage-full" {
		t.Fatalf("%+v", vega.r.Sync())
	}
	mira.put(book, 2, 1, replica.UnderEpoch, "meanwhile")
	w.pass(5000)
	vega.full = false
	again := vega.put(book, 3, 1, replica.UnderEpoch, "room again")
	w.pass(60_000)
	if !vega.saved[again] || vega.r.Sync().Storage != "" {
		t.Fatalf("%+v", vega.r.Sync())
	}
	w.same(book, vega, mira)
	w.quiet(vega, mira)
	if got, _, _ := vega.body(book, mira.me(book), oplog.DocID{2}, 1); got != "meanwhile" {
		t.Fatalf("vega reads %q", got)
	}
	if got, _, _ := mira.body(book, vega.me(book), oplog.DocID{3}, 1); got != "room again" {
		t.Fatalf("mira reads %q", got)
	}
}

// What came from elsewhere while the disk was full is written later, not lost.
func TestFullDiskWhileReading_REPLICA_6(t *testing.T) {
	w := newWorld(t)
	vega, mira := w.phone("vega"), w.phone("mira")
	book := w.found(vega, mira)
	w.pass(1000)
	vega.full = true
	for i := range 20 {
		mira.put(book, byte(i+1), 1, replica.UnderEpoch, "meanwhile")
		w.pass(2000)
	}
	vega.full = false
	w.pass(60_000)
	w.same(book, vega, mira)
	vega.crash(99)
	w.same(book, vega, mira)
	if got, _, _ := vega.body(book, mira.me(book), oplog.DocID{20}, 1); got != "meanwhile" {
		t.Fatalf("vega reads %q", got)
	}
}

// A first start on a full disk makes no identity that a second start would not have.
func TestFirstStartOnAFullDisk_REPLICA_6(t *testing.T) {
	w := newWorld(t)
	p := &phone{w: w, name: "vega", dice: &dice{seed: 55}, disk: map[string][]byte{}, full: true}
	w.phones = append(w.phones, p)
	p.start()
	w.rest()
	if p.r.Sync().Identity || len(p.r.Books()) != 0 {
		t.Fatal("an identity that is not stored")
	}
	p.full = false
	w.pass(60_000)
	if !p.r.Sync().Identity || p.info(p.r.Notebook()).Status != replica.StatusCurrent {
		t.Fatalf("%+v", p.r.Books())
	}
	w.quiet(p)
}

// Two phones with one storage: each adopts what the other had ordered, and nothing is lost.
func TestCopiedStorage_REPLICA_8(t *testing.T) {
	w := newWorld(t)
	vega, mira := w.phone("vega"), w.phone("mira")
	book := w.found(vega, mira)
	vega.goOffline()
	vega.put(book, 1, 1, replica.UnderEpoch, "in both")
	w.rest()
	twin := w.copyOf(vega, "twin")
	twin.put(book, 2, 1, replica.UnderEpoch, "of the twin")
	w.pass(3000)
	vega.put(book, 3, 1, replica.UnderEpoch, "of the first")
	vega.goOnline()
	for i := range 10 {
		vega.put(book, byte(10+i), 1, replica.UnderEpoch, "of the first")
		twin.put(book, byte(30+i), 1, replica.UnderEpoch, "of the twin")
		w.pass(300)
	}
	w.pass(60_000)
	w.same(book, vega, mira, twin)
	w.quiet(vega, mira, twin)
	for doc, want := range map[byte]string{1: "in both", 2: "of the twin", 3: "of the first", 15: "of the first", 35: "of the twin"} {
		if got, status, _ := mira.body(book, vega.me(book), oplog.DocID{doc}, 1); got != want {
			t.Fatalf("mira reads doc %d as %q %v", doc, got, status)
		}
	}
}

// A storage that was rolled back catches up and goes on.
func TestRolledBackStorage_REPLICA_8(t *testing.T) {
	w := newWorld(t)
	vega, mira := w.phone("vega"), w.phone("mira")
	book := w.found(vega, mira)
	vega.put(book, 1, 1, replica.UnderEpoch, "old")
	w.pass(1000)
	backup := maps.Clone(vega.disk)
	vega.put(book, 1, 1, replica.UnderEpoch, "newer")
	vega.put(book, 2, 1, replica.UnderEpoch, "after the backup")
	w.pass(1000)
	vega.goOffline()
	vega.disk = backup
	vega.start()
	vega.put(book, 3, 1, replica.UnderEpoch, "after the rollback")
	vega.goOnline()
	w.pass(30_000)
	w.same(book, vega, mira)
	w.quiet(vega, mira)
	for doc, want := range map[byte]string{1: "newer", 2: "after the backup", 3: "after the rollback"} {
		for _, p := range []*phone{vega, mira} {
			if got, status, _ := p.body(book, vega.me(book), oplog.DocID{doc}, 1); got != want {
				t.Fatalf("%s reads doc %d as %q %v", p.name, doc, got, status)
			}
		}
	}
}

// A damaged log is fetched anew; what only this phone has stays.
func TestDamagedLog_REPLICA_9(t *testing.T) {
	w := newWorld(t)
	vega, mira := w.phone("vega"), w.phone("mira")
	book := w.found(vega, mira)
	for i := range 150 {
		mira.put(book, byte(i+1), 1, replica.UnderEpoch, "text")
	}
	w.pass(10_000)
	vega.goOffline()
	vega.put(book, 200, 1, replica.UnderEpoch, "only here")
	w.rest()
	damaged := 0
	for key, value := range vega.disk {
		if bytes.Contains([]byte(key), []byte(book.String())) && bytes.HasPrefix([]byte(key), []byte("log/")) && len(value) > 40 {
			value = bytes.Clone(value)
			value[len(value)/2] ^= 0x40
			vega.disk[key] = value
			damaged++
		}
	}
	if damaged == 0 {
		t.Fatal("nothing was damaged")
	}
	vega.start()
	if got, _, _ := vega.body(book, vega.me(book), oplog.DocID{200}, 1); got != "only here" {
		t.Logf("before the log is back: %q", got)
	}
	vega.goOnline()
	w.pass(30_000)
	w.same(book, vega, mira)
	w.quiet(vega, mira)
	if got, status, _ := mira.body(book, vega.me(book), oplog.DocID{200}, 1); got != "only here" {
		t.Fatalf("mira reads %q %v", got, status)
	}
}
