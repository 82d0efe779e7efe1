package sim

import (
	"flag"
	"maps"
	"os"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"hushcup/sync/oplog"
	"hushcup/sync/scenariotest"
)

var (
	seeds    = flag.Int("seeds", 2000, "how many worlds to run")
	first    = flag.Uint64("first", 1, "the first seed")
	seed     = flag.Uint64("seed", 0, "run the world of this seed only; with -v its script is printed")
	closely  = flag.Bool("closely", false, "with -seed: the script tells every frame")
	everyOne = flag.Bool("all", false, "go on after a failing seed, and show one script of each kind of failure")
)

// In every world the six promises hold after every step, and at rest; and over a few thousand worlds everything befalls.
func TestSIM1_SIM2_SIM3_SIM4_SIM5_SIM6_SIM8_PromisesHoldInEveryWorld(t *testing.T) {
	if *seed != 0 {
		runOne(t, *seed)
		return
	}
	counts := runAll(t, *first, *seeds)
	if testing.Verbose() {
		Print(os.Stdout, counts)
	}
	if missing := Missing(counts); *seeds >= 2000 && len(missing) > 0 {
		t.Errorf("in %d worlds these never happened: %q", *seeds, missing)
	}
}

// A world is its seed: the same script, frame by frame, and the same counts, each time.
func TestSIM7_AWorldIsItsSeed(t *testing.T) {
	for seed := range uint64(20) {
		one, two := New(seed+1, None), New(seed+1, None)
		one.Closely, two.Closely = true, true
		one.Run()
		two.Run()
		if !slices.Equal(one.script, two.script) || !maps.Equal(one.counts, two.counts) {
			t.Fatalf("seed %d gave two scripts:\n%s", seed+1, scenariotest.Difference(one.script, two.script))
		}
	}
}

// What a phone owes with a storage stays what it was, whatever it does before it comes back with that storage.
func TestSIM1_DebtsAreCopiedWhole(t *testing.T) {
	sample := func(n byte) made { return made{oplog.Sample, [16]byte{n}} }
	book, first, between, later := oplog.BookID{1}, sample(1), sample(2), sample(3)
	now := debts{made: map[oplog.BookID][]made{book: append(make([]made, 0, 4), first)}}
	older := now.copy()
	now.made[book] = append(now.made[book], between)
	old := now.copy()
	now = older
	now.made[book] = append(now.made[book], later)
	if !slices.Equal(old.made[book], []made{first, between}) {
		t.Errorf("the storage of between owes %v", old.made[book])
	}
}

func runOne(t *testing.T, seed uint64) {
	w := New(seed, None)
	w.Closely = *closely
	if fault := w.Run(); fault != nil {
		t.Fatal(fault)
	}
	if testing.Verbose() {
		t.Log("\n" + strings.Join(w.script, "\n"))
	}
}

// runAll runs worlds on all cores and adds up what happened in them.
func runAll(t *testing.T, from uint64, count int) map[string]int {
	t.Helper()
	var next atomic.Uint64
	next.Store(from)
	sum := summary{total: map[string]int{}, faults: map[string][]*Fault{}}
	var group sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		group.Go(func() {
			for *everyOne || !sum.failed.Load() {
				seed := next.Add(1) - 1
				if seed >= from+uint64(count) {
					return
				}
				w := New(seed, None)
				sum.add(w, w.Run())
			}
		})
	}
	group.Wait()
	for _, alike := range sum.faults {
		t.Errorf("%d such failures; the first: %v", len(alike), alike[0])
	}
	return sum.total
}

// summary adds up what happened in many worlds.
type summary struct {
	mu     sync.Mutex
	failed atomic.Bool
	total  map[string]int
	faults map[string][]*Fault // by what is alike of them
}

var particulars = regexp.MustCompile(`[0-9a-f]{4}\b|\d+|[a-z]+-\d`)

func (s *summary) add(w *World, fault *Fault) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for what, n := range w.counts {
		s.total[what] += n
	}
	if fault != nil {
		s.failed.Store(true)
		alike := particulars.ReplaceAllString(fault.Broken, "_")
		alike = alike[:min(len(alike), 110)]
		s.faults[alike] = append(s.faults[alike], fault)
	}
}
