package club_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/scenariotest"
)

// filled is a world in which a little of everything has happened.
func filled(t reporter) *world {
	w := newWorld(t)
	for _, line := range []string{
		"vega create devices=vega,vega.code", "vega invites door uses=5", "mira joins door devices=mira,mira.code",
		"lyra joins door", "vega flight f1 closes=+2h", "vega seals f1 417 holders=mira", "mira seals f1 582",
		"lyra writes guess:417 ; writes guess:582 part=2 ; writes cup about=417 ; writes notes",
		"vega writes flight:f1", "lyra writes guess:417", "lyra writes notes", "vega locks f1 417", "lyra writes guess:417",
		"vega unseals 417", "lyra erases notes", "vega removes devices vega.code", "vega invites window",
	} {
		w.run(line)
	}
	return w
}

// corpus adds the committed inputs of a target to it, and with -rewrite writes them first.
func corpus(f *testing.F, add func(data []byte, kind uint8), inputs map[uint8][][]byte) {
	folder := filepath.Join("testdata", "fuzz", f.Name())
	if *scenariotest.Rewrite {
		writeCorpus(f, folder, inputs)
	}
	if files, err := filepath.Glob(filepath.Join(folder, "*")); err != nil || len(files) == 0 {
		f.Fatalf("no corpus in %s: %v", folder, err)
	}
	for kind, list := range inputs {
		for _, data := range list {
			add(data, kind)
		}
	}
}

func writeCorpus(f *testing.F, folder string, inputs map[uint8][][]byte) {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		f.Fatal(err)
	}
	for kind, list := range inputs {
		for _, data := range list {
			text := fmt.Sprintf("go test fuzz v1\n[]byte(%q)\n", data)
			if kind != 255 {
				text += fmt.Sprintf("byte('\\x%02x')\n", kind)
			}
			sum := sha256.Sum256([]byte(text))
			if err := os.WriteFile(filepath.Join(folder, hex.EncodeToString(sum[:8])), []byte(text), 0o644); err != nil {
				f.Fatal(err)
			}
		}
	}
}

// Any bytes as the body of any kind, by an organiser whose chain is in order: taken, void or a stop, never a crash, and
// nothing but the chains changes unless it is taken.
func FuzzCLUB5_ControlBody(f *testing.F) {
	w := filled(f)
	inputs := map[uint8][][]byte{uint8(oplog.Leave): {{0xa0}}, uint8(oplog.Resume): {{0xa0}}, uint8(oplog.Rules): {{0xa1, 1, 2}}}
	for _, line := range []string{
		"vega invites gate", "vega revokes window", "altair joins window", "vega enrols vega.tablet", "vega removes member lyra",
		"vega makes mira organiser", "vega renews", "vega flight f2", "vega seals f1 600", "vega locks f1 582", "mira unseals 582",
		"vega erases diary", "vega closing f1 closes=+1h", "altair create",
	} {
		run := w.compose(line)
		kind := uint8(run.Ops[0].Kind)
		inputs[kind] = append(inputs[kind], run.Ops[0].Body)
		w.noteEpochs()
	}
	corpus(f, func(data []byte, kind uint8) { f.Add(data, kind) }, inputs)
	vega := w.device("vega")
	f.Fuzz(func(t *testing.T, body []byte, kind uint8) {
		if len(body) > oplog.MaxBody || oplog.Kind(kind) == oplog.Part || oplog.Kind(kind) == oplog.Create {
			return
		}
		head, order := w.server.Head(vega.id()), w.server.Order()
		op := oplog.New(oplog.Header{
			Book: w.book, Device: vega.id(), Seq: head.Seq + 1, Prev: head.Hash, SeenPos: order.Pos, SeenHash: order.Chain,
			Time: oplog.TimeAt(w.now), Kind: oplog.Kind(kind),
		}, body)
		entry := oplog.Entry{Op: op, Order: order.Next(op.Hash(), w.now)}
		phone := w.server.Clone()
		if err := phone.Fold(entry, w.chainAt); err != nil {
			unchanged(t, w.server.Clone(), phone, &entry, err)
		}
		again, err := club.Decode(phone.Encode())
		if err != nil || !bytes.Equal(again.Encode(), phone.Encode()) {
			t.Fatalf("the snapshot differs: %v", err)
		}
	})
}

// Any bytes as a snapshot: refused, or a state whose snapshot reads back the same.
func FuzzCLUB41_Snapshot(f *testing.F) {
	inputs := map[uint8][][]byte{255: {filled(f).phone.Encode(), club.New().Encode()}}
	corpus(f, func(data []byte, _ uint8) { f.Add(data) }, inputs)
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := club.Decode(data)
		if err != nil {
			return
		}
		once := s.Encode()
		again, err := club.Decode(once)
		if err != nil || !bytes.Equal(again.Encode(), once) || !bytes.Equal(s.Clone().Encode(), once) {
			t.Fatalf("the snapshot of a snapshot differs: %v", err)
		}
	})
}

// Any bytes as a snapshot of the documents: refused, or documents whose snapshot is the same bytes, or if those were of the
// old version, one that reads back the same.
func FuzzCLUB41_DocsSnapshot(f *testing.F) {
	inputs := map[uint8][][]byte{255: {filled(f).docs.Encode(), club.NewDocs().Encode()}}
	corpus(f, func(data []byte, _ uint8) { f.Add(data) }, inputs)
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := club.DecodeDocs(data)
		if err != nil {
			return
		}
		if data[0] == 1 {
			data = d.Encode()
			if d, err = club.DecodeDocs(data); err != nil {
				t.Fatalf("an old snapshot written anew: %v", err)
			}
		}
		if !bytes.Equal(d.Encode(), data) || !bytes.Equal(d.Clone().Encode(), data) {
			t.Fatal("the snapshot of a snapshot differs")
		}
		count := 0
		d.Each(func(club.Winner) bool { count++; return true })
		if count != d.Len() {
			t.Fatalf("%d of %d winners", count, d.Len())
		}
	})
}
