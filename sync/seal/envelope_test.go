package seal_test

import (
	"testing"

	"hushcup/sync/seal"
)

// The figures of this file were computed outside Go, with a general-purpose HMAC-SHA256, from the package comment alone.
func TestSEAL11_BodyKeyIsDerived(t *testing.T) {
	envelope, epoch := seal.Key(counting(0, 32)), seal.Key(counting(32, 32))
	one, two := seal.BodyKey(epoch), seal.BodyKey(envelope, epoch)
	wantHex(t, "epoch", one[:], "7e29bf43c9c7ad6a3bca37424e2034e220c8df6dc5391dd1a536326cb8cb0c0a")
	wantHex(t, "envelope and epoch", two[:], "b098daf708a6d22c1a9dbefbea2697709f20f27b788f5f5e15ffbbd7da1dd370")
	if swapped := seal.BodyKey(epoch, envelope); swapped == two {
		t.Error("the order of the keys does not matter")
	}
}

func TestSEAL13_EnvelopesDifferBySampleClubAndNotebook(t *testing.T) {
	notebook := seal.Key(counting(0, 32))
	envelope := seal.Envelope(notebook, club, sample)
	wantHex(t, "envelope", envelope[:], "e34a765465e20c6b52217039d7e5960d15b360454b039bdc453c954e3ef5396e")
	distinct := map[seal.Key]bool{
		envelope: true,
		seal.Envelope(newKey(t, "new"), club, sample):  true,
		seal.Envelope(notebook, [32]byte{}, sample):    true,
		seal.Envelope(notebook, club, [16]byte{}):      true,
		seal.SampleFor(notebook, club, sample).Private: true,
	}
	if len(distinct) != 5 {
		t.Errorf("%d different keys of 5", len(distinct))
	}
}
