package seal_test

import (
	"encoding/hex"
	"errors"
	"testing"

	"hushcup/sync/seal"
	"hushcup/sync/seal/sealtest"

	"pgregory.net/rapid"
)

// The club and a sample of the tests, and the secrets of the vectors.
var (
	club   = [32]byte(repeat(0xb0, 32))
	sample = [16]byte(repeat(0x5a, 16))
	vega   = [16]byte(repeat(0x7e, 16))
)

func repeat(b byte, n int) []byte {
	out := make([]byte, n)
	for i := range out {
		out[i] = b
	}
	return out
}

// counting is first, first+1, ...
func counting(first byte, n int) []byte {
	out := make([]byte, n)
	for i := range out {
		out[i] = first + byte(i)
	}
	return out
}

func newKey(t testing.TB, seed string) seal.Key {
	t.Helper()
	return must(seal.NewKey(sealtest.NewRand(seed)))(t)
}

func newIdentity(t testing.TB, seed string) seal.Identity {
	t.Helper()
	return must(seal.NewIdentity(sealtest.NewRand(seed)))(t)
}

// must is for what cannot fail in a test: must(f())(t).
func must[T any](value T, err error) func(fataler) T {
	return func(t fataler) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return value
	}
}

type fataler interface {
	Helper()
	Fatal(...any)
}

func wantError(t interface {
	Helper()
	Errorf(string, ...any)
}, what string, got, want error) {
	t.Helper()
	if !errors.Is(got, want) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

func wantHex(t *testing.T, what string, got []byte, want string) {
	t.Helper()
	if hex.EncodeToString(got) != want {
		t.Errorf("%s: %x, want %s", what, got, want)
	}
}

func drawBytes(n int) *rapid.Generator[[]byte] {
	return rapid.SliceOfN(rapid.Byte(), n, n)
}

func drawKey(t *rapid.T, name string) seal.Key {
	return seal.Key(drawBytes(32).Draw(t, name))
}
