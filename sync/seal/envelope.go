package seal

// Envelope is the key under which a member writes about one sample: derived, so that every device of the member has it
// without asking, and different for each sample, so that it can be given to the club when that sample is unsealed. book is
// the club's, notebookEpoch the current epoch of the member's own notebook.
func Envelope(notebookEpoch Key, book [32]byte, sample [16]byte) Key {
	return derive("hushcup/1 envelope", notebookEpoch[:], book[:], sample[:])
}

// BodyKey is the key of a body under its book's epoch, or under an envelope and the epoch, in that order. Under both,
// because after an unseal the server too knows the sample's key and with it the envelopes, but never an epoch.
func BodyKey(keys ...Key) Key {
	secret := make([]byte, 0, 64)
	for _, k := range keys {
		secret = append(secret, k[:]...)
	}
	return derive("hushcup/1 body key", secret)
}
