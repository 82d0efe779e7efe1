package handmade

import (
	"fmt"

	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
	"hushcup/sync/wire"
)

// Stolen is what stands on a phone's disk: enough to write in its name what the
// app on it would never write.
type Stolen struct {
	Device       Device
	notebookKeys []seal.Key
}

// Steal reads a phone's identity and its notebook's keys out of what it stored.
func Steal(stored map[string][]byte) (Stolen, error) {
	var phone struct {
		_        struct{} `cbor:",toarray"`
		Sign     [32]byte
		Box      [32]byte
		Notebook oplog.BookID
		Host     string
		Device   oplog.DeviceID
	}
	if err := codec.Unmarshal(stored["own/phone"], &phone); err != nil {
		return Stolen{}, fmt.Errorf("the phone's identity: %w", err)
	}
	s := Stolen{Device: Device{seal.Identity{SignSeed: phone.Sign, BoxSeed: phone.Box}, phone.Device}}
	if err := codec.Unmarshal(stored["log/"+phone.Notebook.String()+"/keys"], &s.notebookKeys); err != nil {
		return Stolen{}, fmt.Errorf("the notebook's keys: %w", err)
	}
	return s, nil
}

// Private is the private half of a sample that the phone keeps.
func (s Stolen) Private(book oplog.BookID, sample oplog.SampleID, public [32]byte) ([32]byte, error) {
	for _, key := range s.notebookKeys {
		if pair := seal.SampleFor(key, book, sample); pair.Public == public {
			return pair.Private, nil
		}
	}
	return [32]byte{}, fmt.Errorf("the phone does not keep sample %v", sample)
}

// Book reads a book from its beginning over a connection of the stolen
// device, and gives it as that device would go on writing in it, with all that
// was ordered.
func (s Stolen) Book(conn *Conn, id oplog.BookID) (*Book, []oplog.Op, error) {
	b := &Book{Device: s.Device, ID: id}
	if err := conn.Send(&wire.Subscribe{Book: id}); err != nil {
		return nil, nil, err
	}
	var ops []oplog.Op
	for {
		frame, err := conn.Read()
		if err != nil {
			return nil, nil, err
		}
		entries, ok := frame.(*wire.Entries)
		if !ok {
			return nil, nil, fmt.Errorf("the server answers a subscription with a %T: %+v", frame, frame)
		}
		for i := range entries.Runs {
			run, err := entries.Runs[i].Run.Unpack()
			if err != nil {
				return nil, nil, err
			}
			ops = append(ops, run.Ops...)
		}
		if uint64(len(ops)) >= entries.Head {
			break
		}
	}
	for i := range ops {
		if ops[i].Device == s.Device.ID {
			b.head, b.clock = oplog.Head{Seq: ops[i].Seq, Hash: ops[i].Hash()}, ops[i].Time
		}
	}
	return b, ops, nil
}
