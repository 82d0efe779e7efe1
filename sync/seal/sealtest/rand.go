package sealtest

import (
	"crypto/sha256"

	"golang.org/x/crypto/chacha20"
)

// Rand is an endless, repeatable stream of bytes for tests, different for each seed.
type Rand struct{ stream *chacha20.Cipher }

// NewRand begins the stream of a seed.
func NewRand(seed string) *Rand {
	key := sha256.Sum256([]byte(seed))
	stream, err := chacha20.NewUnauthenticatedCipher(key[:], make([]byte, chacha20.NonceSize))
	if err != nil {
		panic("sealtest: chacha20: " + err.Error())
	}
	return &Rand{stream}
}

// Read fills all of into and never fails.
func (r *Rand) Read(into []byte) (int, error) {
	clear(into)
	r.stream.XORKeyStream(into, into)
	return len(into), nil
}
