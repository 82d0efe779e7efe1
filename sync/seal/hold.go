package seal

// HoldInfo is the context in which a sample's private half is handed to a holder's device. A sample is known by its public
// half, which stands in the open, so that half takes the place of the key's id.
func HoldInfo(book [32]byte, sample [16]byte, holder [16]byte, public [32]byte) []byte {
	return Info(PurposeSample, book, sample[:], holder, KeyID(public))
}

// UnwrapSample takes a sample's private half that was handed over with HoldInfo. One that does not belong to the public half
// is not returned.
func UnwrapSample(private [32]byte, info []byte, w Wrapped, public [32]byte) (Sample, error) {
	plain, err := hpkeOpen(private, w.Enc, info, nil, w.Box[:])
	if err != nil {
		return Sample{}, err
	}
	if len(plain) != 32 {
		return Sample{}, ErrUnreadable
	}
	if err := CheckSample([32]byte(plain), public); err != nil {
		return Sample{}, err
	}
	return SampleFromPrivate([32]byte(plain))
}
