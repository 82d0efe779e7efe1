package app

// SittingView is how far a person has come with a sample. Steps may be skipped, and taken up again.
type SittingView struct {
	Club   string      `cbor:"club"`
	Sample string      `cbor:"sample"`
	Code   int         `cbor:"code"`
	Out    bool        `cbor:"out"` // no sitting: this person knows the answer, or it is not open for guesses
	Done   []string    `cbor:"done" ts:"SittingStep"`
	At     string      `cbor:"at" ts:"SittingStep"`         // where it goes on
	Brew   *BrewParams `cbor:"brew,omitempty"`              // the newest brew of it
	State  string      `cbor:"state" ts:"BrewState | \"\""` // of that brew
}

// SittingReached keeps how far a sitting has come, so that it goes on there.
type SittingReached struct {
	Club   string `cbor:"club"`
	Sample string `cbor:"sample"`
	Step   string `cbor:"step" ts:"SittingStep"`
}
