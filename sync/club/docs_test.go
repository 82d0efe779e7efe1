package club_test

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"testing"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
)

// A late revision supersedes a scoring guess for show, but its body is owed for good.
func TestCLUB37_AScoringGuessIsOwedThoughSuperseded(t *testing.T) {
	w := newWorld(t)
	for _, line := range []string{"vega create", "vega invites door", "mira joins door", "vega flight f1", "vega seals f1 417"} {
		w.run(line)
	}
	scoring := w.withoutBody("mira writes guess:417")
	if got := w.docs.Missing(); !slices.Equal(got, []uint64{scoring}) {
		t.Fatalf("missing %v before the close, not %d", got, scoring)
	}
	w.run("vega locks f1 417")
	w.run("mira writes guess:417 says=late")
	w.run("vega unseals 417")
	if got := w.docs.Missing(); !slices.Equal(got, []uint64{scoring}) {
		t.Fatalf("missing %v after a late revision, not %d", got, scoring)
	}
}

// A revision that lost before the close is not owed.
func TestCLUB36_CLUB37_ALosingRevisionIsNotOwed(t *testing.T) {
	w := newWorld(t)
	for _, line := range []string{"vega create", "vega invites door", "mira joins door", "vega flight f1", "vega seals f1 417"} {
		w.run(line)
	}
	w.withoutBody("mira writes guess:417")
	w.run("mira writes guess:417")
	if got := w.docs.Missing(); len(got) != 0 {
		t.Fatalf("missing %v", got)
	}
}

// A body that is still missing when a restored book is resumed was lost with the server's tail, and is owed no more.
func TestCLUB37_AResumeForgivesWhatIsMissing(t *testing.T) {
	w := newWorld(t)
	for _, line := range []string{"vega create", "vega invites door", "mira joins door"} {
		w.run(line)
	}
	lost := w.withoutBody("mira writes diary")
	if got := w.docs.Missing(); !slices.Equal(got, []uint64{lost}) {
		t.Fatalf("missing %v before the resume, not %d", got, lost)
	}
	w.run("vega resumes")
	if got := w.docs.Missing(); len(got) != 0 {
		t.Fatalf("missing %v after it", got)
	}
}

// withoutBody orders an op and gives it to the phone without its body, as a server does that has dropped it.
func (w *world) withoutBody(line string) (pos uint64) {
	run := w.compose(line)
	entries, err := w.server.Admit(&run, w.now, w.chainAt)
	if err != nil {
		w.t.Fatalf("%s: %v", line, err)
	}
	entries[0].Op.Body = nil
	w.accepted(entries)
	return entries[0].Order.Pos
}

// A phone looks for its first few parts one after the other, and then makes an index: both find the same.
func TestDocsFindTheSameWithAndWithoutTheirIndex(t *testing.T) {
	w := newWorld(t)
	for _, line := range []string{"vega create", "vega invites door uses=20", "mira joins door", "lyra joins door"} {
		w.run(line)
	}
	for i := range 12 { // documents of three members, of which some share their name
		w.run(fmt.Sprintf("vega writes diary%d", i))
		w.run(fmt.Sprintf("mira writes diary%d", i))
		w.run(fmt.Sprintf("lyra writes diary%d part=2", i))
	}
	var keys []club.Winner
	for each := range w.docs.Each {
		keys = append(keys, each)
	}
	reread := func() *club.Docs {
		docs, err := club.DecodeDocs(w.docs.Encode())
		if err != nil {
			t.Fatal(err)
		}
		return docs
	}
	indexed := reread()
	for range 100 {
		indexed.Get(keys[0].Member, oplog.DocID{1, 2, 3}, 1)
	}
	if len(keys) < 36 {
		t.Fatalf("%d parts", len(keys))
	}
	for _, want := range keys {
		fresh := reread()
		for name, docs := range map[string]*club.Docs{"scanned": fresh, "indexed": indexed} {
			got, ok := docs.Get(want.Member, want.Doc, want.Part)
			if !ok || got.Pos != want.Pos {
				t.Errorf("%s: %x of %x stands at %d, %v, not at %d", name, want.Doc, want.Member, got.Pos, ok, want.Pos)
			}
			if _, ok := docs.Get(want.Member, want.Doc, want.Part+7); ok {
				t.Errorf("%s: a part that nobody wrote", name)
			}
		}
	}
}

// What was stored before rows had kinds is read, and is the same.
func TestCLUB41_AnOldSnapshotIsRead(t *testing.T) {
	old, err := os.ReadFile(filepath.Join("testdata", "docs-version-1"))
	if err != nil {
		t.Fatal(err)
	}
	docs, err := club.DecodeDocs(old)
	if err != nil {
		t.Fatal(err)
	}
	var got, want []club.Winner
	docs.Each(func(w club.Winner) bool { got = append(got, w); return true })
	filled(t).docs.Each(func(w club.Winner) bool { want = append(want, w); return true })
	if len(got) == 0 || !reflect.DeepEqual(got, want) {
		t.Fatalf("%+v, not as the same evening has it: %+v", got, want)
	}
	if _, err := club.DecodeDocs(append(old, 0)); err == nil {
		t.Fatal("an old snapshot with a byte too many is read")
	}
}
