package club

import "hushcup/sync/oplog"

// EpochInfo is one epoch of a book. A member who came later reaches earlier ones by Before, link by link.
type EpochInfo struct {
	ID     oplog.KeyID
	Pos    uint64
	By     oplog.DeviceID
	Before *Sealed   // the previous epoch's key under this one, nil for the first
	Wraps  []Wrapped // for the devices in at Pos, and then for those that came while it was current
}

// Granted is an epoch key for one device: unwrap with seal.Info(seal.PurposeEpoch, book, EpochID, member, EpochID).
type Granted struct {
	Epoch oplog.KeyID
	Wrapped
}

// Epoch is the current epoch.
func (s *State) Epoch() EpochInfo { panic("unwritten") }

// Epochs are all epochs, oldest first.
func (s *State) Epochs() []EpochInfo { panic("unwritten") }

// GrantsFor lists the epochs that were handed to a device, oldest first.
func (s *State) GrantsFor(device oplog.DeviceID) []Granted { panic("unwritten") }

// EpochDue says that somebody left and an organiser is to make a new epoch.
func (s *State) EpochDue() bool { return s.epochDue }
