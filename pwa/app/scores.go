package app

import (
	"hushcup/pwa/core/atlas"
	"hushcup/pwa/core/guess"
	"hushcup/pwa/core/score"
	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

// scores keeps what is dear to compute: checked priors by what a flight pins, and beliefs by prior and what was said. Both
// are named by their content, so nothing here can be out of date.
type scores struct {
	pinned map[club.Pins]pinned
	joints map[string]*atlas.Joint
}

const (
	mostPinned = 40
	mostJoints = 64
)

func (s *scores) keepPinned(pins club.Pins, p pinned) {
	if s.pinned == nil || len(s.pinned) >= mostPinned {
		s.pinned = map[club.Pins]pinned{}
	}
	s.pinned[pins] = p
}

// project gives the belief of what was said.
func (s *scores) project(p pinned, belief guess.Belief) (*atlas.Joint, error) {
	hash := p.Prior.Hash()
	key := string(hash[:])
	for _, m := range belief.Canonical() {
		key += "|" + string(m.Node) + "=" + decimal(m.Share)
	}
	if joint, ok := s.joints[key]; ok {
		return joint, nil
	}
	joint, err := guess.Project(p.Prior, belief)
	if err != nil {
		return nil, err
	}
	if s.joints == nil || len(s.joints) >= mostJoints {
		s.joints = map[string]*atlas.Joint{}
	}
	s.joints[key] = joint
	return joint, nil
}

// scored is one person's guess at an opened sample. Status is a TableStatus word.
type scored struct {
	Member oplog.MemberID
	Status string
	Belief guess.Belief
	Joint  *atlas.Joint
	Result score.Result
}

// opening is an unsealed sample with what is needed to score it.
type opening struct {
	club   *clubBook
	flight club.FlightInfo
	sample club.SampleInfo
	pinned pinned
	answer answerContent
	status string // a ResultState word: open, reading or unreadable
}

// opening reads an unsealed sample's answer and the flight's pins.
func (a *App) opening(c *clubBook, f club.FlightInfo, s club.SampleInfo) opening {
	o := opening{club: c, flight: f, sample: s, pinned: a.pinned(c, f)}
	var status replica.BodyStatus
	o.answer, status = a.answer(c, s.Body.ID)
	switch {
	case status == replica.BodyLoading, o.pinned.Status == "waiting":
		o.status = "reading"
	case status != replica.BodyReady:
		o.status = "unreadable"
	default:
		o.status = "open"
	}
	return o
}

// person scores what a member said. Only the guess that the order made the scoring one scores; a late one is told beside it.
func (a *App) person(o *opening, member oplog.MemberID) scored {
	out := scored{Member: member, Status: "none"}
	g, guessed := o.club.Ordered.Guess(o.sample.Body.ID, member)
	switch {
	case o.sample.Holds(member):
		out.Status = "holder"
	case !guessed || g.Void != "":
	case g.Scoring != nil:
		plain, status := a.replica.Guess(o.club.ID, o.sample.Body.ID, member)
		a.scoreBody(o, &out, plain, status, "scored")
	case g.Late != nil:
		key := replica.DocKey{Member: member, Doc: oplog.GuessDoc(o.sample.Body.ID, member), Part: partGuess}
		plain, status := a.readPlain(o.club.ID, key)
		a.scoreBody(o, &out, plain, status, "late")
	}
	return out
}

// firstImpression scores a member's ten-second guess, which stands beside the other and never counts.
func (a *App) firstImpression(o *opening, member oplog.MemberID) (scored, bool) {
	out := scored{Member: member}
	key := replica.DocKey{Member: member, Doc: oplog.GuessDoc(o.sample.Body.ID, member), Part: partFirstGuess}
	plain, status := a.readPlain(o.club.ID, key)
	if status != replica.BodyReady || o.status != "open" {
		return out, false
	}
	a.scoreBody(o, &out, plain, status, "scored")
	return out, out.Status == "scored"
}

func (a *App) readPlain(book oplog.BookID, key replica.DocKey) ([]byte, replica.BodyStatus) {
	part, ok := a.replica.Doc(book, key)
	if !ok {
		return nil, replica.BodyMissing
	}
	return a.body(book, part)
}

func (a *App) scoreBody(o *opening, out *scored, plain []byte, status replica.BodyStatus, word string) {
	var content guessContent
	switch {
	case status == replica.BodyLoading:
		a.watches.reading = true
		out.Status = "reading"
		return
	case status != replica.BodyReady || codec.UnmarshalOpen(plain, &content) != nil:
		out.Status = "unreadable"
		return
	}
	out.Status, out.Belief = word, content.belief()
	if o.status != "open" || o.pinned.Status != "yes" {
		out.Status = "reading"
		return
	}
	joint, err := a.scores.project(o.pinned, out.Belief)
	if err != nil {
		out.Status = "unreadable"
		return
	}
	out.Joint = joint
	out.Result = score.Score(o.pinned.Rules, o.pinned.Joint, joint, o.answer.truth())
	if len(out.Result.Steps) == 0 {
		out.Status = "unstated"
	}
}

// myFactor is this person's score on an opened sample.
func (a *App) myFactor(c *clubBook, f club.FlightInfo, s club.SampleInfo) *Factor {
	o := a.opening(c, f, s)
	me := a.person(&o, c.Member)
	if me.Status != "scored" {
		return nil
	}
	factor := factorOfBits(int(me.Result.Total))
	return &factor
}
