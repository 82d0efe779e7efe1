package club_test

import (
	"fmt"
	"strings"
	"testing"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"pgregory.net/rapid"
)

// phrases are what the generated evenings are made of; what begins with % is drawn anew each time.
var phrases = []string{
	"invites %link uses=3", "invites %link uses=1 role=organiser lasts=+20m", "invites %link member=%person lasts=+1h",
	"revokes %link", "joins %link", "joins %link as=%person", "joins %link devices=%device,%device",
	"enrols %device", "enrols %device flaw=proof", "removes member %person", "removes devices %device",
	"removes devices %device grant=less", "makes %person organiser", "makes %person taster", "leaves", "renews", "renews seen=1",
	"flight %flight", "flight %flight closes=+30m", "closing %flight closes=+10m", "closing %flight",
	"seals %flight %sample", "seals %flight %sample holders=%person", "seals %flight %sample flaw=low",
	"locks %flight %sample", "locks %flight %sample %sample", "unseals %sample", "unseals %sample flaw=wrong", "unseals %sample seen=1",
	"writes guess:%sample", "writes guess:%sample time=-10m", "writes guess:%sample part=2", "writes guess:%sample other=yes",
	"writes guess:%sample:%person", "writes cup about=%sample", "writes cup about=%sample renewed=1", "writes notes", "writes book",
	"writes flight:%flight", "writes profile", "writes notes ; writes cup about=%sample ; writes guess:%sample",
	"erases notes", "erases cup guess:%sample", "resumes", "rules 1", "writes notes flaw=dropped", "writes notes flaw=gap",
	"writes notes flaw=history", "locks %flight %sample flaw=field",
}

// phrase draws one line of a generated evening.
func phrase(t *rapid.T) string {
	people := []string{"vega", "mira", "lyra"}
	devices := append([]string{"vega.tablet", "mira.code", "mira.tablet", "lyra.code"}, people...)
	choices := map[string][]string{
		"%link": {"door", "window", "gate"}, "%person": people, "%device": devices, "%flight": {"f1", "f2"},
		"%sample": {"417", "582", "417/b"},
	}
	if rapid.IntRange(0, 9).Draw(t, "wait") == 0 {
		return "wait +" + rapid.SampledFrom([]string{"1m", "10m", "30m"}).Draw(t, "span")
	}
	line := rapid.SampledFrom(devices).Draw(t, "who") + " " + rapid.SampledFrom(phrases).Draw(t, "what")
	for word, of := range choices {
		for strings.Contains(line, word) {
			line = strings.Replace(line, word, rapid.SampledFrom(of).Draw(t, word), 1)
		}
	}
	return line
}

// Generated evenings of honest, mistaken and lying devices. The world checks, after every line: what the server takes every
// phone takes, both states are equal byte for byte, a refusal leaves no trace, a void entry moves only the chains, and
// everything goes on the same from a snapshot. Beside that, void entries are let stand here, and what was taken is undone.
func TestCLUB1_CLUB4_CLUB6_CLUB7_GeneratedEvenings(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		w := newWorld(r)
		w.run("vega create devices=vega,vega.code")
		w.run("vega invites door uses=20")
		w.run("mira joins door devices=mira,mira.code")
		w.run("vega flight f1 closes=+2h")
		w.run("vega seals f1 417")
		for range rapid.IntRange(5, 40).Draw(r, "lines") {
			line := phrase(r)
			if !strings.HasPrefix(line, "wait") && rapid.IntRange(0, 7).Draw(r, "undone") == 0 {
				if result := w.run("undo " + line); strings.Contains(result, "taken back whole: false") {
					r.Fatalf("%s: %s", line, result)
				}
			}
			result := w.run(line)
			if strings.HasSuffix(result, "(a phone: void)") && !strings.Contains(line, ";") && rapid.Bool().Draw(r, "stands") {
				w.run("lie void " + line)
			}
			checkPromises(r, w)
		}
	})
}

// checkPromises asserts what must hold in every state.
func checkPromises(t *rapid.T, w *world) {
	s := w.phone
	organisers := 0
	for _, m := range s.Members() {
		if m.In() && m.Role == club.Organiser {
			organisers++
		}
	}
	if organisers == 0 {
		t.Fatalf("nobody is an organiser")
	}
	for _, f := range s.Flights() {
		codes := map[uint16]bool{}
		for _, sample := range s.Samples(f.ID) {
			if codes[sample.Body.Code] {
				t.Fatalf("code %d twice", sample.Body.Code)
			}
			codes[sample.Body.Code] = true
			checkSample(t, w, &sample)
		}
	}
	w.docs.Each(func(d club.Winner) bool {
		if got, ok := findAgain(w.docs, &d); !ok || got.Pos != d.Pos {
			t.Fatalf("the index of documents misses position %d", d.Pos)
		}
		return true
	})
}

func findAgain(docs *club.Docs, d *club.Winner) (club.Winner, bool) {
	if d.Shared {
		return docs.Shared(d.Doc, d.Part)
	}
	return docs.Get(d.Member, d.Doc, d.Part)
}

func checkSample(t *rapid.T, w *world, sample *club.SampleInfo) {
	if sample.UnsealedPos != 0 && (sample.ClosedPos == 0 || sample.ClosedPos > sample.UnsealedPos) {
		t.Fatalf("sample %d is open but never closed", sample.Body.Code)
	}
	if (sample.UnsealedPos == 0) != (sample.Private == nil) {
		t.Fatalf("sample %d has a key and is sealed, or the other way round", sample.Body.Code)
	}
	envelopes := map[string]bool{}
	for _, e := range w.phone.Wraps(sample.Body.ID) {
		one := fmt.Sprint(e.Member, e.NotebookEpoch)
		if envelopes[one] {
			t.Fatalf("two envelopes of one member, sample and notebook epoch")
		}
		envelopes[one] = true
	}
	for _, g := range w.phone.Guesses(sample.Body.ID) {
		if g.Scoring == nil {
			continue
		}
		if sample.Holds(g.Member) || sample.ClosedPos != 0 && g.Scoring.Pos >= sample.ClosedPos {
			t.Fatalf("a guess at %d scores on sample %d, closed at %d", g.Scoring.Pos, sample.Body.Code, sample.ClosedPos)
		}
		envelope, ok := w.phone.WrapOf(g.Member, g.Scoring.Keys[0])
		if !ok || envelope.Wrap.Sample != sample.Body.ID || envelope.Pos > g.Scoring.Pos {
			t.Fatalf("a guess scores whose envelope was not handed over before the close")
		}
	}
}

// A part competes by (time, device) whatever the order in which its revisions were positioned.
func TestCLUB30_CLUB35_TheNewestRevisionWinsInAnyOrder(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		w := newWorld(r)
		w.run("vega create")
		w.run("vega invites door uses=2")
		w.run("mira joins door devices=mira,mira.tablet")
		w.run("vega flight f1")
		w.run("vega seals f1 417")
		var newest oplog.Time
		var at uint64
		for range rapid.IntRange(1, 12).Draw(r, "revisions") {
			who := rapid.SampledFrom([]string{"mira", "mira.tablet"}).Draw(r, "device")
			run := w.compose(fmt.Sprintf("%s writes guess:417 time=-%dm", who, rapid.IntRange(0, 60).Draw(r, "ago")))
			entries, err := w.server.Admit(&run, w.now, w.chainAt)
			if err != nil {
				r.Fatal(err)
			}
			w.accepted(entries)
			if run.Ops[0].Time > newest {
				newest, at = run.Ops[0].Time, entries[0].Order.Pos
			}
		}
		g, _ := w.phone.Guess(w.sample("417").id, w.person("mira").id)
		d, _ := w.docs.Get(w.person("mira").id, oplog.GuessDoc(w.sample("417").id, w.person("mira").id), club.GuessPart)
		if g.Scoring.Pos != at || d.Pos != at {
			r.Fatalf("scores %d, shows %d; the newest stands at %d", g.Scoring.Pos, d.Pos, at)
		}
	})
}
