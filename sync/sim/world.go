package sim

import (
	"fmt"
	"runtime/debug"
	"slices"
	"strings"

	"hushcup/sync/oplog"
	"hushcup/sync/relay"
	"hushcup/sync/relay/memstore"
	"hushcup/sync/seal"
)

// epoch is when every world begins, by the servers' clock.
const epoch = 1_700_000_000_000

// World is one seed's evening.
type World struct {
	Seed    uint64
	Closely bool // the script tells every frame too
	rng     rng
	now     int64 // true milliseconds since the world began
	agenda  agenda
	timers  map[string]int
	rates   rates
	ills    ills
	limits  relay.Limits
	store   *memstore.Store
	servers []*Server
	phones  []*Phone
	people  []*person
	clubs   []*clubhouse
	counts  map[string]int
	script  []string
	fault   *Fault
	healed  bool
	steps   int
	frames  int
	mutant  Mutant

	// What the promises are held against.
	observers  []*observer // of the store, and of the one that a server shows which lies
	known      map[place]digest
	bookIDs    []oplog.BookID
	silent     bool   // servers do not hear of each other's writes
	looking    bool   // the observer reads: the store does not fail
	thinned    uint64 // states are compared at one place in so many
	lookOften  int    // a part is read after one step in so many
	secrets    secrets
	lastWord   int
	writings   map[int]*writing
	answers    map[oplog.SampleID]string
	unsealed   map[oplog.SampleID]bool // somebody wanted it unsealed
	torn       map[oplog.BookID]bool   // the store lost a tail of it
	forked     bool                    // a server showed a history of its own
	keysOfYore []seal.Key              // that stood on disks which were rolled back since
	thieves    map[oplog.DeviceID]bool // devices of the liars
	liars      []*liar
	ordered    map[oplog.DocID][]int // numbers of what was ordered, once it was read
	late       map[lateKey]bool
	opened     map[place]string
}

// ills are what may befall a world beside what always may; most worlds know few of them, so that what can be asserted only
// without them is asserted often.
type ills struct {
	tornStore bool // the store loses tails
	rogue     bool // servers lie
	fork      bool // a server shows a history of its own
	rollBack  bool // storages are rolled back
}

// rates are how bad this world is: "one in" so many, 0 for never.
type rates struct {
	breaks    int   // lines, per frame
	hostile   int   // lines that damage frames, per connection
	store     int   // store calls that fail
	slow      int64 // most milliseconds that a slow line's frame takes
	diskDelay int64
	crash     int // phones, per action
}

// Fault is a broken promise.
type Fault struct {
	Seed   uint64
	Broken string
	Script []string
}

func (f *Fault) Error() string {
	return fmt.Sprintf("seed %d: %s\n  %s", f.Seed, f.Broken, strings.Join(f.Script, "\n  "))
}

// stop is thrown by fail and caught by Run.
type stop struct{}

func (w *World) fail(format string, args ...any) {
	if w.fault == nil {
		w.fault = &Fault{Seed: w.Seed, Broken: fmt.Sprintf(format, args...), Script: slices.Clone(w.script)}
	}
	panic(stop{})
}

// say adds a line to the script.
func (w *World) say(format string, args ...any) {
	w.script = append(w.script, fmt.Sprintf("%8d  ", w.now)+fmt.Sprintf(format, args...))
}

func (w *World) count(what string) { w.counts[what]++ }

// clock is the servers' time.
func (w *World) clock() int64 { return epoch + w.now }

func (w *World) at(time int64, do func())     { w.agenda.put(time, do) }
func (w *World) after(delay int64, do func()) { w.agenda.put(w.now+delay, do) }

// advance does everything that is due within a span of time.
func (w *World) advance(span int64) {
	until := w.now + span
	for w.agenda.Len() > 0 && w.agenda.items[0].at <= until {
		a := w.agenda.take()
		w.now = max(w.now, a.at)
		a.do()
		if w.steps++; w.steps > 400_000 {
			w.fail("the world does not come to rest: something goes in circles")
		}
	}
	w.now = until
}

// reachable picks the server that answers a phone, or none.
func (w *World) reachable(p *Phone) *Server {
	if !p.online {
		return nil
	}
	var up []*Server
	for _, s := range w.servers {
		if s.up && (p.via == nil || p.via == s) {
			up = append(up, s)
		}
	}
	if len(up) == 0 {
		return nil
	}
	return pick(&w.rng, up)
}

func (w *World) hostile() bool { return w.rng.oneIn(w.rates.hostile) }

// New draws a world from a seed.
func New(seed uint64, mutant Mutant) *World {
	w := empty(seed, mutant)
	w.rates = w.drawRates()
	w.ills = ills{tornStore: w.rng.oneIn(4), rogue: w.rng.oneIn(6), fork: w.rng.oneIn(12), rollBack: w.rng.oneIn(3)}
	for range 1 + w.rng.upTo(2) {
		w.addServer().start()
	}
	for i := range 2 + w.rng.upTo(5) {
		w.addPerson(names[i])
	}
	return w
}

// empty is a world with a store and nobody in it.
func empty(seed uint64, mutant Mutant) *World {
	w := &World{
		Seed: seed, rng: rng{seed}, mutant: mutant, timers: map[string]int{}, counts: map[string]int{}, store: memstore.New(),
		known: map[place]digest{}, writings: map[int]*writing{}, answers: map[oplog.SampleID]string{},
		unsealed: map[oplog.SampleID]bool{}, torn: map[oplog.BookID]bool{}, thieves: map[oplog.DeviceID]bool{},
		limits: relay.DefaultLimits,
	}
	if mutant == RoleGrabbed {
		defer func() { w.thinned = 1 }()
	}
	w.thinned, w.lookOften = pick(&w.rng, []uint64{1, 4, 8, 8}), 12
	w.rates = rates{slow: 5, diskDelay: 1}
	w.observers = []*observer{newObserver(w, w.store)}
	w.secrets = newSecrets(w.rng.oneIn(8) || mutant == KeyLeaks)
	w.store.Fail = w.storeFate
	return w
}

func (w *World) drawRates() rates {
	some := func(n ...int) int { return pick(&w.rng, n) }
	return rates{
		breaks:    some(0, 0, 200, 40),
		hostile:   some(0, 0, 0, 4),
		store:     some(0, 0, 300, 40),
		slow:      int64(some(5, 50, 800)),
		diskDelay: int64(some(1, 20, 400)),
		crash:     some(0, 30, 8),
	}
}

func (w *World) storeFate(call string) memstore.Fate {
	if w.healed || w.looking || !w.rng.oneIn(w.rates.store) {
		return memstore.Works
	}
	if call == "write" && w.rng.oneIn(2) {
		w.count("store wrote, and the answer was lost")
		return memstore.Persisted
	}
	w.count("store failed")
	return memstore.Lost
}

// Run plays the evening, heals everything, waits for rest, and asserts what must hold then.
func (w *World) Run() (fault *Fault) {
	defer func() {
		if r := recover(); r != nil {
			if _, ours := r.(stop); !ours {
				w.fault = &Fault{Seed: w.Seed, Broken: fmt.Sprintf("panic: %v\n%s", r, debug.Stack()), Script: w.script}
			}
		}
		fault = w.fault
	}()
	w.play()
	w.heal()
	w.checkRest()
	return nil
}

func (w *World) play() {
	if !w.rng.oneIn(4) {
		w.found()
	}
	spans := pick(&w.rng, [][]int64{{20, 300, 4000, 60_000}, {20, 300, 4000}, {300, 4000, 20_000}})
	for range 30 + w.rng.upTo(110) {
		w.act()
		w.advance(w.rng.between(0, pick(&w.rng, spans)))
	}
}

// found begins most evenings: a club to which most people come, with a flight and a sample or two, while little goes wrong.
func (w *World) found() {
	p := w.people[0].phones[0]
	p.online = true
	w.advance(2000)
	steps := []func(*World, *Phone){(*World).createClub, (*World).openFlight, (*World).sealSample, (*World).invite, (*World).invite}
	for _, do := range steps {
		if p.up() {
			do(w, p)
		}
		w.advance(w.rng.between(0, 3000))
	}
	for _, other := range w.people[1:] {
		if q := other.phones[0]; q.up() && !w.rng.oneIn(5) {
			w.join(q)
			w.advance(w.rng.between(0, 3000))
		}
	}
	w.advance(5000)
}
