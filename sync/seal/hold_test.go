package seal_test

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"testing"

	"hushcup/sync/seal"
)

// A holder gets the private half that belongs to the sample, or nothing.
func TestHolderGetsTheSamplesOwnPrivateHalf(t *testing.T) {
	rand := &steps{}
	holder, err := seal.NewIdentity(rand)
	if err != nil {
		t.Fatal(err)
	}
	sample, _ := seal.NewSample(rand)
	other, _ := seal.NewSample(rand)
	info := seal.HoldInfo([32]byte{1}, [16]byte{2}, [16]byte{3}, sample.Public)
	w, err := seal.Wrap(rand, holder.Public().Box, info, seal.Key(sample.Private))
	if err != nil {
		t.Fatal(err)
	}
	got, err := seal.UnwrapSample(holder.BoxSeed, info, w, sample.Public)
	if err != nil || got != sample {
		t.Fatalf("got %v, %v", got, err)
	}
	wrong, _ := seal.Wrap(rand, holder.Public().Box, info, seal.Key(other.Private))
	if _, err := seal.UnwrapSample(holder.BoxSeed, info, wrong, sample.Public); !errors.Is(err, seal.ErrSampleKey) {
		t.Fatalf("a private half of another sample: %v", err)
	}
	elsewhere := bytes.Replace(info, []byte{3}, []byte{4}, 1)
	if _, err := seal.UnwrapSample(holder.BoxSeed, elsewhere, w, sample.Public); !errors.Is(err, seal.ErrUnreadable) {
		t.Fatalf("another context: %v", err)
	}
}

type steps struct{ n byte }

func (s *steps) Read(p []byte) (int, error) {
	s.n++
	sum := sha256.Sum256([]byte{s.n})
	return copy(p, sum[:]), nil
}
