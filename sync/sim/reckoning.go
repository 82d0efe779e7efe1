package sim

import (
	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
)

// reckoning says for itself which guesses score, in the plainest way and without package club's bookkeeping: it knows who a
// device belongs to, when each sample closed, and keeps of each member's guesses before that the newest.
type reckoning struct {
	memberOf map[oplog.DeviceID]oplog.MemberID
	closes   map[oplog.FlightID]int64
	samples  []*reckoned
}

// reckoned is one sample.
type reckoned struct {
	id      oplog.SampleID
	flight  oplog.FlightID
	keeper  oplog.MemberID
	holders map[oplog.MemberID]bool
	closed  uint64
	scoring map[oplog.MemberID]club.Revision
}

func newReckoning() *reckoning {
	return &reckoning{memberOf: map[oplog.DeviceID]oplog.MemberID{}, closes: map[oplog.FlightID]int64{}}
}

// take reads one valid entry.
func (r *reckoning) take(e *oplog.Entry) {
	r.strike(e)
	op := &e.Op
	switch op.Kind {
	case oplog.Create:
		body := body[club.CreateBody](op)
		r.enrol(body.Member, body.Devices)
	case oplog.Join:
		body := body[club.JoinBody](op)
		r.enrol(body.Member, body.Devices)
	case oplog.Device:
		body := body[club.DeviceBody](op)
		r.enrol(r.memberOf[op.Device], []club.Enrolment{body.Device})
	case oplog.Flight:
		body := body[club.FlightBody](op)
		r.closes[body.ID] = body.Closes
	case oplog.Closing:
		body := body[club.ClosingBody](op)
		r.closes[body.Flight] = body.Closes
	case oplog.Sample:
		r.seal(op)
	case oplog.Lock:
		for _, id := range body[club.LockBody](op).Samples {
			r.close(id, e.Order.Pos)
		}
	case oplog.Unseal:
		for _, key := range body[club.UnsealBody](op).Keys {
			r.close(key.Sample, e.Order.Pos)
		}
	case oplog.Part:
		r.guess(e)
	}
}

func body[T any](op *oplog.Op) (v T) {
	_ = codec.Unmarshal(op.Body, &v) // the entry is valid
	return v
}

func (r *reckoning) enrol(member oplog.MemberID, devices []club.Enrolment) {
	for _, d := range devices {
		r.memberOf[d.Sign] = member
	}
}

func (r *reckoning) seal(op *oplog.Op) {
	body := body[club.SampleBody](op)
	s := &reckoned{id: body.ID, flight: body.Flight, keeper: r.memberOf[op.Device], holders: map[oplog.MemberID]bool{},
		scoring: map[oplog.MemberID]club.Revision{}}
	for _, h := range body.Holders {
		s.holders[h.Member] = true
	}
	r.samples = append(r.samples, s)
}

// strike closes what the entry's time closes.
func (r *reckoning) strike(e *oplog.Entry) {
	for _, s := range r.samples {
		if at := r.closes[s.flight]; at != 0 && e.Order.At >= at {
			r.close(s.id, e.Order.Pos)
		}
	}
}

func (r *reckoning) close(id oplog.SampleID, pos uint64) {
	for _, s := range r.samples {
		if s.id == id && s.closed == 0 {
			s.closed = pos
		}
	}
}

func (r *reckoning) guess(e *oplog.Entry) {
	op := &e.Op
	member := r.memberOf[op.Device]
	for _, s := range r.samples {
		if op.Part != 1 || op.Doc != oplog.GuessDoc(s.id, member) {
			continue
		}
		if s.closed != 0 || member == s.keeper || s.holders[member] {
			continue
		}
		before, had := s.scoring[member]
		if !had || oplog.Newer(op.Time, op.Device, before.Time, before.Device) {
			s.scoring[member] = club.Revision{Pos: e.Order.Pos, Time: op.Time, Device: op.Device}
		}
	}
}

// checkScoring compares with what package club says.
func (w *World) checkScoring(b *watched) {
	for _, s := range b.reckon.samples {
		info, _ := b.state.Sample(s.id)
		if info.ClosedPos != s.closed {
			w.fail("promise 4: sample %.4s closed at %d, the rules say %d", s.id, s.closed, info.ClosedPos)
		}
		found := 0
		for _, g := range b.state.Guesses(s.id) {
			want, scores := s.scoring[g.Member]
			if w.mutant == LateScores && g.Late != nil {
				g.Scoring = g.Late
			}
			if scores != (g.Scoring != nil) || scores && g.Scoring.Pos != want.Pos {
				w.fail("promise 4: of %.4s on %.4s scores %+v, the rules say %+v", g.Member, s.id, want, g.Scoring)
			}
			if scores {
				found++
			}
		}
		if found != len(s.scoring) {
			w.fail("promise 4: %d guesses score on %.4s, the rules know %d", len(s.scoring), s.id, found)
		}
	}
}
