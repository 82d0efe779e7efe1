package club

import (
	"encoding/binary"

	"hushcup/sync/oplog"
)

// The snapshot of Docs is a version byte and then eight tables, each a 4-byte big-endian count and records of fixed width:
// members (16), devices (32), epochs (32), envelopes (key id 32, sample 16), kinds (kind.append), rows (rows.pack), held bodies
// (sample 16, member 16, position 8), lost positions (8).
//
// In version 1, which is read but not written, there were no kinds: each row was document (16), the fields of its kind (21),
// position (8) and time (8).

const (
	docsVersion = 2
	oldVersion  = 1
	oldRowLen   = 16 + kindLen + 8 + 8
)

// Encode gives the snapshot: equal ones give equal bytes.
func (d *Docs) Encode() []byte {
	b := make([]byte, 0, 1+8*4+len(d.rows.packed)+64*(len(d.devices.list)+len(d.envelopes.list)))
	b = append(b, docsVersion)
	b = appendTable(b, d.members.list, func(b []byte, m *oplog.MemberID) []byte { return append(b, m[:]...) })
	b = appendTable(b, d.devices.list, func(b []byte, id *oplog.DeviceID) []byte { return append(b, id[:]...) })
	b = appendTable(b, d.epochs.list, func(b []byte, k *oplog.KeyID) []byte { return append(b, k[:]...) })
	b = appendTable(b, d.envelopes.list, func(b []byte, e *envelope) []byte {
		return append(append(b, e.id[:]...), e.sample[:]...)
	})
	b = appendTable(b, d.rows.kinds.list, func(b []byte, k *kind) []byte { return k.append(b) })
	b = binary.BigEndian.AppendUint32(b, d.rows.len())
	b = append(b, d.rows.packed...)
	b = appendTable(b, d.held, func(b []byte, h *heldBody) []byte {
		return binary.BigEndian.AppendUint64(append(append(b, h.sample[:]...), h.member[:]...), h.pos)
	})
	return appendTable(b, d.lost, func(b []byte, pos *uint64) []byte { return binary.BigEndian.AppendUint64(b, *pos) })
}

func appendTable[T any](b []byte, records []T, one func([]byte, *T) []byte) []byte {
	b = binary.BigEndian.AppendUint32(b, uint32(len(records)))
	for i := range records {
		b = one(b, &records[i])
	}
	return b
}

// DecodeDocs reads a snapshot. What does not hang together is ErrSnapshot.
func DecodeDocs(b []byte) (*Docs, error) {
	if len(b) == 0 || b[0] != docsVersion && b[0] != oldVersion {
		return nil, unreadable("its records do not hang together")
	}
	d, in := NewDocs(), &tables{rest: b[1:]}
	d.members.list = readTable(in, 16, func(b []byte) oplog.MemberID { return oplog.MemberID(b) })
	d.devices.list = readTable(in, 32, func(b []byte) oplog.DeviceID { return oplog.DeviceID(b) })
	d.epochs.list = readTable(in, 32, func(b []byte) oplog.KeyID { return oplog.KeyID(b) })
	d.envelopes.list = readTable(in, 48, func(b []byte) envelope {
		return envelope{oplog.KeyID(b[:32]), oplog.SampleID(b[32:])}
	})
	if b[0] == oldVersion {
		for _, r := range readTable(in, oldRowLen, oldRow) {
			in.short = in.short || r.pos > mostPos
			d.rows.add(&r)
		}
	} else {
		d.rows.kinds.list = readTable(in, kindLen, readKind)
		packed := in.next(rowLen)
		d.rows.packed = append(make([]byte, 0, len(packed)+rowsToCome*rowLen), packed...)
	}
	d.held = readTable(in, 40, func(b []byte) heldBody {
		return heldBody{oplog.SampleID(b[:16]), oplog.MemberID(b[16:32]), binary.BigEndian.Uint64(b[32:])}
	})
	d.lost = readTable(in, 8, binary.BigEndian.Uint64)
	if in.short || len(in.rest) > 0 || !d.consistent() {
		return nil, unreadable("its records do not hang together")
	}
	return d, nil
}

// rowsToCome is room for what is folded after a snapshot, so that thousands of rows need not be moved for it.
const rowsToCome = 1024

func oldRow(b []byte) row {
	k := readKind(b[16:])
	return row{
		doc: oplog.DocID(b[:16]), part: k.part, member: k.member, device: k.device, epoch: k.epoch, envelope: k.envelope, flags: k.flags,
		pos: binary.BigEndian.Uint64(b[16+kindLen:]), time: oplog.Time(binary.BigEndian.Uint64(b[24+kindLen:])),
	}
}

// consistent checks that every index points into its table.
func (d *Docs) consistent() bool {
	for i := range d.rows.kinds.list {
		k := &d.rows.kinds.list[i]
		if int(k.member) >= len(d.members.list) || int(k.device) >= len(d.devices.list) ||
			int(k.epoch) >= len(d.epochs.list) || int(k.envelope) > len(d.envelopes.list) || k.flags&^rowFlags != 0 {
			return false
		}
	}
	for i := range d.rows.len() {
		if int(d.rows.kind(i)) >= len(d.rows.kinds.list) {
			return false
		}
	}
	return distinct(d.rows.kinds.list) && distinct(d.members.list) && distinct(d.devices.list) && distinct(d.epochs.list) && distinct(d.envelopes.list)
}

// tables reads counted records off the front.
type tables struct {
	rest  []byte
	short bool
}

// next takes the bytes of one table.
func (t *tables) next(width int) []byte {
	if len(t.rest) < 4 {
		t.short = true
		return nil
	}
	size := uint64(binary.BigEndian.Uint32(t.rest)) * uint64(width)
	t.rest = t.rest[4:]
	if size > uint64(len(t.rest)) {
		t.short = true
		return nil
	}
	table := t.rest[:size]
	t.rest = t.rest[size:]
	return table
}

func readTable[T any](in *tables, width int, one func([]byte) T) []T {
	packed := in.next(width)
	list := make([]T, 0, len(packed)/width)
	for ; len(packed) > 0; packed = packed[width:] {
		list = append(list, one(packed[:width]))
	}
	return list
}
