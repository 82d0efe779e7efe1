package seal_test

import (
	"bytes"
	"testing"

	"hushcup/sync/seal"
	"hushcup/sync/seal/sealtest"

	"pgregory.net/rapid"
)

// Computed outside Go, with a general-purpose HMAC-SHA256, from the package comment alone.
func TestSEAL14_AKeepersSampleIsDerivedAndClamped(t *testing.T) {
	pair := seal.SampleFor(seal.Key(counting(0, 32)), club, sample)
	wantHex(t, "private", pair.Private[:], "487aea09751b679d106880eaa482610e8b9c19bfc1b163044bc1fbce7a3ca77e")
	if err := seal.CheckSample(pair.Private, pair.Public); err != nil {
		t.Error(err)
	}
}

func TestSEAL14_OnlyTheRightPrivateHalfUnseals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pair, err := seal.NewSample(bytes.NewReader(drawBytes(32).Draw(t, "drawn")))
		if err != nil {
			t.Fatal(err)
		}
		if again, err := seal.SampleFromPrivate(pair.Private); err != nil || again != pair {
			t.Fatalf("%v, %v", again, err)
		}
		if err := seal.CheckSample(pair.Private, pair.Public); err != nil {
			t.Fatal(err)
		}
		if err := seal.CheckBox(pair.Public); err != nil {
			t.Fatal(err)
		}
		// Also the five bits that X25519 ignores: otherwise one sample would have 32 private halves.
		changed := pair.Private
		changed[rapid.IntRange(0, 31).Draw(t, "at")] ^= 1 << rapid.IntRange(0, 7).Draw(t, "bit")
		if err := seal.CheckSample(changed, pair.Public); err != seal.ErrSampleKey {
			t.Fatalf("another private half: %v", err)
		}
	})
}

func TestSEAL14_PrivateHalvesThatAreNotClampedAreRefused(t *testing.T) {
	pair := must(seal.NewSample(sealtest.NewRand("sample")))(t)
	for what, change := range map[string]func(*[32]byte){
		"bit 0":   func(p *[32]byte) { p[0] |= 1 },
		"bit 1":   func(p *[32]byte) { p[0] |= 2 },
		"bit 2":   func(p *[32]byte) { p[0] |= 4 },
		"bit 254": func(p *[32]byte) { p[31] &^= 64 },
		"bit 255": func(p *[32]byte) { p[31] |= 128 },
	} {
		private := pair.Private
		change(&private)
		_, err := seal.SampleFromPrivate(private)
		wantError(t, what, err, seal.ErrSampleKey)
	}
}

// The whole way of an answer: sealed under the keeper's envelope and the epoch, the envelope wrapped to the sample, and read
// by a member once the private half is out. With the private half alone, as the server has it then, nothing opens.
func TestSEAL11_AnUnsealedSampleNeedsTheEpochToo(t *testing.T) {
	notebook, epoch := newKey(t, "notebook of Mira"), newKey(t, "epoch")
	pair := seal.SampleFor(notebook, club, sample)
	envelope := seal.Envelope(notebook, club, sample)
	info := seal.Info(seal.PurposeEnvelope, club, sample[:], vega, envelope.ID())
	wrapped := must(seal.Wrap(sealtest.NewRand("wrap"), pair.Public, info, envelope))(t)
	ids := []seal.KeyID{envelope.ID(), epoch.ID()}
	answer := must(seal.SealUnder(sealtest.NewRand("answer"), []seal.Key{envelope, epoch}, nil, []byte("Rwanda, washed"), seal.Uniform))(t)

	published := must(seal.SampleFromPrivate(pair.Private))(t)
	opened := must(seal.Unwrap(published.Private, info, wrapped, ids[0]))(t)
	got := must(seal.OpenUnder([]seal.Key{opened, epoch}, ids, nil, answer))(t)
	if string(got) != "Rwanda, washed" {
		t.Errorf("%q", got)
	}
	for _, key := range []seal.Key{opened, seal.BodyKey(opened), seal.BodyKey(opened, seal.Key{}), seal.Key(pair.Private)} {
		_, err := seal.Open(key, nil, answer)
		wantError(t, "without the epoch", err, seal.ErrUnreadable)
	}
}

// A sample's private half in a holder's wrap is measured by the public half that stands in the open: another one, even
// another pair's with the same info, is not handed out.
func TestSEAL21_AHolderGetsTheSampleNamedOrNothing(t *testing.T) {
	altair := newIdentity(t, "altair")
	named := must(seal.NewSample(sealtest.NewRand("named")))(t)
	other := must(seal.NewSample(sealtest.NewRand("other")))(t)
	loose := named.Private
	loose[0] |= 1 // the same public half by X25519, but not clamped

	info := seal.HoldInfo(club, sample, vega, named.Public)
	for what, c := range map[string]struct {
		wrapped [32]byte
		info    []byte
		want    error
	}{
		"its own":            {named.Private, info, nil},
		"another sample's":   {other.Private, info, seal.ErrSampleKey},
		"not clamped":        {loose, info, seal.ErrSampleKey},
		"for another holder": {named.Private, seal.HoldInfo(club, sample, [16]byte{}, named.Public), seal.ErrUnreadable},
		"for another club":   {named.Private, seal.HoldInfo([32]byte{}, sample, vega, named.Public), seal.ErrUnreadable},
	} {
		w := must(seal.Wrap(sealtest.NewRand("wrap"), altair.Public().Box, c.info, seal.Key(c.wrapped)))(t)
		got, err := seal.UnwrapSample(altair.BoxSeed, info, w, named.Public)
		wantError(t, what, err, c.want)
		if (err == nil) != (got == named) || (err != nil && got != seal.Sample{}) {
			t.Errorf("%s: got a pair that was not named", what)
		}
	}
}
