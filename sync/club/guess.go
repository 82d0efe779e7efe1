package club

import "hushcup/sync/oplog"

// The parts of a guess document that the rules know.
const (
	GuessPart uint32 = 1 // the guess; the newest revision before the close scores
	FirstPart uint32 = 2 // first impressions, written once
)

// Revision is one ordered op that wrote a part.
type Revision struct {
	Pos    uint64
	Time   oplog.Time
	Device oplog.DeviceID
	Keys   []oplog.KeyID
}

// GuessInfo is what stands of a member's guess about a sample.
type GuessInfo struct {
	Member  oplog.MemberID
	Scoring *Revision // the newest of those ordered before the close (so far, while the sample is open); nil if none or Void
	Late    *Revision // the newest of those that do not score: after the close, or any when Void
	First   *Revision // first impressions
	Void    string    // why no guess of this member scores: "", "keeper" or "holder"
}

// Guesses lists who has guessed about a sample, in the order of their first revision.
func (s *State) Guesses(sample oplog.SampleID) []GuessInfo { panic("unwritten") }

// Guess finds a member's guess about a sample.
func (s *State) Guess(sample oplog.SampleID, member oplog.MemberID) (GuessInfo, bool) {
	panic("unwritten")
}
