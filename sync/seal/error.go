package seal

// Error is why something was not sealed, opened or read. Code is stable and crosses the wire and the bridge; Text is for a
// log, and never holds anything secret.
type Error struct {
	Code string
	Text string
}

func (e *Error) Error() string { return e.Code + ": " + e.Text }

// What can go wrong. Compare with errors.Is.
var (
	ErrRandom     = &Error{"no-randomness", "the source of randomness ended early"}
	ErrKeyForm    = &Error{"bad-key", "the public key is not in canonical form"}
	ErrKeyLow     = &Error{"bad-key", "the public key is of low order"}
	ErrKeyCount   = &Error{"bad-key-count", "a body lies under one or two keys, each with its id"}
	ErrOtherKey   = &Error{"other-key", "the key is not the one whose id is named"}
	ErrUnreadable = &Error{"unreadable", "it does not open with this key, or it was altered"}
	ErrPadding    = &Error{"bad-padding", "what was sealed is not padded as the rules say"}
	ErrTooLarge   = &Error{"too-large", "it is larger than a sealed body may be"}
	ErrSampleKey  = &Error{"wrong-sample-key", "the private half is not the sample's"}

	ErrLinkDamaged = &Error{"link-damaged", "the invitation is incomplete or mistyped"}
	ErrLinkNewer   = &Error{"link-newer", "the invitation was made by a newer version"}

	ErrCodeLength  = &Error{"code-length", "a recovery code has thirty letters and digits"}
	ErrCodeLetter  = &Error{"code-letter", "a sign stands in the recovery code that no code has"}
	ErrCodeDamaged = &Error{"code-damaged", "a letter or digit of the recovery code is wrong"}
	ErrCodeNewer   = &Error{"code-newer", "the recovery code was made by a newer version"}
)
