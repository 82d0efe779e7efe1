package oplog_test

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"hushcup/sync/codec"
	"hushcup/sync/oplog"
)

var rewrite = flag.Bool("rewrite", false, "write the fuzz targets' corpus anew")

// corpus writes (with -rewrite) and requires the committed inputs of a target.
func corpus(f *testing.F, inputs map[string][]byte) {
	folder := filepath.Join("testdata", "fuzz", f.Name())
	if *rewrite {
		if err := os.MkdirAll(folder, 0o755); err != nil {
			f.Fatal(err)
		}
		for name, data := range inputs {
			text := fmt.Sprintf("go test fuzz v1\n[]byte(%q)\n", data)
			if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644); err != nil {
				f.Fatal(err)
			}
		}
	}
	for name := range inputs {
		if _, err := os.Stat(filepath.Join(folder, name)); err != nil {
			f.Fatalf("the corpus lacks an input: %v", err)
		}
	}
}

// Any bytes as a header: refused, or an op whose one encoding they are.
func FuzzLOG1_Parse(f *testing.F) {
	a := newAuthor(1)
	first := a.write(nil)
	h := a.header()
	h.Wrap = &oplog.Wrap{Box: make([]byte, 48)}
	create := oplog.New(oplog.Header{Device: a.id(), Seq: 1, Kind: oplog.Create}, []byte{0xa0})
	corpus(f, map[string][]byte{"part": first.Raw, "wrap": oplog.New(h, nil).Raw, "create": create.Raw, "cut": first.Raw[:60]})
	f.Fuzz(func(t *testing.T, raw []byte) {
		op, err := oplog.Parse(raw, nil)
		if err != nil {
			return
		}
		if !bytes.Equal(codec.MustMarshal(&op.Header), raw) {
			t.Fatal("two encodings of one header")
		}
		if again, err := oplog.Parse(op.Raw, nil); err != nil || again.Hash() != op.Hash() {
			t.Fatalf("parsed again it differs: %v", err)
		}
	})
}

// Any bytes as a packed run: refused, or a run that can be packed and unpacked again.
func FuzzLOG13_Unpack(f *testing.F) {
	a := newAuthor(1)
	one, three := a.run([]byte("one")), a.run([]byte("a"), nil, []byte("c"))
	dropped := three
	dropped.Ops = append([]oplog.Op{}, three.Ops...)
	dropped.Ops[0].Body = nil
	corpus(f, map[string][]byte{
		"one": codec.MustMarshal(one.Pack()), "three": codec.MustMarshal(three.Pack()), "dropped": codec.MustMarshal(dropped.Pack()),
		"empty": codec.MustMarshal(oplog.Packed{}),
	})
	f.Fuzz(func(t *testing.T, sent []byte) {
		var packed oplog.Packed
		if codec.Unmarshal(sent, &packed) != nil {
			return
		}
		run, err := packed.Unpack()
		if err != nil {
			return
		}
		again := run.Pack()
		if _, err := again.Unpack(); err != nil {
			t.Fatalf("packed again it is refused: %v", err)
		}
	})
}
