package club

import "hushcup/sync/oplog"

// create begins the book.
func (s *State) create(t *turn) rule {
	var body CreateBody
	switch {
	case !decode(t.op.Body, &body):
		return malformed
	case body.Rules == 0 || body.Kind != Notebook && body.Kind != Club:
		return malformed
	case body.Member == oplog.MemberID{}:
		return malformed
	}
	if r := s.devicesOf(t.op, body.Devices); r != fine {
		return r
	}
	if body.Epoch.Before != nil {
		return malformed
	}
	if !wrapsFor(body.Epoch.Wraps, signsOf(body.Devices)) {
		return wrongDevices
	}
	s.book, s.kind, s.rules = t.op.BookOf(), body.Kind, body.Rules
	s.addMember(t, body.Member, Organiser)
	s.enrol(t, s.byMember[body.Member], body.Devices)
	s.addEpoch(t, &body.Epoch)
	return fine
}
