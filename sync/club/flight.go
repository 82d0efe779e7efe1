package club

import "hushcup/sync/oplog"

// FlightInfo is a flight of a club.
type FlightInfo struct {
	ID        oplog.FlightID
	Pos       uint64
	Closes    int64 // server time in milliseconds, 0 for none
	Pins      Pins
	ClosedPos uint64 // the first position at or past Closes, 0 before
}

// Flights are all flights, in order.
func (s *State) Flights() []FlightInfo { panic("unwritten") }

// Flight finds a flight.
func (s *State) Flight(id oplog.FlightID) (FlightInfo, bool) { panic("unwritten") }
