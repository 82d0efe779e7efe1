package club

import (
	"math"

	"hushcup/sync/oplog"
)

// Bounds of flights.
const (
	MaxFlights       = 1000 // of a club, ever
	MaxFlightSamples = 64   // of one
)

// FlightInfo is a flight of a club.
type FlightInfo struct {
	_         struct{} `cbor:",toarray"`
	ID        oplog.FlightID
	Pos       uint64
	Closes    int64 // server time in milliseconds, 0 for none
	Pins      Pins
	ClosedPos uint64 // the first position at or past Closes, 0 before
}

type flight struct {
	FlightInfo
	samples []*sample
}

// Flights are all flights, in order.
func (s *State) Flights() []FlightInfo {
	list := make([]FlightInfo, len(s.flights))
	for i, f := range s.flights {
		list[i] = f.FlightInfo
	}
	return list
}

// Flight finds a flight.
func (s *State) Flight(id oplog.FlightID) (FlightInfo, bool) {
	if f := s.byFlight[id]; f != nil {
		return f.FlightInfo, true
	}
	return FlightInfo{}, false
}

// openFlight opens a flight. Its id names its shared document, so it must not be the book's.
func (s *State) openFlight(t *turn) rule {
	var body FlightBody
	switch {
	case !decode(t.op.Body, &body) || oplog.FlightDoc(body.ID) == oplog.BookDoc:
		return malformed
	case !t.organiser():
		return notOrganiser
	case s.byFlight[body.ID] != nil:
		return flightKnown
	case !mayClose(body.Closes, t.at):
		return closingPassed
	case len(s.flights) >= MaxFlights:
		return tooMany
	}
	f := &flight{FlightInfo: FlightInfo{ID: body.ID, Pos: t.pos, Closes: body.Closes, Pins: body.Pins}}
	s.flights = append(s.flights, f)
	put(s, s.byFlight, body.ID, f)
	s.setNextClose()
	return fine
}

// mayClose says whether a closing time lies ahead, or is none.
func mayClose(closes, at int64) bool { return closes == 0 || closes > at }

// moveClosing moves a flight's closing time.
func (s *State) moveClosing(t *turn) rule {
	var body ClosingBody
	if !decode(t.op.Body, &body) {
		return malformed
	}
	f := s.byFlight[body.Flight]
	switch {
	case !t.organiser():
		return notOrganiser
	case f == nil:
		return noSuchFlight
	case f.ClosedPos != 0:
		return flightClosed
	case !mayClose(body.Closes, t.at):
		return closingPassed
	}
	keep(s, f)
	f.Closes = body.Closes
	s.setNextClose()
	return fine
}

// closeByTime closes, at this entry, each flight whose time has come. It is called for every entry, void ones too, before
// the entry is judged; nextClose makes it cost nothing nearly always.
func (s *State) closeByTime(order oplog.Order) {
	if order.At < s.nextClose {
		return
	}
	for _, f := range s.flights {
		if f.ClosedPos != 0 || f.Closes == 0 || order.At < f.Closes {
			continue
		}
		keep(s, f)
		f.ClosedPos = order.Pos
		for _, sample := range f.samples {
			if sample.ClosedPos == 0 {
				s.closeSample(sample, order.Pos, ClosedByTime)
			}
		}
	}
	s.setNextClose()
}

// setNextClose finds the earliest closing time still ahead.
func (s *State) setNextClose() {
	s.nextClose = math.MaxInt64
	for _, f := range s.flights {
		if f.ClosedPos == 0 && f.Closes != 0 {
			s.nextClose = min(s.nextClose, f.Closes)
		}
	}
}
