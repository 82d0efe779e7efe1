package club

import (
	"encoding/binary"
	"slices"

	"hushcup/sync/oplog"
)

// row is one winner with everything long replaced by an index into the tables of Docs.
type row struct {
	doc      oplog.DocID
	part     uint32
	member   uint32
	device   uint32
	epoch    uint32
	envelope uint32 // 0 for none, else index + 1
	flags    uint8
	pos      uint64
	time     oplog.Time
}

const (
	rowShared  = 1
	rowErased  = 2
	rowMissing = 4
	rowFlags   = rowShared | rowErased | rowMissing
)

const rowLen = 16 + 5*4 + 1 + 8 + 8

// rows are packed one after the other in big-endian fields of fixed width: kept, encoded and decoded as the same bytes.
type rows []byte

func (p rows) len() uint32 { return uint32(len(p) / rowLen) }

func (p rows) get(i uint32) row {
	b := p[int(i)*rowLen:][:rowLen]
	return row{
		doc: oplog.DocID(b[:16]), part: binary.BigEndian.Uint32(b[16:]), member: binary.BigEndian.Uint32(b[20:]),
		device: binary.BigEndian.Uint32(b[24:]), epoch: binary.BigEndian.Uint32(b[28:]),
		envelope: binary.BigEndian.Uint32(b[32:]), flags: b[36],
		pos: binary.BigEndian.Uint64(b[37:]), time: oplog.Time(binary.BigEndian.Uint64(b[45:])),
	}
}

// Of thousands of rows a start looks at few fields each, so it takes them out where they lie.

func (p rows) part(i uint32) uint32 {
	b := p[int(i)*rowLen+16:][:4]
	return uint32(b[0])<<24 | uint32(b[1])<<16 | uint32(b[2])<<8 | uint32(b[3])
}

func (p rows) flags(i uint32) uint8 { return p[int(i)*rowLen+36] }

// indexes are the bytes from member to flags.
func (p rows) indexes(i uint32) []byte { return p[int(i)*rowLen:][20:37] }

// scan finds the first row of a key, one after the other.
func (p rows) scan(doc *oplog.DocID, is func(i uint32) bool) (row uint32, ok bool) {
	for i, at := uint32(0), 0; at < len(p); i, at = i+1, at+rowLen {
		if p[at] == doc[0] && p[at+1] == doc[1] && p[at+2] == doc[2] && is(i) {
			return i, true
		}
	}
	return 0, false
}

func (p rows) set(i uint32, r *row) { r.append(p[:int(i)*rowLen]) }

func (p *rows) add(r *row) (index uint32) {
	*p = r.append(*p)
	return p.len() - 1
}

func (r *row) append(b []byte) []byte {
	b = append(b, r.doc[:]...)
	for _, field := range [...]uint32{r.part, r.member, r.device, r.epoch, r.envelope} {
		b = binary.BigEndian.AppendUint32(b, field)
	}
	b = append(b, r.flags)
	b = binary.BigEndian.AppendUint64(b, r.pos)
	return binary.BigEndian.AppendUint64(b, uint64(r.time))
}

// names give long values short numbers, in the order in which they first appear.
type names[T comparable] struct {
	list  []T
	index map[T]uint32
}

func (n *names[T]) find(value T) (uint32, bool) {
	if n.index == nil {
		n.index = make(map[T]uint32, len(n.list))
		for i, v := range n.list {
			n.index[v] = uint32(i)
		}
	}
	i, ok := n.index[value]
	return i, ok
}

func (n *names[T]) of(value T) uint32 {
	if i, ok := n.find(value); ok {
		return i
	}
	i := uint32(len(n.list))
	n.list = append(n.list, value)
	n.index[value] = i
	return i
}

func (n *names[T]) clone() names[T] { return names[T]{list: slices.Clone(n.list)} }
