package seal_test

import (
	"bytes"
	"testing"

	"hushcup/sync/seal"
	"hushcup/sync/seal/sealtest"

	"golang.org/x/crypto/chacha20poly1305"
	"pgregory.net/rapid"
)

func TestSEAL8_BodiesComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		key := drawKey(t, "key")
		ad := rapid.SliceOf(rapid.Byte()).Draw(t, "ad")
		plain := drawPlain(seal.MaxPlain).Draw(t, "plain")
		nonce := drawBytes(24).Draw(t, "nonce")
		sealed, err := seal.Seal(bytes.NewReader(nonce), key, ad, plain, seal.Powers)
		if err != nil {
			t.Fatal(err)
		}
		if len(sealed) > seal.MaxSealed || !bytes.HasPrefix(sealed, nonce) {
			t.Fatalf("%d bytes, beginning with %x", len(sealed), sealed[:24])
		}
		if got, err := seal.Open(key, ad, sealed); err != nil || !bytes.Equal(got, plain) {
			t.Fatalf("%d bytes come back of %d: %v", len(got), len(plain), err)
		}
	})
}

// Any implementation of the cipher reads it: this one is used without the package.
func TestSEAL8_BodyIsNonceThenXChaCha20Poly1305(t *testing.T) {
	key, ad := newKey(t, "key"), []byte("ad")
	sealed := must(seal.Seal(sealtest.NewRand("seal"), key, ad, []byte("Kenya"), seal.Powers))(t)
	aead := must(chacha20poly1305.NewX(key[:]))(t)
	padded := must(aead.Open(nil, sealed[:24], sealed[24:], ad))(t)
	want := append([]byte("\x00\x05Kenya"), make([]byte, 256-7)...)
	if !bytes.Equal(padded, want) {
		t.Errorf("%q", padded)
	}
}

func TestSEAL8_WhateverWasChangedIsUnreadable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		key, ad := drawKey(t, "key"), drawBytes(20).Draw(t, "ad")
		plain := rapid.SliceOfN(rapid.Byte(), 0, 600).Draw(t, "plain")
		sealed, err := seal.Seal(sealtest.NewRand("seal"), key, ad, plain, seal.Powers)
		if err != nil {
			t.Fatal(err)
		}
		short := rapid.IntRange(0, len(sealed)-1).Draw(t, "length")
		if _, err := seal.Open(key, ad, sealed[:short]); err != seal.ErrUnreadable {
			t.Fatalf("cut to %d: %v", short, err)
		}
		for _, part := range [][]byte{key[:], ad, sealed} {
			i := rapid.IntRange(0, len(part)-1).Draw(t, "at")
			bit := byte(1) << rapid.IntRange(0, 7).Draw(t, "bit")
			part[i] ^= bit
			if _, err := seal.Open(key, ad, sealed); err != seal.ErrUnreadable {
				t.Fatalf("changed: %v", err)
			}
			part[i] ^= bit
		}
	})
}

func TestSEAL8_NothingBeyond64KiB(t *testing.T) {
	key := newKey(t, "key")
	sealed := must(seal.Seal(sealtest.NewRand("seal"), key, nil, make([]byte, seal.MaxPlain), seal.Powers))(t)
	if len(sealed) != 65536 {
		t.Errorf("the largest body has %d bytes", len(sealed))
	}
	_, err := seal.Seal(sealtest.NewRand("seal"), key, nil, make([]byte, seal.MaxPlain+1), seal.Powers)
	wantError(t, "one more", err, seal.ErrTooLarge)
	_, err = seal.Open(key, nil, make([]byte, seal.MaxSealed+1))
	wantError(t, "opening one more", err, seal.ErrTooLarge)
}

func TestSEAL10_GuessesHaveOneSize(t *testing.T) {
	key := newKey(t, "key")
	rapid.Check(t, func(t *rapid.T) {
		plain := drawPlain(seal.MaxUniform).Draw(t, "plain")
		sealed, err := seal.Seal(sealtest.NewRand("seal"), key, nil, plain, seal.Uniform)
		if err != nil || len(sealed) != 4136 || !seal.IsUniform(sealed) {
			t.Fatalf("%d bytes, %v", len(sealed), err)
		}
		if got, err := seal.Open(key, nil, sealed); err != nil || !bytes.Equal(got, plain) {
			t.Fatalf("%d bytes come back of %d: %v", len(got), len(plain), err)
		}
	})
	_, err := seal.Seal(sealtest.NewRand("seal"), key, nil, make([]byte, 4095), seal.Uniform)
	wantError(t, "4,095 bytes", err, seal.ErrTooLarge)
	for _, length := range []int{0, 4096, 4135, 4137} {
		if seal.IsUniform(make([]byte, length)) {
			t.Errorf("%d bytes are taken for a guess", length)
		}
	}
}

func TestSEAL12_OpenUnderComparesEveryIDFirst(t *testing.T) {
	envelope, epoch, other := newKey(t, "envelope"), newKey(t, "epoch"), newKey(t, "other")
	both := []seal.Key{envelope, epoch}
	named := []seal.KeyID{envelope.ID(), epoch.ID()}
	sealed := must(seal.SealUnder(sealtest.NewRand("seal"), both, []byte("ad"), []byte("Ethiopia"), seal.Uniform))(t)

	got, err := seal.OpenUnder(both, named, []byte("ad"), sealed)
	if err != nil || string(got) != "Ethiopia" {
		t.Fatalf("%q, %v", got, err)
	}
	for what, c := range map[string]struct {
		keys  []seal.Key
		named []seal.KeyID
		want  error
	}{
		"another envelope":     {[]seal.Key{other, epoch}, named, seal.ErrOtherKey},
		"another epoch":        {[]seal.Key{envelope, other}, named, seal.ErrOtherKey},
		"swapped":              {[]seal.Key{epoch, envelope}, named, seal.ErrOtherKey},
		"another id":           {both, []seal.KeyID{envelope.ID(), other.ID()}, seal.ErrOtherKey},
		"both swapped":         {[]seal.Key{epoch, envelope}, []seal.KeyID{named[1], named[0]}, seal.ErrUnreadable},
		"the epoch alone":      {both[1:], named[1:], seal.ErrUnreadable},
		"an id too few":        {both, named[:1], seal.ErrKeyCount},
		"no key":               {nil, nil, seal.ErrKeyCount},
		"three keys, three id": {append(both, other), append(named, other.ID()), seal.ErrKeyCount},
	} {
		_, err := seal.OpenUnder(c.keys, c.named, []byte("ad"), sealed)
		wantError(t, what, err, c.want)
	}
	for _, keys := range [][]seal.Key{nil, {envelope, epoch, other}} {
		_, err := seal.SealUnder(sealtest.NewRand("seal"), keys, nil, nil, seal.Powers)
		wantError(t, "sealing under as many", err, seal.ErrKeyCount)
	}
}

// drawPlain prefers lengths around the steps of the padding.
func drawPlain(most int) *rapid.Generator[[]byte] {
	return rapid.Custom(func(t *rapid.T) []byte {
		length := rapid.IntRange(0, most).Draw(t, "length")
		if rapid.Bool().Draw(t, "at a step") {
			step := 256 << rapid.IntRange(0, 7).Draw(t, "step")
			length = min(step-2+rapid.IntRange(-1, 1).Draw(t, "off"), most)
		}
		plain := make([]byte, length)
		_, _ = sealtest.NewRand(rapid.StringN(0, 4, 8).Draw(t, "text")).Read(plain)
		return plain
	})
}
