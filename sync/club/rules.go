package club

// Void says that an entry breaks a rule at its position: it changes nothing but the chains.
type Void struct{ Code, Text, Hint string }

// Tampering says that the history contradicts itself: folding stops for good.
type Tampering struct{ Code, Text, Hint string }

// Stop says that a newer version wrote this: folding goes on once the app is updated.
type Stop struct{ Code, Text, Hint string }

// Refusal is the server's answer to a run: nothing of it was taken. Op is the index of the op to blame.
type Refusal struct {
	Code, Text, Hint string
	Op               int
}

func (e *Void) Error() string      { return e.Code + ": " + e.Text }
func (e *Tampering) Error() string { return e.Code + ": " + e.Text }
func (e *Stop) Error() string      { return e.Code + ": " + e.Text }
func (e *Refusal) Error() string   { return e.Code + ": " + e.Text }
