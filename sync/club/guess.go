package club

import "hushcup/sync/oplog"

// The parts of a guess document that the rules know.
const (
	GuessPart uint32 = 1 // the guess; the newest revision before the close scores
	FirstPart uint32 = 2 // first impressions, written once
)

// Why no guess of a member scores on a sample.
const (
	VoidKeeper = "keeper"
	VoidHolder = "holder"
)

// Revision is one ordered op that wrote a part.
type Revision struct {
	_      struct{} `cbor:",toarray"`
	Pos    uint64
	Time   oplog.Time
	Device oplog.DeviceID
	Keys   []oplog.KeyID
}

// GuessInfo is what stands of a member's guess about a sample.
type GuessInfo struct {
	_       struct{} `cbor:",toarray"`
	Member  oplog.MemberID
	Scoring *Revision // the newest of those ordered before the close (so far, while the sample is open); nil if none or Void
	Late    *Revision // the newest of those that do not score: after the close, or any when Void
	First   *Revision // first impressions
	Void    string    // why no guess of this member scores: "", VoidKeeper or VoidHolder
}

// Guesses lists who has written about a sample in their guess document, in the order of their first revision. Scoring and
// Late are both nil for who has written first impressions only.
func (s *State) Guesses(sample oplog.SampleID) []GuessInfo {
	if known := s.bySample[sample]; known != nil {
		return values(known.guesses)
	}
	return nil
}

// Guess finds a member's guess about a sample.
func (s *State) Guess(sample oplog.SampleID, member oplog.MemberID) (GuessInfo, bool) {
	if known := s.bySample[sample]; known != nil {
		if g := known.guessOf(member); g != nil {
			return *g, true
		}
	}
	return GuessInfo{}, false
}

func (s *sample) guessOf(member oplog.MemberID) *GuessInfo {
	for _, g := range s.guesses {
		if g.Member == member {
			return g
		}
	}
	return nil
}

// void says why no guess of a member scores on a sample.
func (i *SampleInfo) void(member oplog.MemberID) string {
	switch {
	case member == i.Keeper:
		return VoidKeeper
	case i.holder(member):
		return VoidHolder
	}
	return ""
}

// noteGuess keeps the revision if it is the newest of its kind. Whether it came before the close is decided by position
// alone: the sample is still open at this entry, or it is not.
func (s *State) noteGuess(t *turn, about *sample) {
	g := about.guessOf(t.member.ID)
	if g == nil {
		g = &GuessInfo{Member: t.member.ID, Void: about.void(t.member.ID)}
		keep(s, about)
		about.guesses = append(about.guesses, g)
	}
	keep(s, g)
	revision := &Revision{Pos: t.pos, Time: t.op.Time, Device: t.op.Device, Keys: t.op.Keys}
	switch {
	case t.op.Part == FirstPart:
		g.First = revision
	case about.ClosedPos == 0 && g.Void == "":
		g.Scoring = newest(g.Scoring, revision)
	default:
		g.Late = newest(g.Late, revision)
	}
}

func newest(a, b *Revision) *Revision {
	if a == nil || oplog.Newer(b.Time, b.Device, a.Time, a.Device) {
		return b
	}
	return a
}
