package seal_test

import (
	"encoding/hex"
	"testing"

	"hushcup/sync/seal"
	"hushcup/sync/seal/sealtest"

	"pgregory.net/rapid"
)

// RFC 8032, section 7.1, TEST 2, and RFC 7748, section 6.1, Alice.
func TestIdentityIsEd25519AndX25519(t *testing.T) {
	identity := seal.Identity{
		SignSeed: [32]byte(unhex("4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb")),
		BoxSeed:  [32]byte(unhex("77076d0a7318a57d3c16c17251b26645df4c2f87ebc0992ab177fba51db92c2a")),
	}
	public := identity.Public()
	wantHex(t, "sign", public.Sign[:], "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c")
	wantHex(t, "box", public.Box[:], "8520f0098930a754748b7ddcb43ef75a0dbf3a0d26381af4eba4a98eaa9b4e6a")
	signature := identity.Sign([]byte{0x72})
	wantHex(t, "signature", signature[:], "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da"+
		"085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00")
	if err := public.Check(); err != nil {
		t.Error(err)
	}
}

func TestVerifyRefusesWhateverWasChanged(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		identity := seal.Identity{SignSeed: [32]byte(drawBytes(32).Draw(t, "seed"))}
		message := rapid.SliceOfN(rapid.Byte(), 1, 80).Draw(t, "message")
		signature := identity.Sign(message)
		key := identity.Public().Sign
		if !seal.Verify(key, message, signature[:]) {
			t.Fatal("a signature does not verify")
		}
		if seal.Verify(key, message, signature[:63]) || seal.Verify(key, message, append(signature[:], 0)) {
			t.Fatal("a signature of another length verifies")
		}
		for _, part := range [][]byte{key[:], message, signature[:]} {
			i := rapid.IntRange(0, len(part)-1).Draw(t, "at")
			part[i] ^= 1 << rapid.IntRange(0, 7).Draw(t, "bit")
			if seal.Verify(key, message, signature[:]) {
				t.Fatal("a changed signature, message or key verifies")
			}
		}
	})
}

func TestPublicCheckLooksAtBothKeys(t *testing.T) {
	good := newIdentity(t, "vega").Public()
	wantError(t, "sign", seal.Public{Sign: [32]byte{1}, Box: good.Box}.Check(), seal.ErrKeyLow)
	wantError(t, "box", seal.Public{Sign: good.Sign, Box: [32]byte{1}}.Check(), seal.ErrKeyLow)
	if err := good.Check(); err != nil {
		t.Error(err)
	}
}

func TestNewIdentityDrawsTwoSecrets(t *testing.T) {
	one, two := newIdentity(t, "one"), newIdentity(t, "two")
	secrets := map[[32]byte]bool{one.SignSeed: true, one.BoxSeed: true, two.SignSeed: true, two.BoxSeed: true}
	if len(secrets) != 4 {
		t.Error("secrets repeat")
	}
	again := must(seal.NewIdentity(sealtest.NewRand("one")))(t)
	if again != one {
		t.Error("the same bytes make another identity")
	}
}

func unhex(text string) []byte {
	raw, err := hex.DecodeString(text)
	if err != nil {
		panic(err)
	}
	return raw
}
