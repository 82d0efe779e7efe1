package replica_test

import (
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"hushcup/sync/oplog"
	"hushcup/sync/replica"
	"hushcup/sync/wire"
)

var rewriteCorpus = flag.Bool("corpus", false, "write the fuzz corpus anew from a phone's storage and what it was sent")

// stage is a phone's storage with every kind of record in it, and frames that it was sent.
var stage = sync.OnceValues(func() (map[string][]byte, [][]byte) {
	w := newWorld(panics{})
	vega, mira := w.phone("vega"), w.phone("mira")
	var frames [][]byte
	w.filter = func(p *phone, f wire.Frame) wire.Frame {
		if p == mira {
			frames = append(frames, wire.Encode(f))
		}
		return f
	}
	book := w.found(vega, mira)
	flight, ticket, err := vega.r.Flight(vega.clock(), book, replica.FlightArgs{Closes: w.now + 1e6})
	vega.must(ticket, err)
	sample, ticket, err := vega.r.SealSample(vega.clock(), book, replica.SampleArgs{Flight: flight, Code: 300, Answer: []byte("a")})
	vega.must(ticket, err)
	for i := range 140 {
		mira.put(book, byte(i+1), 1, replica.UnderEpoch, "x")
	}
	w.pass(5000)
	mira.guess(book, sample, "g")
	w.pass(1000)
	link, ticket, err := vega.r.Pair(vega.clock())
	vega.must(ticket, err)
	w.pass(500)
	mira.goOffline()
	mira.put(book, 200, 1, replica.UnderEpoch, "waits")
	mira.guess(book, sample, "waits too")
	_, ticket, err = mira.r.Join(mira.clock(), link, host)
	mira.must(ticket, err)
	w.rest()
	w.filter = func(p *phone, f wire.Frame) wire.Frame {
		switch f.(type) {
		case *wire.Ack, *wire.Entries:
			return nil
		}
		return f
	}
	vega.put(book, 201, 1, replica.UnderEpoch, "frozen")
	vega.must(vega.r.Unseal(vega.clock(), book, []oplog.SampleID{sample}))
	w.pass(500)
	disk := maps.Clone(mira.disk)
	for key, value := range vega.disk { // a frozen run and an intention
		if strings.HasPrefix(key, "own/run/") || strings.HasPrefix(key, "own/unseal/") {
			disk[key] = value
		}
	}
	return disk, frames
})

// panics is a test's bookkeeping where there is no test yet.
type panics struct{ testing.TB }

func (panics) Helper()                      {}
func (panics) Fatal(args ...any)            { panic(fmt.Sprint(args...)) }
func (panics) Fatalf(text string, a ...any) { panic(fmt.Sprintf(text, a...)) }

// A stored record may hold anything: the app starts, says so, or fetches the log anew, and never breaks down.
func FuzzStoredRecord_REPLICA_9(f *testing.F) {
	disk, _ := stage()
	keys := slices.Sorted(maps.Keys(disk))
	seeds := map[string][2]any{}
	for i, key := range keys {
		seeds[kindOf(key)] = [2]any{uint16(i), disk[key]}
	}
	seed(f, seeds)
	f.Fuzz(func(t *testing.T, index uint16, value []byte) {
		key := keys[int(index)%len(keys)]
		w := &world{t: t, now: 1_700_000_100_000, down: true}
		p := &phone{w: w, name: "mira", dice: &dice{}, disk: maps.Clone(disk)}
		p.disk[key] = value
		r := replica.New(replica.Config{Rand: p.dice})
		p.r, p.timers = r, map[string]int64{}
		p.saved, p.failed, p.stopped = map[replica.Ticket]bool{}, map[replica.Ticket]string{}, map[oplog.BookID]string{}
		var hot []replica.Record
		for _, key := range slices.Sorted(maps.Keys(p.disk)) {
			if !strings.HasPrefix(key, "cold/") {
				hot = append(hot, replica.Record{Key: key, Value: p.disk[key]})
			}
		}
		p.step(replica.Load{Records: hot})
		if _, err := r.Start(w.now, host); err != nil {
			if code(err) != "storage-damaged" {
				t.Fatal(err)
			}
			return
		}
		p.step(replica.Nothing{})
		look(p)
		for _, b := range r.Books() {
			_, _ = r.Put(w.now, replica.PutArgs{Book: b.ID, Doc: oplog.DocID{1}, Part: 1, Plain: []byte("x")})
			p.step(replica.Nothing{})
		}
		for len(p.held) > 0 {
			p.deliver()
		}
	})
}

// look reads everything that a screen could ask for.
func look(p *phone) {
	for _, b := range p.r.Books() {
		p.r.Docs(b.ID, func(d replica.DocPart) bool {
			p.r.Body(b.ID, d)
			return true
		})
		p.step(replica.Nothing{})
		state := p.r.Ahead(b.ID)
		for _, f := range state.Flights() {
			for _, s := range state.Samples(f.ID) {
				p.r.Answer(b.ID, s.Body.ID)
				p.r.Declared(b.ID, s.Body.ID)
				p.r.OwnGuess(b.ID, s.Body.ID)
				for _, m := range state.Members() {
					p.r.Guess(b.ID, s.Body.ID, m.ID)
				}
			}
		}
	}
	p.r.Refused()
	p.r.Sync()
	p.r.Joining()
	p.r.Intentions()
	p.step(replica.Nothing{})
}

// A frame may hold anything, at any moment.
func FuzzFrame_REPLICA_20(f *testing.F) {
	disk, frames := stage()
	seeds := map[string][2]any{}
	for i, frame := range frames {
		seeds[fmt.Sprintf("frame-%d-%d", frame[1], i%3)] = [2]any{uint16(i), frame}
	}
	seed(f, seeds)
	f.Fuzz(func(t *testing.T, after uint16, frame []byte) {
		w := &world{t: t, now: 1_700_000_100_000}
		p := &phone{w: w, name: "mira", dice: &dice{}, disk: maps.Clone(disk), alone: true}
		w.phones = []*phone{p}
		p.start()
		p.step(replica.Connected{Host: host})
		p.hear(&wire.Hello{Version: 1, Oldest: 1, Time: w.now})
		var heads []wire.BookHead
		for _, b := range p.r.Books() {
			heads = append(heads, wire.BookHead{Book: b.ID, Pos: b.Verified})
		}
		p.hear(&wire.Welcome{Books: heads})
		for _, earlier := range frames[:int(after)%(len(frames)+1)] {
			p.step(replica.FrameIn{Host: host, Bytes: earlier})
		}
		p.step(replica.FrameIn{Host: host, Bytes: frame})
		for len(p.held) > 0 {
			p.deliver()
		}
		look(p)
	})
}

// kindOf names what a record is, without its ids.
func kindOf(key string) string {
	var name []string
	for _, part := range strings.Split(key, "/") {
		if len(part) < 16 {
			name = append(name, part)
		}
	}
	return strings.Join(name, "-")
}

// seed gives a target its corpus, and writes it when told to.
func seed(f *testing.F, seeds map[string][2]any) {
	dir := filepath.Join("testdata", "fuzz", f.Name())
	for name, s := range seeds {
		f.Add(s[0], s[1])
		if !*rewriteCorpus {
			continue
		}
		if err := os.MkdirAll(dir, 0o755); err != nil {
			f.Fatal(err)
		}
		text := fmt.Sprintf("go test fuzz v1\nuint16(%d)\n[]byte(%q)\n", s[0], s[1])
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			f.Fatal(err)
		}
	}
	if found, _ := os.ReadDir(dir); len(found) == 0 {
		f.Fatalf("%s has no corpus", dir)
	}
}
