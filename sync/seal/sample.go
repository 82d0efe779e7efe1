package seal

import (
	"crypto/subtle"
	"io"
)

// Sample is a sample's key pair: envelopes are wrapped to the public half, and unsealing publishes the private one.
type Sample struct {
	Private [32]byte
	Public  [32]byte
}

// SampleFor is the pair of a sample that the owner of a notebook keeps. It is derived, so that any device of the keeper can
// unseal it.
func SampleFor(notebookEpoch Key, book [32]byte, sample [16]byte) Sample {
	return samplePair(derive("hushcup/1 sample", notebookEpoch[:], book[:], sample[:]))
}

// NewSample draws a pair.
func NewSample(rand io.Reader) (Sample, error) {
	var private [32]byte
	if err := draw(rand, private[:]); err != nil {
		return Sample{}, err
	}
	return samplePair(private), nil
}

// SampleFromPrivate reads the private half that an unseal publishes or a holder was handed. X25519 ignores five bits of it;
// here they must be as RFC 7748 sets them, so that one sample has one private half.
func SampleFromPrivate(private [32]byte) (Sample, error) {
	if clamp(private) != private {
		return Sample{}, ErrSampleKey
	}
	return samplePair(private), nil
}

// CheckSample tells whether a private half is the one that belongs to the public half of a sample.
func CheckSample(private, public [32]byte) error {
	s, err := SampleFromPrivate(private)
	if err != nil {
		return err
	}
	if subtle.ConstantTimeCompare(s.Public[:], public[:]) != 1 {
		return ErrSampleKey
	}
	return nil
}

func samplePair(private [32]byte) Sample {
	private = clamp(private)
	return Sample{Private: private, Public: boxPublic(private)}
}

// clamp is decodeScalar25519 of RFC 7748, section 5.
func clamp(private [32]byte) [32]byte {
	private[0] &= 248
	private[31] &= 127
	private[31] |= 64
	return private
}
