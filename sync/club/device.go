package club

import (
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// DeviceInfo is a device of a member and the positions between which it belongs to the book.
type DeviceInfo struct {
	_          struct{}           `cbor:",toarray"`
	Enrolment  `cbor:"enrolment"` // named, so that it is encoded as one element
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

// devicesOf checks the devices with which somebody comes in: new ones, with good keys, the author among them.
func (s *State) devicesOf(op *oplog.Op, devices []Enrolment) rule {
	author := false
	if len(devices) > MaxMemberDevices {
		return memberDevices
	}
	for i := range devices {
		if devices[i].Public().Check() != nil {
			return badKey
		}
		if s.seats[devices[i].Sign] != nil {
			return deviceKnown
		}
		author = author || devices[i].Sign == op.Device && !devices[i].Recovery
	}
	if !author || !distinct(signsOf(devices)) {
		return malformed
	}
	return fine
}

// roomFor says whether a member (nil for a new one) and the book can take more devices.
func (s *State) roomFor(m *Member, more int) rule {
	if m != nil && m.devicesIn()+more > MaxMemberDevices {
		return memberDevices
	}
	if len(s.Enrolled())+more > MaxBookDevices {
		return bookDevices
	}
	return fine
}

func (m *Member) devicesIn() (count int) {
	for i := range m.Devices {
		if m.Devices[i].In() {
			count++
		}
	}
	return count
}

// bringDevice enrols a further device of the author's member.
func (s *State) bringDevice(t *turn) rule {
	var body DeviceBody
	if !decode(t.op.Body, &body) {
		return malformed
	}
	switch {
	case body.Device.Public().Check() != nil:
		return badKey
	case s.seats[body.Device.Sign] != nil:
		return deviceKnown
	}
	if r := s.roomFor(t.member, 1); r != fine {
		return r
	}
	if !seal.Verify(body.Device.Sign, DeviceMessage(s.book, t.member.ID, body.Device), body.Proof) {
		return badProof
	}
	if r := s.grants(body.EpochID, body.Wraps, []oplog.DeviceID{body.Device.Sign}); r != fine {
		return r
	}
	s.enrol(t, t.member, []Enrolment{body.Device})
	s.addWraps(body.Wraps)
	return fine
}

// enrol gives devices a seat each. The author's own chain begins with this op if it is one of them.
func (s *State) enrol(t *turn, m *Member, devices []Enrolment) {
	keep(s, m)
	for _, d := range devices {
		place := &seat{member: m, index: len(m.Devices)}
		if d.Sign == t.op.Device {
			place.head = oplog.Head{Seq: t.op.Seq, Hash: t.op.Hash()}
		}
		m.Devices = append(m.Devices, DeviceInfo{Enrolment: d, FromPos: t.pos})
		put(s, s.seats, d.Sign, place)
	}
}

func (s *State) takeOutDevice(t *turn, place *seat) {
	info := place.info()
	keep(s, info)
	info.RemovedPos = t.pos
}

func signsOf(devices []Enrolment) []oplog.DeviceID {
	ids := make([]oplog.DeviceID, len(devices))
	for i := range devices {
		ids[i] = devices[i].Sign
	}
	return ids
}
