package replica_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

// brews fills a notebook with n shared brews of about a kilobyte.
func brews(tb testing.TB, n int) (*world, *phone) {
	w := newWorld(tb)
	p := w.phone("vega")
	w.pass(1000)
	text := strings.Repeat("brew ", 180)
	for i := range n {
		ticket, err := p.r.Put(p.clock(), replica.PutArgs{
			Book: p.r.Notebook(), Doc: oplog.DocID{1, byte(i >> 8), byte(i)}, Part: 1, Plain: []byte(text + fmt.Sprint(i)),
		})
		p.must(ticket, err)
		if i%50 == 49 {
			w.pass(400)
		}
	}
	w.pass(60_000)
	w.quiet(p)
	return w, p
}

func hot(p *phone) (records []replica.Record, bytes int) {
	for _, key := range slices.Sorted(maps.Keys(p.disk)) {
		if !strings.HasPrefix(key, "cold/") {
			records = append(records, replica.Record{Key: key, Value: p.disk[key]})
			bytes += len(p.disk[key])
		}
	}
	return records, bytes
}

// toReplay is how many entries a start from this disk would replay.
func toReplay(t *testing.T, p *phone) (entries int) {
	for key, value := range p.disk {
		if !strings.Contains(key, "/tail/") {
			continue
		}
		var placed oplog.Placed
		if err := codec.Unmarshal(value, &placed); err != nil {
			t.Fatal(err)
		}
		entries += len(placed.Run.Ops)
	}
	return entries
}

// A phone that keeps up leaves a start little to replay.
func TestREPLICA9_AStartReplaysFewEntries(t *testing.T) {
	_, p := brews(t, 10_000)
	entries := toReplay(t, p)
	if most := 10_000/64 + oplog.MaxRunOps; entries > most {
		t.Errorf("%d entries, more than %d", entries, most)
	}
}

// After a quiet moment a start replays next to nothing, and knows the same.
func TestREPLICA9_AQuietPhoneWritesASnapshot(t *testing.T) {
	const quiet = 21_000
	w, p := brews(t, 60)
	for i := range 20 { // one after the other, never quiet for long
		p.put(p.r.Notebook(), byte(100+i), 1, replica.UnderEpoch, "another")
		w.pass(5_000)
	}
	busy := toReplay(t, p)
	if busy < 20 {
		t.Fatalf("%d entries to replay while it is busy", busy)
	}
	p.crash(0) // killed before it is quiet
	w.pass(quiet)
	if n := toReplay(t, p); n >= 8 {
		t.Fatalf("%d entries to replay after a quiet moment, %d before", n, busy)
	}
	verified := p.r.Books()[0].Verified
	p.goOffline()
	p.crash(0)
	if now := p.r.Books()[0].Verified; now != verified {
		t.Errorf("%d entries after the start, %d before", now, verified)
	}
	if got, _, _ := p.body(p.r.Notebook(), p.me(p.r.Notebook()), oplog.DocID{119}, 1); got != "another" {
		t.Errorf("the newest reads %q", got)
	}
}

// A snapshot that can wait is not written to a disk that takes nothing.
func TestREPLICA9_AFullDiskIsLeftAlone(t *testing.T) {
	w, p := brews(t, 60)
	for i := range 10 {
		p.put(p.r.Notebook(), byte(100+i), 1, replica.UnderEpoch, "another")
		w.pass(1_000)
	}
	p.full = true
	p.put(p.r.Notebook(), 3, 1, replica.UnderEpoch, "too much")
	w.pass(1_000)
	p.full = false
	before := toReplay(t, p)
	p.step(replica.Timer{Name: "rest/" + p.r.Notebook().String()})
	w.rest()
	if n := toReplay(t, p); n != before {
		t.Fatalf("%d entries to replay, %d before", n, before)
	}
	w.pass(60_000) // the disk is tried again, and then it is quiet
	p.put(p.r.Notebook(), 3, 1, replica.UnderEpoch, "room again")
	w.pass(60_000)
	if n := toReplay(t, p); n >= 8 {
		t.Fatalf("%d entries to replay once there was room", n)
	}
}

// A start with 5,000 brews in the notebook: snapshot and tail.
func BenchmarkStart5000(b *testing.B) {
	_, p := brews(b, 5000)
	records, bytes := hot(p)
	for b.Loop() {
		r := replica.New(replica.Config{Rand: &dice{}})
		r.Step(p.clock(), replica.Load{Records: records})
		if len(r.Books()) != 1 || r.Books()[0].Verified < 5000 {
			b.Fatalf("%+v", r.Books())
		}
	}
	b.ReportMetric(float64(bytes), "stored-B")
	b.ReportMetric(float64(len(records)), "records")
}

// What a tap costs with so many brews there, and how little it depends on them.
func BenchmarkPut(b *testing.B) {
	for _, n := range []int{50, 5000} {
		b.Run(fmt.Sprintf("with %d brews", n), func(b *testing.B) {
			_, p := brews(b, n)
			p.goOffline()
			text := []byte(strings.Repeat("brew ", 180))
			i := 0
			b.ResetTimer()
			for b.Loop() {
				i++
				if _, err := p.r.Put(p.clock(), replica.PutArgs{
					Book: p.r.Notebook(), Doc: oplog.DocID{2, byte(i >> 16), byte(i >> 8), byte(i)}, Part: 1, Plain: text,
				}); err != nil {
					b.Fatal(err)
				}
				p.step(replica.Nothing{})
				for len(p.held) > 0 {
					p.deliver()
				}
			}
		})
	}
}

// Commit to the other phone's fold: command, two writes, server, verification, fold.
func BenchmarkCommitToOtherFold(b *testing.B) {
	w := newWorld(b)
	vega, mira := w.phone("vega"), w.phone("mira")
	book := w.found(vega, mira)
	for b.Loop() {
		before := mira.r.Club(book).Order().Pos
		_, ticket, err := vega.r.Flight(vega.clock(), book, replica.FlightArgs{})
		vega.must(ticket, err)
		w.rest()
		w.now += 1000
		if mira.r.Club(book).Order().Pos == before {
			b.Fatalf("not there: %+v", vega.r.Refused())
		}
	}
}
