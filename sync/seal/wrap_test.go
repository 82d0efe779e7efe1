package seal_test

import (
	"bytes"
	"testing"

	"hushcup/sync/seal"
	"hushcup/sync/seal/sealtest"

	"pgregory.net/rapid"
)

func TestSEAL3_UnwrapRefusesOtherID(t *testing.T) {
	lyra, epoch, other := newIdentity(t, "lyra"), newKey(t, "epoch"), newKey(t, "other")
	info := seal.Info(seal.PurposeEpoch, club, nil, vega, epoch.ID())
	w := must(seal.Wrap(sealtest.NewRand("wrap"), lyra.Public().Box, info, epoch))(t)

	if key, err := seal.Unwrap(lyra.BoxSeed, info, w, epoch.ID()); err != nil || key != epoch {
		t.Fatalf("%x, %v", key, err)
	}
	key, err := seal.Unwrap(lyra.BoxSeed, info, w, other.ID())
	wantError(t, "another id", err, seal.ErrOtherKey)
	if key != (seal.Key{}) {
		t.Error("the key is handed out all the same")
	}
}

// A wrap that names one key to everybody and holds another.
func TestSEAL3_UnwrapRefusesAKeyThatWasSwapped(t *testing.T) {
	lyra, named, swapped := newIdentity(t, "lyra"), newKey(t, "named"), newKey(t, "swapped")
	info := seal.Info(seal.PurposeEpoch, club, nil, vega, named.ID())
	w := must(seal.Wrap(sealtest.NewRand("wrap"), lyra.Public().Box, info, swapped))(t)
	_, err := seal.Unwrap(lyra.BoxSeed, info, w, named.ID())
	wantError(t, "wrapped", err, seal.ErrOtherKey)

	under := newKey(t, "under")
	sealed := must(seal.SealKey(sealtest.NewRand("seal"), under, info, swapped))(t)
	_, err = seal.OpenKey(under, info, sealed, named.ID())
	wantError(t, "under a key", err, seal.ErrOtherKey)
}

func TestSEAL5_InfoIsTheJoinOfItsParts(t *testing.T) {
	key := newKey(t, "key").ID()
	got := seal.Info(seal.PurposeSample, club, sample[:], vega, key)
	want := seal.Join("hushcup/1 wrap sample", club[:], sample[:], vega[:], key[:])
	if !bytes.Equal(got, want) {
		t.Errorf("%x, want %x", got, want)
	}
}

func TestSEAL5_WrapsOpenWithTheirInfoOnly(t *testing.T) {
	lyra, under, secret := newIdentity(t, "lyra"), newKey(t, "under"), newKey(t, "secret")
	right := seal.Info(seal.PurposeEnvelope, club, sample[:], vega, secret.ID())
	w := must(seal.Wrap(sealtest.NewRand("wrap"), lyra.Public().Box, right, secret))(t)
	sealed := must(seal.SealKey(sealtest.NewRand("seal"), under, right, secret))(t)

	for what, info := range map[string][]byte{
		"purpose": seal.Info(seal.PurposeSample, club, sample[:], vega, secret.ID()),
		"book":    seal.Info(seal.PurposeEnvelope, [32]byte{}, sample[:], vega, secret.ID()),
		"about":   seal.Info(seal.PurposeEnvelope, club, sample[:15], vega, secret.ID()),
		"member":  seal.Info(seal.PurposeEnvelope, club, sample[:], [16]byte{1}, secret.ID()),
		"key":     seal.Info(seal.PurposeEnvelope, club, sample[:], vega, seal.KeyID{}),
		"none":    nil,
	} {
		_, err := seal.Unwrap(lyra.BoxSeed, info, w, secret.ID())
		wantError(t, "wrapped, another "+what, err, seal.ErrUnreadable)
		_, err = seal.OpenKey(under, info, sealed, secret.ID())
		wantError(t, "under a key, another "+what, err, seal.ErrUnreadable)
	}
}

func TestSEAL6_WrapRefusesKeysOfLowOrder(t *testing.T) {
	secret := newKey(t, "secret")
	for what, to := range map[string][32]byte{"low": {1}, "form": {31: 0x80}} {
		want := map[string]error{"low": seal.ErrKeyLow, "form": seal.ErrKeyForm}[what]
		_, err := seal.Wrap(sealtest.NewRand("wrap"), to, nil, secret)
		wantError(t, "recipient: "+what, err, want)
		_, err = seal.ParseWrapped(to[:], make([]byte, 48))
		wantError(t, "parsed: "+what, err, want)
		_, err = seal.Unwrap(newIdentity(t, "lyra").BoxSeed, nil, seal.Wrapped{Enc: to}, secret.ID())
		wantError(t, "encapsulated: "+what, err, want)
	}
}

func TestSEAL4_UnwrapRefusesWhateverWasChanged(t *testing.T) {
	lyra, rigel, secret := newIdentity(t, "lyra"), newIdentity(t, "rigel"), newKey(t, "secret")
	w := must(seal.Wrap(sealtest.NewRand("wrap"), lyra.Public().Box, nil, secret))(t)
	_, err := seal.Unwrap(rigel.BoxSeed, nil, w, secret.ID())
	wantError(t, "somebody else", err, seal.ErrUnreadable)

	for i := range len(w.Enc) + len(w.Box) {
		changed := append(w.Enc[:len(w.Enc):len(w.Enc)], w.Box[:]...)
		changed[i] ^= 1
		parsed, err := seal.ParseWrapped(changed[:32], changed[32:])
		if err == nil {
			_, err = seal.Unwrap(lyra.BoxSeed, nil, parsed, secret.ID())
		}
		if err == nil {
			t.Errorf("opens with byte %d changed", i)
		}
	}
	for _, lengths := range [][2]int{{31, 48}, {33, 48}, {32, 47}, {32, 49}, {0, 0}} {
		_, err := seal.ParseWrapped(repeat(9, lengths[0]), make([]byte, lengths[1]))
		wantError(t, "length", err, seal.ErrUnreadable)
	}
}

func TestSEAL15_AKeyUnderAKeyIs72Bytes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		under, secret := drawKey(t, "under"), drawKey(t, "secret")
		info := rapid.SliceOf(rapid.Byte()).Draw(t, "info")
		nonce := drawBytes(24).Draw(t, "nonce")
		sealed, err := seal.SealKey(bytes.NewReader(nonce), under, info, secret)
		if err != nil || len(sealed) != 72 || !bytes.HasPrefix(sealed, nonce) {
			t.Fatalf("%d bytes, %v", len(sealed), err)
		}
		if got, err := seal.OpenKey(under, info, sealed, secret.ID()); err != nil || got != secret {
			t.Fatalf("%x, %v", got, err)
		}
		i := rapid.IntRange(0, len(sealed)-1).Draw(t, "at")
		sealed[i] ^= 1 << rapid.IntRange(0, 7).Draw(t, "bit")
		if _, err := seal.OpenKey(under, info, sealed, secret.ID()); err != seal.ErrUnreadable {
			t.Fatalf("changed: %v", err)
		}
		if _, err := seal.OpenKey(under, info, sealed[:71], secret.ID()); err != seal.ErrUnreadable {
			t.Fatalf("cut: %v", err)
		}
	})
}

// What a key seals directly and what it seals as the key of a body are kept apart.
func TestSEAL15_AKeySealIsNoBody(t *testing.T) {
	under, secret := newKey(t, "under"), newKey(t, "secret")
	sealed := must(seal.SealKey(sealtest.NewRand("seal"), under, nil, secret))(t)
	for _, key := range []seal.Key{under, seal.BodyKey(under)} {
		_, err := seal.Open(key, nil, sealed)
		wantError(t, "as a body", err, seal.ErrUnreadable)
	}
}
