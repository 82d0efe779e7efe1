package seal

import (
	"io"

	"golang.org/x/crypto/chacha20poly1305"
)

const sealedExtra = chacha20poly1305.NonceSizeX + chacha20poly1305.Overhead

// Sizes of bodies.
const (
	MaxSealed     = 64 << 10                // a sealed body
	MaxPlain      = largest - lengthLen     // what Powers can hold
	MaxUniform    = uniform - lengthLen     // what Uniform can hold
	UniformSealed = uniform + sealedExtra   // a sealed Uniform body, always
	largest       = MaxSealed - sealedExtra // the last step of Powers
)

// SealUnder seals a body under its book's epoch, or under [envelope, epoch]. Exactly 24 bytes are drawn.
func SealUnder(rand io.Reader, keys []Key, ad, plain []byte, pad Padding) ([]byte, error) {
	if len(keys) < 1 || len(keys) > 2 {
		return nil, ErrKeyCount
	}
	return Seal(rand, BodyKey(keys...), ad, plain, pad)
}

// OpenUnder opens a body that names the ids of its keys, in the order of keys. The ids are compared first: the cipher alone
// would open a body that was made to have two meanings under two keys, one for each reader.
func OpenUnder(keys []Key, ids []KeyID, ad, sealed []byte) ([]byte, error) {
	if len(keys) < 1 || len(keys) > 2 || len(ids) != len(keys) {
		return nil, ErrKeyCount
	}
	for i, key := range keys {
		if !key.Is(ids[i]) {
			return nil, ErrOtherKey
		}
	}
	return Open(BodyKey(keys...), ad, sealed)
}

// Seal seals a body under the key that BodyKey makes, bound to ad. Exactly 24 bytes are drawn.
func Seal(rand io.Reader, key Key, ad, plain []byte, pad Padding) ([]byte, error) {
	padded, err := pad.pad(plain)
	if err != nil {
		return nil, err
	}
	sealed := make([]byte, chacha20poly1305.NonceSizeX, len(padded)+sealedExtra)
	if err := draw(rand, sealed); err != nil {
		return nil, err
	}
	return xchacha(key).Seal(sealed, sealed, padded, ad), nil
}

// Open opens a body. It does not know whether the key is the one that was meant: see OpenUnder.
func Open(key Key, ad, sealed []byte) ([]byte, error) {
	if len(sealed) > MaxSealed {
		return nil, ErrTooLarge
	}
	if len(sealed) < sealedExtra {
		return nil, ErrUnreadable
	}
	nonce, box := sealed[:chacha20poly1305.NonceSizeX], sealed[chacha20poly1305.NonceSizeX:]
	padded, err := xchacha(key).Open(nil, nonce, box, ad)
	if err != nil {
		return nil, ErrUnreadable
	}
	return unpad(padded)
}

// IsUniform tells, without any key, whether a body has the one size that answers and guesses have.
func IsUniform(sealed []byte) bool { return len(sealed) == UniformSealed }
