package oplog

// Time is a hybrid logical clock: 48 bits of milliseconds since 1970 and a 16-bit counter. It says only which of two
// revisions of a part is newer; nothing that depends on *when* is decided by it.
type Time uint64

const (
	maxMillis  = 1<<48 - 1
	counterLen = 16
)

// TimeAt is the first Time of a millisecond; what lies outside 48 bits is held at the ends.
func TimeAt(millis int64) Time {
	return Time(uint64(min(max(millis, 0), maxMillis)) << counterLen)
}

// Millis is the wall-clock part.
func (t Time) Millis() int64 { return int64(t >> counterLen) }

// Next is the time of a new op written at a wall clock of now, after everything up to t. A counter that overflows carries
// into the milliseconds; at the end of time it stays there, and the op is refused as ahead of time.
func (t Time) Next(now int64) Time {
	if wall := TimeAt(now); wall > t {
		return wall
	}
	if t == ^Time(0) {
		return t
	}
	return t + 1
}

// Newer says whether revision a of a part replaces revision b: later by (time, device).
func Newer(aTime Time, aDevice DeviceID, bTime Time, bDevice DeviceID) bool {
	if aTime != bTime {
		return aTime > bTime
	}
	return string(aDevice[:]) > string(bDevice[:])
}
