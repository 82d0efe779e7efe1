package app

// yield waits for the trade's arithmetic.
func (content *brewContent) yield() *Interval { return nil }
