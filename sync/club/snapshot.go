package club

import (
	"errors"
	"slices"

	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/spell"
)

// snapshot is the state as it is kept: every record in the order in which it came, so that equal states give equal bytes.
// Indexes are built anew.
type snapshot struct {
	_        struct{} `cbor:",toarray"`
	Version  uint16
	Order    oplog.Order
	Book     oplog.BookID
	Kind     BookKind
	Rules    uint16
	EpochDue bool
	Members  []Member
	Heads    []oplog.Head // of every device, by member and then by enrolment
	Epochs   []EpochInfo
	Invites  []InviteInfo
	Flights  []FlightInfo
	Samples  []sampleRecord
}

type sampleRecord struct {
	_       struct{} `cbor:",toarray"`
	Info    SampleInfo
	Wraps   []WrapInfo
	Guesses []GuessInfo
}

const snapshotVersion = 1

// Encode gives the state's snapshot: equal states give equal bytes.
func (s *State) Encode() []byte {
	record := snapshot{
		Version: snapshotVersion, Order: s.order, Book: s.book, Kind: s.kind, Rules: s.rules, EpochDue: s.epochDue,
		Members: values(s.members), Epochs: values(s.epochs), Invites: values(s.invites), Flights: s.Flights(),
		Samples: make([]sampleRecord, len(s.samples)),
	}
	for _, m := range s.members {
		for i := range m.Devices {
			record.Heads = append(record.Heads, s.seats[m.Devices[i].Sign].head)
		}
	}
	for i, known := range s.samples {
		record.Samples[i] = sampleRecord{Info: known.SampleInfo, Wraps: values(known.wraps), Guesses: values(known.guesses)}
	}
	return codec.MustMarshal(record)
}

// ErrSnapshot says that a snapshot cannot be read; the log is folded from its start instead.
var ErrSnapshot = errors.New("the snapshot cannot be read")

// snapshotError is ErrSnapshot with what is wrong.
type snapshotError string

func (e snapshotError) Error() string { return ErrSnapshot.Error() + ": " + string(e) }
func (e snapshotError) Unwrap() error { return ErrSnapshot }

func unreadable(format string, args ...any) error { return snapshotError(spell.Text(format, args...)) }

// Decode reads a snapshot. It takes the bytes of Encode only: what does not hang together is ErrSnapshot.
func Decode(b []byte) (*State, error) {
	var record snapshot
	if err := codec.Unmarshal(b, &record); err != nil {
		return nil, unreadable("%v", err)
	}
	if record.Version != snapshotVersion {
		return nil, unreadable("version %d", record.Version)
	}
	s := New()
	s.order, s.book, s.kind, s.rules, s.epochDue = record.Order, record.Book, record.Kind, record.Rules, record.EpochDue
	if !s.restoreMembers(&record) || !s.restoreKeys(&record) || !s.restoreFlights(&record) {
		return nil, unreadable("its records do not hang together")
	}
	s.setNextClose()
	return s, nil
}

func (s *State) restoreMembers(record *snapshot) bool {
	heads := record.Heads
	for i := range record.Members {
		m := &record.Members[i]
		if s.byMember[m.ID] != nil || len(heads) < len(m.Devices) {
			return false
		}
		s.members = append(s.members, m)
		s.byMember[m.ID] = m
		for d := range m.Devices {
			if s.seats[m.Devices[d].Sign] != nil {
				return false
			}
			s.seats[m.Devices[d].Sign] = &seat{member: m, index: d, head: heads[d]}
		}
		heads = heads[len(m.Devices):]
	}
	return len(heads) == 0 && (s.order.Pos == 0) == (len(s.members) == 0)
}

func (s *State) restoreKeys(record *snapshot) bool {
	for i := range record.Epochs {
		s.epochs = append(s.epochs, &record.Epochs[i])
	}
	for i := range record.Invites {
		invite := &record.Invites[i]
		if s.byInvite[invite.Body.Key] != nil {
			return false
		}
		s.invites = append(s.invites, invite)
		s.byInvite[invite.Body.Key] = invite
	}
	return (len(s.epochs) == 0) == (s.order.Pos == 0)
}

func (s *State) restoreFlights(record *snapshot) bool {
	for i := range record.Flights {
		f := &flight{FlightInfo: record.Flights[i]}
		if s.byFlight[f.ID] != nil {
			return false
		}
		s.flights = append(s.flights, f)
		s.byFlight[f.ID] = f
	}
	for i := range record.Samples {
		if !s.restoreSample(&record.Samples[i]) {
			return false
		}
	}
	return true
}

func (s *State) restoreSample(record *sampleRecord) bool {
	restored := &sample{SampleInfo: record.Info}
	f := s.byFlight[restored.Body.Flight]
	if f == nil || s.bySample[restored.Body.ID] != nil {
		return false
	}
	for i := range record.Wraps {
		w := &record.Wraps[i]
		key := envelopeKey{w.Member, w.Envelope}
		if w.Wrap.Sample != restored.Body.ID || s.byMember[w.Member] == nil || s.envelopes[key] != nil {
			return false
		}
		restored.wraps = append(restored.wraps, w)
		s.envelopes[key] = w
	}
	for i := range record.Guesses {
		restored.guesses = append(restored.guesses, &record.Guesses[i])
	}
	f.samples = append(f.samples, restored)
	s.samples = append(s.samples, restored)
	s.bySample[restored.Body.ID] = restored
	return true
}

// Clone is an independent copy. Op bodies and revisions are never written to, so both states may share them.
func (s *State) Clone() *State {
	c := New()
	c.core = s.core
	c.members, c.epochs, c.invites, c.flights, c.samples = nil, nil, nil, nil, nil
	for _, m := range s.members {
		c.cloneMember(m, s)
	}
	for _, e := range s.epochs {
		epoch := *e
		epoch.Wraps = slices.Clip(e.Wraps)
		c.epochs = append(c.epochs, &epoch)
	}
	for _, i := range s.invites {
		invite := *i
		c.invites = append(c.invites, &invite)
		c.byInvite[invite.Body.Key] = &invite
	}
	for _, f := range s.flights {
		flight := &flight{FlightInfo: f.FlightInfo}
		c.flights = append(c.flights, flight)
		c.byFlight[f.ID] = flight
	}
	for _, known := range s.samples {
		c.cloneSample(known)
	}
	return c
}

func (s *State) cloneMember(m *Member, from *State) {
	member := *m
	member.Devices = slices.Clone(m.Devices)
	s.members = append(s.members, &member)
	s.byMember[m.ID] = &member
	for i := range member.Devices {
		id := member.Devices[i].Sign
		s.seats[id] = &seat{member: &member, index: i, head: from.seats[id].head}
	}
}

func (s *State) cloneSample(known *sample) {
	copied := &sample{SampleInfo: known.SampleInfo}
	for _, w := range known.wraps {
		copied.wraps = append(copied.wraps, w)
		s.envelopes[envelopeKey{w.Member, w.Envelope}] = w
	}
	for _, g := range known.guesses {
		guess := *g
		copied.guesses = append(copied.guesses, &guess)
	}
	f := s.byFlight[known.Body.Flight]
	f.samples = append(f.samples, copied)
	s.samples = append(s.samples, copied)
	s.bySample[known.Body.ID] = copied
}
