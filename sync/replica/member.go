package replica

import (
	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
)

// RemoveMember takes a member out of a club.
func (r *Replica) RemoveMember(now int64, book oplog.BookID, member oplog.MemberID) (Ticket, error) {
	r.now = now
	b, err := r.organiser(book)
	if err != nil {
		return 0, err
	}
	body := club.RemoveBody{Member: &member}
	if body.Epoch, err = r.newGrant(b, leavingWith(r.stateAhead(b), &body)); err != nil {
		return 0, err
	}
	if err := r.propose(b, item{Kind: oplog.Remove, Body: codec.MustMarshal(&body)}); err != nil {
		return 0, err
	}
	return r.ticket(), nil
}

// RemoveDevice takes one of this person's own devices out of the notebook and of every club.
func (r *Replica) RemoveDevice(now int64, device oplog.DeviceID) (Ticket, error) {
	r.now = now
	if device == r.device {
		return 0, refuse("not-yourself", "the device in one's hand cannot be removed")
	}
	found := false
	for _, b := range r.order {
		if _, err := r.writable(b.id); err != nil {
			continue
		}
		if m, in := r.stateAhead(b).MemberOf(device); !in || m.ID != b.record.Member {
			continue
		}
		if err := r.removeDevices(b, []oplog.DeviceID{device}); err == nil {
			found = true
		}
	}
	if !found {
		return 0, refuse("no-such-device", "there is no such device of this person")
	}
	return r.ticket(), nil
}

func (r *Replica) removeDevices(b *book, devices []oplog.DeviceID) error {
	body := club.RemoveBody{Devices: devices}
	var err error
	if body.Epoch, err = r.newGrant(b, leavingWith(r.stateAhead(b), &body)); err != nil {
		return err
	}
	return r.propose(b, item{Kind: oplog.Remove, Body: codec.MustMarshal(&body)})
}
