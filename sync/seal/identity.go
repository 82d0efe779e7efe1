package seal

import (
	"crypto/ecdh"
	"crypto/ed25519"
	"io"
)

// Identity is one device's pair of secrets. It never leaves the installation; moving in always makes a new one.
type Identity struct {
	SignSeed [32]byte // the seed of its Ed25519 key, RFC 8032
	BoxSeed  [32]byte // its X25519 private key, RFC 7748
}

// Public is what others know of a device.
type Public struct {
	Sign [32]byte // Ed25519; it names the device
	Box  [32]byte // X25519; keys are wrapped to it
}

// NewIdentity draws a device's secrets.
func NewIdentity(rand io.Reader) (Identity, error) {
	var i Identity
	if err := draw(rand, i.SignSeed[:]); err != nil {
		return Identity{}, err
	}
	if err := draw(rand, i.BoxSeed[:]); err != nil {
		return Identity{}, err
	}
	return i, nil
}

// Public derives the public halves.
func (i Identity) Public() Public {
	return Public{Sign: signPublic(i.SignSeed), Box: boxPublic(i.BoxSeed)}
}

// Sign signs a message with Ed25519. What is signed is always a Sum, whose label says what the signature is for.
func (i Identity) Sign(message []byte) [64]byte { return i.Signer()(message) }

// Signer signs as Sign does, and derives the key from the seed once for all messages, with the first: a start that signs nothing
// yet need not wait for it.
func (i Identity) Signer() func(message []byte) [64]byte {
	var key ed25519.PrivateKey
	return func(message []byte) [64]byte {
		if key == nil {
			key = ed25519.NewKeyFromSeed(i.SignSeed[:])
		}
		return [64]byte(ed25519.Sign(key, message))
	}
}

// Check refuses a device whose keys nobody should sign or wrap to.
func (p Public) Check() error {
	if err := CheckSign(p.Sign); err != nil {
		return err
	}
	return CheckBox(p.Box)
}

// Verify tells whether the signature over the message is by the key. A key that CheckSign refuses has no valid signatures.
func Verify(key [32]byte, message, signature []byte) bool {
	return CheckSign(key) == nil && len(signature) == ed25519.SignatureSize && ed25519.Verify(key[:], message, signature)
}

func sign(seed [32]byte, message []byte) [64]byte {
	return [64]byte(ed25519.Sign(ed25519.NewKeyFromSeed(seed[:]), message))
}

func signPublic(seed [32]byte) [32]byte {
	return [32]byte(ed25519.NewKeyFromSeed(seed[:]).Public().(ed25519.PublicKey))
}

func boxPublic(private [32]byte) [32]byte {
	return [32]byte(boxKey(private).PublicKey().Bytes())
}

// boxKey takes the bytes as they are: X25519 clamps when it computes. ecdh's own GenerateKey is not used, because it may
// ignore the reader that it is given.
func boxKey(private [32]byte) *ecdh.PrivateKey {
	key, err := ecdh.X25519().NewPrivateKey(private[:])
	if err != nil { // only for a wrong length
		panic("seal: x25519: " + err.Error())
	}
	return key
}
