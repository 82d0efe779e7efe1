package seal

import (
	"crypto/subtle"
	"io"
)

// Key is a symmetric key: a book's epoch, an envelope, the key of a body.
type Key [32]byte

// KeyID is a key's fingerprint. It stands in clear beside whatever the key seals.
type KeyID [32]byte

// NewKey draws a key.
func NewKey(rand io.Reader) (Key, error) {
	var k Key
	err := draw(rand, k[:])
	return k, err
}

// ID is H("hushcup/1 key", key).
func (k Key) ID() KeyID { return KeyID(Sum("hushcup/1 key", k[:])) }

// Is tells whether the key is the one that an id names.
func (k Key) Is(want KeyID) bool {
	id := k.ID()
	return subtle.ConstantTimeCompare(id[:], want[:]) == 1
}

// draw fills into from rand, or fails leaving nothing half-random to be used: callers return on its error.
func draw(rand io.Reader, into []byte) error {
	if _, err := io.ReadFull(rand, into); err != nil {
		clear(into)
		return ErrRandom
	}
	return nil
}
