package seal

import (
	"crypto/cipher"
	"io"

	"golang.org/x/crypto/chacha20poly1305"
)

// Wrapped is a key handed over to the holder of an X25519 private key.
type Wrapped struct {
	Enc [32]byte // the sender's ephemeral public key
	Box [48]byte // the key, encrypted
}

// Purpose says what a key is handed over for. It is part of what the wrapping is bound to.
type Purpose string

// The purposes, and what Info's about and member are for each.
const (
	PurposeEpoch    Purpose = "hushcup/1 wrap epoch"    // an epoch to a device: about is the epoch key's id, member the device's
	PurposeEnvelope Purpose = "hushcup/1 wrap envelope" // an envelope to its sample: about is the sample, member the author
	PurposeSample   Purpose = "hushcup/1 wrap sample"   // a sample's private half to a holder's device: see HoldInfo
	PurposeInvite   Purpose = "hushcup/1 wrap invite"   // an epoch under an invitation's key: about is the invitation's public key, member zero
	PurposeBefore   Purpose = "hushcup/1 wrap before"   // the previous epoch under the new one: about is the new epoch's id, member zero
	PurposePending  Purpose = "hushcup/1 wrap pending"  // a key that a notebook keeps for an enrolment to come: about names the enrolment
)

// Info is the canonical context of a wrapping.
func Info(purpose Purpose, book [32]byte, about []byte, member [16]byte, key KeyID) []byte {
	return Join(string(purpose), book[:], about, member[:], key[:])
}

// ParseWrapped reads a wrapped key as it stands in an op.
func ParseWrapped(enc, box []byte) (Wrapped, error) {
	var w Wrapped
	if len(enc) != len(w.Enc) || len(box) != len(w.Box) {
		return Wrapped{}, ErrUnreadable
	}
	copy(w.Enc[:], enc)
	copy(w.Box[:], box)
	if err := CheckBox(w.Enc); err != nil {
		return Wrapped{}, err
	}
	return w, nil
}

// Wrap hands secret over to whoever holds the private half of to, with HPKE. It refuses a key that CheckBox refuses. Exactly
// 32 bytes are drawn.
func Wrap(rand io.Reader, to [32]byte, info []byte, secret Key) (Wrapped, error) {
	var ikm [32]byte
	if err := draw(rand, ikm[:]); err != nil {
		return Wrapped{}, err
	}
	enc, box, err := hpkeSeal(ikm, to, info, nil, secret[:])
	if err != nil {
		return Wrapped{}, err
	}
	return Wrapped{Enc: enc, Box: [48]byte(box)}, nil
}

// Unwrap takes a key that was handed over. private is a device's BoxSeed or a sample's private half. A key whose id is not
// the one wanted is not returned: it may well be a key, but not the one that was named to everybody else.
func Unwrap(private [32]byte, info []byte, w Wrapped, want KeyID) (Key, error) {
	plain, err := hpkeOpen(private, w.Enc, info, nil, w.Box[:])
	if err != nil {
		return Key{}, err
	}
	return named(plain, want)
}

// sealedKeyLen is nonce, key and tag.
const sealedKeyLen = chacha20poly1305.NonceSizeX + 32 + chacha20poly1305.Overhead

// SealKey hands secret over to whoever holds another key: 72 bytes. Exactly 24 are drawn.
func SealKey(rand io.Reader, under Key, info []byte, secret Key) ([]byte, error) {
	sealed := make([]byte, chacha20poly1305.NonceSizeX, sealedKeyLen)
	if err := draw(rand, sealed); err != nil {
		return nil, err
	}
	return keySealer(under).Seal(sealed, sealed, secret[:], info), nil
}

// OpenKey takes a key that SealKey handed over; like Unwrap, it returns the key that is wanted or none.
func OpenKey(under Key, info, sealed []byte, want KeyID) (Key, error) {
	if len(sealed) != sealedKeyLen {
		return Key{}, ErrUnreadable
	}
	nonce, box := sealed[:chacha20poly1305.NonceSizeX], sealed[chacha20poly1305.NonceSizeX:]
	plain, err := keySealer(under).Open(nil, nonce, box, info)
	if err != nil {
		return Key{}, ErrUnreadable
	}
	return named(plain, want)
}

func keySealer(under Key) cipher.AEAD { return xchacha(derive("hushcup/1 key seal", under[:])) }

func named(plain []byte, want KeyID) (Key, error) {
	if len(plain) != 32 {
		return Key{}, ErrUnreadable
	}
	key := Key(plain)
	if !key.Is(want) {
		return Key{}, ErrOtherKey
	}
	return key, nil
}

func chacha(key []byte) cipher.AEAD {
	aead, err := chacha20poly1305.New(key)
	if err != nil { // only for a wrong length
		panic("seal: chacha20poly1305: " + err.Error())
	}
	return aead
}

func xchacha(key Key) cipher.AEAD {
	aead, err := chacha20poly1305.NewX(key[:])
	if err != nil { // only for a wrong length
		panic("seal: chacha20poly1305: " + err.Error())
	}
	return aead
}
