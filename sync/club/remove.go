package club

import "hushcup/sync/oplog"

// remove takes out a member, or devices of the author's own, and brings the new epoch.
func (s *State) remove(t *turn) rule {
	var body RemoveBody
	if !decode(t.op.Body, &body) || (body.Member == nil) == (len(body.Devices) == 0) {
		return malformed
	}
	leaving, r := s.mayRemove(t, &body)
	if r != fine {
		return r
	}
	if r := s.followsEpoch(t, &body.Epoch, leaving); r != fine {
		return r
	}
	if body.Member != nil {
		m := s.byMember[*body.Member]
		s.takeOut(t, m)
		m.Removed = true
	}
	for _, id := range body.Devices {
		s.takeOutDevice(t, s.seats[id])
	}
	s.addEpoch(t, &body.Epoch)
	return fine
}

// mayRemove finds the devices that a removal takes out.
func (s *State) mayRemove(t *turn, body *RemoveBody) (leaving map[oplog.DeviceID]bool, r rule) {
	if body.Member == nil {
		return s.mayRemoveDevices(t, body.Devices)
	}
	m := s.byMember[*body.Member]
	switch {
	case s.kind == Notebook:
		return nil, clubOnly
	case t.device.Recovery:
		return nil, recoveryOnly
	case !t.organiser():
		return nil, notOrganiser
	case m == nil || !m.In():
		return nil, noSuchMember
	case m == t.member:
		return nil, notYourself
	}
	leaving = map[oplog.DeviceID]bool{}
	for i := range m.Devices {
		leaving[m.Devices[i].Sign] = true
	}
	return leaving, fine
}

// mayRemoveDevices checks that devices are the author's own, in, and not the one that writes. A recovery device may take
// out other recovery devices only.
func (s *State) mayRemoveDevices(t *turn, devices []oplog.DeviceID) (leaving map[oplog.DeviceID]bool, r rule) {
	leaving = map[oplog.DeviceID]bool{}
	for _, id := range devices {
		seat := s.seats[id]
		switch {
		case seat == nil || !seat.info().In():
			return nil, noSuchDevice
		case seat.member != t.member:
			return nil, notYours
		case id == t.op.Device:
			return nil, notYourself
		case t.device.Recovery && !seat.info().Recovery:
			return nil, recoveryOnly
		case leaving[id]:
			return nil, malformed
		}
		leaving[id] = true
	}
	return leaving, fine
}
