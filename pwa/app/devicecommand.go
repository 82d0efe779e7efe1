package app

// DeviceName names this device for oneself.
type DeviceName struct {
	Name string `cbor:"name"`
}

// DevicePair makes a link by which one more device of one's own comes in.
type DevicePair struct{}

// DevicePairing is the link to open, scan or paste on the other device; it works once, for ten minutes.
type DevicePairing struct {
	Link    string `cbor:"link"`
	Text    string `cbor:"text"`
	Expires int64  `cbor:"expires"`
}

// DeviceRemove takes one of one's own devices out, everywhere.
type DeviceRemove struct {
	Device string `cbor:"device"`
}

// RecoveryMade is a new recovery code: shown this once, kept nowhere on this phone. Link opens the app with it.
type RecoveryMade struct {
	Code string `cbor:"code"`
	Link string `cbor:"link"`
}

// RecoveryConfirm says that the code was written down: Last is its last group, typed from the paper.
type RecoveryConfirm struct {
	Last string `cbor:"last"`
}

// Recover makes this fresh notebook the person's whose code it is.
type Recover struct {
	Code string `cbor:"code"` // the code or its link
}

// RefusedRetry tries once more to share what the server refused.
type RefusedRetry struct {
	ID string `cbor:"id"`
}

// RefusedDiscard gives up what the server refused.
type RefusedDiscard struct {
	ID string `cbor:"id"`
}
