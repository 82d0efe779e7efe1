package club

import "hushcup/sync/oplog"

// MaxEpochs bounds how often a book changes its keys.
const MaxEpochs = 4096

// EpochInfo is one epoch of a book. A member who came later reaches earlier ones by Before, link by link.
type EpochInfo struct {
	_      struct{} `cbor:",toarray"`
	ID     oplog.KeyID
	Pos    uint64
	By     oplog.DeviceID
	Before *Sealed   // the previous epoch's key under this one, nil for the first
	Wraps  []Wrapped // for the devices in at Pos, and then for those that came while it was current
}

// Granted is an epoch key for one device: unwrap with seal.Info(seal.PurposeEpoch, book, Epoch, member, Epoch). In the wraps
// of `create` the book is zero, since no op can name its own hash; those that later ops add for the first epoch name it.
type Granted struct {
	Epoch oplog.KeyID
	Wrapped
}

// Epoch is the current epoch; the zero one before the first entry.
func (s *State) Epoch() EpochInfo {
	if len(s.epochs) == 0 {
		return EpochInfo{}
	}
	return *s.current()
}

// Epochs are all epochs, oldest first.
func (s *State) Epochs() []EpochInfo { return values(s.epochs) }

// GrantsFor lists the epochs that were handed to a device, oldest first.
func (s *State) GrantsFor(device oplog.DeviceID) []Granted {
	var granted []Granted
	for _, e := range s.epochs {
		for _, w := range e.Wraps {
			if w.Device == device {
				granted = append(granted, Granted{e.ID, w})
			}
		}
	}
	return granted
}

// EpochDue says that somebody left and an organiser is to make a new epoch.
func (s *State) EpochDue() bool { return s.epochDue }

func (s *State) current() *EpochInfo { return s.epochs[len(s.epochs)-1] }

// hasEpoch looks from the newest backwards, where it nearly always is.
func (s *State) hasEpoch(id oplog.KeyID) bool {
	for i := len(s.epochs) - 1; i >= 0; i-- {
		if s.epochs[i].ID == id {
			return true
		}
	}
	return false
}

// newEpoch replaces the epoch without removing anybody, as after somebody left.
func (s *State) newEpoch(t *turn) rule {
	var body EpochBody
	if !decode(t.op.Body, &body) {
		return malformed
	}
	if !t.organiser() {
		return notOrganiser
	}
	if r := s.followsEpoch(t, &body.Epoch, nil); r != fine {
		return r
	}
	s.addEpoch(t, &body.Epoch)
	return fine
}

// followsEpoch checks a grant that is to replace the current epoch: its author must have known the current one, since Before
// hands that one down, and must hand the new one to exactly the devices that are in and stay.
func (s *State) followsEpoch(t *turn, grant *Grant, leaving map[oplog.DeviceID]bool) rule {
	now := s.current()
	switch {
	case grant.Before == nil || !grant.Before.holdsKey() || grant.Before.Keys[0] != grant.ID:
		return malformed
	case s.hasEpoch(grant.ID):
		return epochKnown
	case len(s.epochs) >= MaxEpochs:
		return tooMany
	case t.op.SeenPos < now.Pos && now.By != t.op.Device:
		return staleEpoch
	}
	staying := s.Enrolled()
	kept := staying[:0]
	for _, id := range staying {
		if !leaving[id] {
			kept = append(kept, id)
		}
	}
	if !wrapsFor(grant.Wraps, kept) {
		return staleEpoch
	}
	return fine
}

// grants checks that somebody who comes in hands the current epoch to exactly these devices.
func (s *State) grants(epoch oplog.KeyID, wraps []Wrapped, devices []oplog.DeviceID) rule {
	switch {
	case epoch != s.current().ID:
		return staleEpoch
	case !wrapsFor(wraps, devices):
		return wrongDevices
	}
	return fine
}

// wrapsFor says whether there is one well-formed wrap for each of the devices, and no other.
func wrapsFor(wraps []Wrapped, devices []oplog.DeviceID) bool {
	missing := make(map[oplog.DeviceID]bool, len(devices))
	for _, id := range devices {
		missing[id] = true
	}
	for i := range wraps {
		if !missing[wraps[i].Device] || len(wraps[i].Box) != wrappedKeyLen {
			return false
		}
		delete(missing, wraps[i].Device)
	}
	return len(missing) == 0
}

// addEpoch makes a grant the current epoch. Open invitations end with the epoch that they hand out.
func (s *State) addEpoch(t *turn, grant *Grant) {
	s.epochs = append(s.epochs, &EpochInfo{
		ID: grant.ID, Pos: t.pos, By: t.op.Device, Before: grant.Before, Wraps: grant.Wraps,
	})
	s.endInvites()
	s.epochDue = false
}

// addWraps notes the current epoch's wraps for devices that came in.
func (s *State) addWraps(wraps []Wrapped) {
	now := s.current()
	keep(s, now)
	now.Wraps = append(now.Wraps, wraps...)
}

// values copies records out of the state.
func values[T any](records []*T) []T {
	list := make([]T, len(records))
	for i, r := range records {
		list[i] = *r
	}
	return list
}
