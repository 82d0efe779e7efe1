package club

import (
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// DeviceInfo is a device of a member and the positions between which it belongs to the book.
type DeviceInfo struct {
	Enrolment
	FromPos    uint64
	RemovedPos uint64 // 0 while the device is in
}

// In says whether the device is enrolled now.
func (d *DeviceInfo) In() bool { return d.RemovedPos == 0 }

// Public is the device's pair of public keys.
func (e *Enrolment) Public() seal.Public { return seal.Public{Sign: e.Sign, Box: e.Box} }

// JoinMessage is what an invitation's key signs to let a member with these devices in.
func JoinMessage(book oplog.BookID, member oplog.MemberID, devices []Enrolment) []byte {
	sum := seal.Sum("hushcup/1 join", book[:], member[:], codec.MustMarshal(devices))
	return sum[:]
}

// DeviceMessage is what a new device signs to be enrolled with a member.
func DeviceMessage(book oplog.BookID, member oplog.MemberID, device Enrolment) []byte {
	sum := seal.Sum("hushcup/1 device", book[:], member[:], codec.MustMarshal(device))
	return sum[:]
}

// seat is where a device stands: whose it is, and how far its chain in this book goes. It outlives the device's removal.
type seat struct {
	member *Member
	index  int // in member.Devices
	head   oplog.Head
}

func (t *seat) info() *DeviceInfo { return &t.member.Devices[t.index] }

// Head is where a device's chain stands in this book.
func (s *State) Head(device oplog.DeviceID) oplog.Head {
	if seat := s.seats[device]; seat != nil {
		return seat.head
	}
	return oplog.Head{}
}

// Enrolled lists the devices that are in the book now, recovery devices included, by member and then by enrolment.
func (s *State) Enrolled() []oplog.DeviceID {
	var in []oplog.DeviceID
	for _, m := range s.members {
		for i := range m.Devices {
			if m.Devices[i].In() {
				in = append(in, m.Devices[i].Sign)
			}
		}
	}
	return in
}
