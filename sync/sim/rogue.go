package sim

import (
	"bytes"

	"hushcup/sync/oplog"
	"hushcup/sync/wire"
)

// rogue is what a lying server does to the frames that it sends. Some lies contradict themselves, and no phone may fold them;
// others a phone can only believe, until what it is told next, or an author who saw another order, contradicts them.
type rogue struct{ w *World }

// lie changes the runs of one frame; it is plausible when a phone cannot see through it at once.
type lie struct {
	name      string
	plausible bool
	tell      func(r *rng, runs []oplog.Placed) []oplog.Placed // nil when these runs do not lend themselves to it
}

var lies = []lie{
	{"a run dropped", false, dropRun},
	{"a run dropped and the rest moved up", true, dropAndClose},
	{"two runs exchanged", true, exchange},
	{"a time rewritten", true, rewriteTime},
	{"a run replayed", false, replay},
	{"a signature forged", false, forgeSignature},
	{"a header forged", false, forgeHeader},
	{"a body forged", false, forgeBody},
	{"a body withheld", false, withholdBody},
	{"a run cut", false, cutRun},
}

// alter gives the frames that are sent in the place of one.
func (r *rogue) alter(l *line, frame []byte) [][]byte {
	p, ok := l.end.(*Phone)
	if r == nil || !ok || !r.w.rng.oneIn(3) {
		return [][]byte{frame}
	}
	f, err := wire.Decode(frame)
	if err != nil {
		return [][]byte{frame}
	}
	entries, ok := f.(*wire.Entries)
	if !ok || len(entries.Runs) == 0 {
		return [][]byte{frame}
	}
	var lie lie
	var runs []oplog.Placed
	for tries := 0; tries < 4 && runs == nil; tries++ {
		lie = pick(&r.w.rng, lies)
		runs = lie.tell(&r.w.rng, cloneRuns(entries.Runs))
	}
	if runs == nil {
		return [][]byte{frame}
	}
	r.w.count("server lied: " + lie.name)
	p.warned[entries.Book] = true
	if lie.plausible && r.w.mutant != LiesBelieved {
		p.misled[entries.Book] = true
	}
	entries.Runs = runs
	return [][]byte{wire.Encode(entries)}
}

func cloneRuns(runs []oplog.Placed) []oplog.Placed {
	clone := append([]oplog.Placed{}, runs...)
	for i := range clone {
		run := &clone[i].Run
		run.Ops, run.Sig = append([]oplog.PackedOp{}, run.Ops...), bytes.Clone(run.Sig)
		for j := range run.Ops {
			run.Ops[j].Raw = bytes.Clone(run.Ops[j].Raw)
			if b := run.Ops[j].Body; b != nil {
				body := bytes.Clone(*b)
				run.Ops[j].Body = &body
			}
		}
	}
	return clone
}

func dropRun(r *rng, runs []oplog.Placed) []oplog.Placed {
	if len(runs) < 2 {
		return nil
	}
	at := r.upTo(len(runs) - 1)
	return append(runs[:at], runs[at+1:]...)
}

func dropAndClose(r *rng, runs []oplog.Placed) []oplog.Placed {
	first := runs[0].First
	if runs = dropRun(r, runs); runs == nil {
		return nil
	}
	return placeFrom(first, runs)
}

// placeFrom numbers runs anew.
func placeFrom(first uint64, runs []oplog.Placed) []oplog.Placed {
	for i := range runs {
		runs[i].First = first
		first += uint64(len(runs[i].Run.Ops))
	}
	return runs
}

func exchange(r *rng, runs []oplog.Placed) []oplog.Placed {
	if len(runs) < 2 {
		return nil
	}
	first, at := runs[0].First, r.upTo(len(runs)-1)
	runs[at].Run, runs[at+1].Run = runs[at+1].Run, runs[at].Run
	return placeFrom(first, runs)
}

func rewriteTime(r *rng, runs []oplog.Placed) []oplog.Placed {
	runs[r.upTo(len(runs))].At += r.between(-2000, 2000)
	return runs
}

func replay(r *rng, runs []oplog.Placed) []oplog.Placed {
	again := runs[r.upTo(len(runs))]
	last := runs[len(runs)-1]
	again.First = last.First + uint64(len(last.Run.Ops))
	return append(runs, again)
}

func forgeSignature(r *rng, runs []oplog.Placed) []oplog.Placed {
	sig := runs[r.upTo(len(runs))].Run.Sig
	sig[r.upTo(len(sig))] ^= 1 << r.upTo(8)
	return runs
}

func forgeHeader(r *rng, runs []oplog.Placed) []oplog.Placed {
	raw := pick(r, runs[r.upTo(len(runs))].Run.Ops).Raw
	raw[r.upTo(len(raw))] ^= 1 << r.upTo(8)
	return runs
}

func forgeBody(r *rng, runs []oplog.Placed) []oplog.Placed {
	body := pick(r, runs[r.upTo(len(runs))].Run.Ops).Body
	if body == nil || len(*body) == 0 {
		return nil
	}
	(*body)[r.upTo(len(*body))] ^= 1 << r.upTo(8)
	return runs
}

func withholdBody(r *rng, runs []oplog.Placed) []oplog.Placed {
	ops := runs[r.upTo(len(runs))].Run.Ops
	ops[r.upTo(len(ops))].Body = nil
	return runs
}

func cutRun(r *rng, runs []oplog.Placed) []oplog.Placed {
	run := &runs[r.upTo(len(runs))].Run
	if len(run.Ops) < 2 {
		return nil
	}
	run.Ops = run.Ops[:len(run.Ops)-1]
	return runs
}

// toggleRogue makes a server lie, or stop lying.
func (w *World) toggleRogue(*Phone) {
	s := pick(&w.rng, w.servers)
	if !w.ills.rogue {
		return
	}
	if s.rogue != nil {
		s.rogue = nil
	} else {
		s.rogue = &rogue{w}
	}
	w.say("server %d lies: %v", s.name, s.rogue != nil)
}

// fork has one of two servers go on by itself from a copy of the store: two phones are shown two histories.
func (w *World) fork(*Phone) {
	if !w.ills.fork || len(w.servers) < 2 || w.forked {
		return
	}
	w.say("server 1 shows a history of its own from now on")
	w.count("server forked")
	s := w.servers[1]
	if s.up {
		s.stop()
	}
	w.forked = true
	s.store = w.store.Copy()
	w.observers = append(w.observers, newObserver(w, s.store))
	s.start()
}
