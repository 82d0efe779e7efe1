package sealtest

import (
	"bytes"
	"errors"
	"testing"

	"hushcup/sync/seal"
)

// The body that this package makes is real: the cipher alone accepts it under both keys. What unmasks it is SEAL-12.
func TestSEAL12_CollisionOpensUnderBothKeysButHasOneID(t *testing.T) {
	for _, pad := range []seal.Padding{seal.Powers, seal.Uniform} {
		rand := NewRand("collide")
		epoch, honest, other := newKey(t, rand), newKey(t, rand), newKey(t, rand)
		ad, plain := []byte("book, device, kind, doc, part, key ids"), []byte("Ethiopia, 80 %")
		sealed, err := Collide(rand, seal.BodyKey(honest, epoch), seal.BodyKey(other, epoch), ad, plain, pad)
		if err != nil {
			t.Fatal(err)
		}
		if pad == seal.Uniform && !seal.IsUniform(sealed) {
			t.Errorf("%d bytes, not the size of a guess", len(sealed))
		}

		one, err := seal.Open(seal.BodyKey(honest, epoch), ad, sealed)
		if err != nil || !bytes.HasPrefix(one, plain) {
			t.Fatalf("under the first key: %q, %v", one, err)
		}
		two, err := seal.Open(seal.BodyKey(other, epoch), ad, sealed)
		if err != nil || bytes.HasPrefix(two, plain) || len(two) != len(one) {
			t.Fatalf("under the second key: %q, %v", two, err)
		}

		named := []seal.KeyID{honest.ID(), epoch.ID()}
		if got, err := seal.OpenUnder([]seal.Key{honest, epoch}, named, ad, sealed); err != nil || !bytes.Equal(got, one) {
			t.Errorf("under the named key: %v", err)
		}
		if _, err := seal.OpenUnder([]seal.Key{other, epoch}, named, ad, sealed); !errors.Is(err, seal.ErrOtherKey) {
			t.Errorf("under the other key: %v", err)
		}
	}
}

func TestCollideSaysWhenThereIsNoRoom(t *testing.T) {
	rand := NewRand("room")
	a, b := newKey(t, rand), newKey(t, rand)
	for pad, length := range map[seal.Padding]int{seal.Uniform: seal.MaxUniform - 20, seal.Powers: 32760} {
		if _, err := Collide(rand, a, b, nil, make([]byte, length), pad); err == nil {
			t.Errorf("padding %d: a collision without a free block", pad)
		}
	}
}

func newKey(t *testing.T, rand *Rand) seal.Key {
	t.Helper()
	key, err := seal.NewKey(rand)
	if err != nil {
		t.Fatal(err)
	}
	return key
}
