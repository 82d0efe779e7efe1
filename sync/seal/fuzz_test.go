package seal_test

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hushcup/sync/seal"
)

// Every decoder is fuzzed; the corpus stands in testdata/fuzz and is run as ordinary tests.

func TestFuzzTargetsHaveACorpus(t *testing.T) {
	for _, target := range []string{"FuzzUnpad", "FuzzOpen", "FuzzUnwrap", "FuzzOpenKey", "FuzzParseInvite", "FuzzParseRecovery", "FuzzCheckBox", "FuzzVerify"} {
		entries, err := os.ReadDir(filepath.Join("testdata", "fuzz", target))
		if err != nil || len(entries) < 3 {
			t.Errorf("%s has %d inputs: %v", target, len(entries), err)
		}
	}
}

// fuzzKey is the key of the sealed bodies in the corpus.
var fuzzKey = seal.Key(counting(0, 32))

// FuzzOpen: a body opens to what was sealed, or to one of three errors; whatever opens seals again to the same bytes.
func FuzzOpen(f *testing.F) {
	f.Fuzz(func(t *testing.T, ad, sealed []byte) {
		plain, err := seal.Open(fuzzKey, ad, sealed)
		if err != nil {
			oneOf(t, err, seal.ErrUnreadable, seal.ErrPadding, seal.ErrTooLarge)
			return
		}
		for _, pad := range []seal.Padding{seal.Powers, seal.Uniform} {
			again, err := seal.Seal(bytes.NewReader(sealed), fuzzKey, ad, plain, pad)
			if err == nil && bytes.Equal(again, sealed) {
				return
			}
		}
		t.Fatal("opened what sealing does not make")
	})
}

// FuzzUnwrap: only the wrap of the corpus holds the key that is wanted.
func FuzzUnwrap(f *testing.F) {
	secret := seal.Key(counting(64, 32))
	f.Fuzz(func(t *testing.T, info, enc, box []byte) {
		w, err := seal.ParseWrapped(enc, box)
		if err != nil {
			oneOf(t, err, seal.ErrUnreadable, seal.ErrKeyForm, seal.ErrKeyLow)
			return
		}
		key, err := seal.Unwrap([32]byte(counting(32, 32)), info, w, secret.ID())
		if err != nil {
			oneOf(t, err, seal.ErrUnreadable, seal.ErrOtherKey)
			return
		}
		if key != secret {
			t.Fatal("another key under the same id")
		}
	})
}

// FuzzOpenKey: as FuzzUnwrap, for a key under a key.
func FuzzOpenKey(f *testing.F) {
	secret := seal.Key(counting(64, 32))
	f.Fuzz(func(t *testing.T, info, sealed []byte) {
		key, err := seal.OpenKey(fuzzKey, info, sealed, secret.ID())
		if err != nil {
			oneOf(t, err, seal.ErrUnreadable, seal.ErrOtherKey)
			return
		}
		if key != secret {
			t.Fatal("another key under the same id")
		}
	})
}

// FuzzParseInvite: what is read writes itself into a text that was in the input, and reads the same again.
func FuzzParseInvite(f *testing.F) {
	f.Fuzz(func(t *testing.T, text string) {
		invite, err := seal.ParseInvite(text)
		if err != nil {
			oneOf(t, err, seal.ErrLinkDamaged, seal.ErrLinkNewer)
			return
		}
		if invite.Kind != seal.KindJoin && invite.Kind != seal.KindDevice {
			t.Fatalf("kind %d", invite.Kind)
		}
		last := invite.String()
		if again, err := seal.ParseInvite(last); err != nil || again != invite {
			t.Fatalf("%q reads as %v, %v", last, again, err)
		}
		if !strings.HasSuffix(strings.Map(base64Letter, text), last) {
			t.Fatalf("%q was not in %q", last, text)
		}
	})
}

// base64Letter drops whatever cannot be part of an invitation.
func base64Letter(r rune) rune {
	if strings.ContainsRune("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_", r) {
		return r
	}
	return -1
}

// FuzzParseRecovery: what is read prints as a code that reads the same.
func FuzzParseRecovery(f *testing.F) {
	f.Fuzz(func(t *testing.T, text string) {
		code, err := seal.ParseRecovery(text)
		if err != nil {
			oneOf(t, err, seal.ErrCodeLength, seal.ErrCodeLetter, seal.ErrCodeDamaged, seal.ErrCodeNewer)
			return
		}
		if again, err := seal.ParseRecovery(code.String()); err != nil || again != code {
			t.Fatalf("%q reads as %v, %v", code, again, err)
		}
	})
}

// FuzzCheckBox: what is taken is what arithmetic calls reduced and the library agrees on a secret with.
func FuzzCheckBox(f *testing.F) {
	f.Fuzz(func(t *testing.T, key []byte) {
		if len(key) == 32 {
			checkBoxAgrees(t, [32]byte(key))
		}
	})
}

// FuzzVerify: nothing verifies but the signature of the corpus.
func FuzzVerify(f *testing.F) {
	vega := seal.Identity{SignSeed: fuzzKey}
	f.Fuzz(func(t *testing.T, key, message, signature []byte) {
		if len(key) != 32 || !seal.Verify([32]byte(key), message, signature) {
			return
		}
		if want := vega.Sign(message); [32]byte(key) == vega.Public().Sign && !bytes.Equal(signature, want[:]) {
			t.Fatal("a second signature of the same message")
		}
	})
}

func oneOf(t *testing.T, err error, allowed ...error) {
	t.Helper()
	for _, a := range allowed {
		if errors.Is(err, a) {
			return
		}
	}
	t.Fatalf("an unexpected error: %v", err)
}
