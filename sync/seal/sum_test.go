package seal_test

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/binary"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"hushcup/sync/seal"

	"pgregory.net/rapid"
)

// The figures here were computed outside Go, with a general-purpose SHA-256 and HMAC, from the package comment alone.
func TestSEAL1_SumIsSHA256OfTheJoin(t *testing.T) {
	empty := seal.Sum("hushcup/1 key")
	wantHex(t, "no field", empty[:], "d6a788ecba08905dafdb8ff4f961bc7f87b4f327f582f669adac7b3813728c2e")
	wantHex(t, "join", seal.Join("ab", nil, []byte{9}),
		"0000000000000002"+"6162"+"0000000000000000"+"0000000000000001"+"09")
}

func TestSEAL1_DerivationIsHKDFOverTheJoin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		epoch := drawKey(t, "epoch")
		book := [32]byte(drawBytes(32).Draw(t, "book"))
		id := [16]byte(drawBytes(16).Draw(t, "sample"))

		// RFC 5869, sections 2.2 and 2.3, for one block of output and an empty salt.
		prk := hmacOf(make([]byte, 32), epoch[:])
		want := hmacOf(prk, append(seal.Join("hushcup/1 envelope", book[:], id[:]), 1))
		if got := seal.Envelope(epoch, book, id); string(got[:]) != string(want) {
			t.Fatalf("%x, want %x", got, want)
		}
	})
}

func hmacOf(key, message []byte) []byte {
	h := hmac.New(sha256.New, key)
	h.Write(message)
	return h.Sum(nil)
}

// Splitting a join gives the fields back, so that no two lists join alike.
func TestSEAL1_JoinCanBeSplit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		label := rapid.String().Draw(t, "label")
		fields := rapid.SliceOf(rapid.SliceOf(rapid.Byte())).Draw(t, "fields")
		want := append([][]byte{[]byte(label)}, fields...)

		var got [][]byte
		for rest := seal.Join(label, fields...); len(rest) > 0; {
			n := binary.BigEndian.Uint64(rest)
			got = append(got, append([]byte{}, rest[8:8+n]...))
			rest = rest[8+n:]
		}
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("%q, want %q", got, want)
		}
	})
}

func TestSEAL1_EveryLabelHasOneUse(t *testing.T) {
	seen := map[string]string{}
	for path, file := range sources(t) {
		ast.Inspect(file, func(n ast.Node) bool {
			literal, ok := n.(*ast.BasicLit)
			if !ok || literal.Kind != token.STRING {
				return true
			}
			label, err := strconv.Unquote(literal.Value)
			if err != nil || !strings.HasPrefix(label, "hushcup/1 ") {
				return true
			}
			if before, twice := seen[label]; twice {
				t.Errorf("%q is used in %s and %s", label, before, path)
			}
			seen[label] = path
			return true
		})
	}
	if len(seen) < 15 {
		t.Errorf("only %d labels found: is this still how they are written?", len(seen))
	}
}

func TestSEAL2_KeyIDIsTheLabelledHash(t *testing.T) {
	key := seal.Key(counting(0, 32))
	id := key.ID()
	wantHex(t, "id", id[:], "f1dc5c680a566a46340b35324e554fa82d7602b099e00982e5dede49f9279e92")
	if !key.Is(id) {
		t.Error("a key is not its own")
	}
	for i := range id {
		other := id
		other[i] ^= 1
		if key.Is(other) {
			t.Errorf("the id with byte %d changed still fits", i)
		}
	}
}

// sources parses what the package ships.
func sources(t *testing.T) map[string]*ast.File {
	t.Helper()
	paths, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]*ast.File{}
	for _, path := range paths {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		files[path] = file
	}
	if len(files) < 10 {
		t.Fatalf("found only %d source files", len(files))
	}
	return files
}
