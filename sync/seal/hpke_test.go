package seal

import (
	"bytes"
	"crypto/ecdh"
	"crypto/hpke"
	"encoding/hex"
	"testing"

	"pgregory.net/rapid"
)

// RFC 9180, appendix A.2.1: DHKEM(X25519, HKDF-SHA256), HKDF-SHA256, ChaCha20Poly1305, base mode, sequence number 0.
var rfc9180 = struct{ info, ikmE, skEm, ikmR, pkRm, skRm, enc, shared, key, nonce, plain, ad, box string }{
	info:   "4f6465206f6e2061204772656369616e2055726e",
	ikmE:   "909a9b35d3dc4713a5e72a4da274b55d3d3821a37e5d099e74a647db583a904b",
	skEm:   "f4ec9b33b792c372c1d2c2063507b684ef925b8c75a42dbcbf57d63ccd381600",
	ikmR:   "1ac01f181fdf9f352797655161c58b75c656a6cc2716dcb66372da835542e1df",
	pkRm:   "4310ee97d88cc1f088a5576c77ab0cf5c3ac797f3d95139c6c84b5429c59662a",
	skRm:   "8057991eef8f1f1af18f4a9491d16a1ce333f695d4db8e38da75975c4478e0fb",
	enc:    "1afa08d3dec047a643885163f1180476fa7ddb54c6a8029ea33f95796bf2ac4a",
	shared: "0bbe78490412b4bbea4812666f7916932b828bba79942424abb65244930d69a7",
	key:    "ad2744de8e17f4ebba575b3f5f5a8fa1f69c2a07f6e7500bc60ca6e3e3ec1c91",
	nonce:  "5c4d98150661b848853b547f",
	plain:  "4265617574792069732074727574682c20747275746820626561757479",
	ad:     "436f756e742d30",
	box:    "1c5250d8034ec2b784ba2cfd69dbdb8af406cfe3ff938e131f0def8c8b60b4db21993c62ce81883d2dd1b51a28",
}

func TestSEAL4_RFC9180VectorStepByStep(t *testing.T) {
	v := rfc9180
	private := deriveKeyPair(fixed(t, v.ikmR))
	same(t, "skRm", private[:], v.skRm)
	public := boxPublic(private)
	same(t, "pkRm", public[:], v.pkRm)
	ephemeral := deriveKeyPair(fixed(t, v.ikmE))
	same(t, "skEm", ephemeral[:], v.skEm)

	shared, err := sharedSecret(ephemeral, public, fixed(t, v.enc), public)
	if err != nil {
		t.Fatal(err)
	}
	same(t, "shared_secret", shared, v.shared)
	key, nonce := keySchedule(shared, unhex(t, v.info))
	same(t, "key", key, v.key)
	same(t, "base_nonce", nonce, v.nonce)
}

func TestSEAL4_RFC9180VectorWhole(t *testing.T) {
	v := rfc9180
	enc, box, err := hpkeSeal(fixed(t, v.ikmE), fixed(t, v.pkRm), unhex(t, v.info), unhex(t, v.ad), unhex(t, v.plain))
	if err != nil {
		t.Fatal(err)
	}
	same(t, "enc", enc[:], v.enc)
	same(t, "ct", box, v.box)
	plain, err := hpkeOpen(fixed(t, v.skRm), fixed(t, v.enc), unhex(t, v.info), unhex(t, v.ad), unhex(t, v.box))
	if err != nil {
		t.Fatal(err)
	}
	same(t, "pt", plain, v.plain)
}

// The standard library opens what Wrap makes, and Unwrap opens what the standard library makes.
func TestSEAL4_AgreesWithTheStandardLibraryBothWays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		private := [32]byte(octets(32).Draw(t, "private"))
		secret := Key(octets(32).Draw(t, "secret"))
		info := rapid.SliceOf(rapid.Byte()).Draw(t, "info")

		theirs, err := hpke.DHKEM(ecdh.X25519()).NewPrivateKey(private[:])
		if err != nil {
			t.Fatal(err)
		}
		kdf, aead := hpke.HKDFSHA256(), hpke.ChaCha20Poly1305()

		w, err := Wrap(bytes.NewReader(octets(32).Draw(t, "ikm")), boxPublic(private), info, secret)
		if err != nil {
			t.Fatal(err)
		}
		plain, err := hpke.Open(theirs, kdf, aead, info, append(w.Enc[:], w.Box[:]...))
		if err != nil || !bytes.Equal(plain, secret[:]) {
			t.Fatalf("the library reads %x, %v", plain, err)
		}

		sealed, err := hpke.Seal(theirs.PublicKey(), kdf, aead, info, secret[:])
		if err != nil {
			t.Fatal(err)
		}
		w, err = ParseWrapped(sealed[:32], sealed[32:])
		if err != nil {
			t.Fatal(err)
		}
		if key, err := Unwrap(private, info, w, secret.ID()); err != nil || key != secret {
			t.Fatalf("we read %x, %v", key, err)
		}
	})
}

func octets(n int) *rapid.Generator[[]byte] { return rapid.SliceOfN(rapid.Byte(), n, n) }

func same(t *testing.T, what string, got []byte, want string) {
	t.Helper()
	if hex.EncodeToString(got) != want {
		t.Errorf("%s: %x, want %s", what, got, want)
	}
}

func fixed(t *testing.T, text string) [32]byte {
	t.Helper()
	return [32]byte(unhex(t, text))
}

func unhex(t *testing.T, text string) []byte {
	t.Helper()
	raw, err := hex.DecodeString(text)
	if err != nil {
		t.Fatal(err)
	}
	return raw
}
