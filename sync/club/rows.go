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

// kind is what thousands of rows have in common: all but their document, place and time.
type kind struct {
	part, member, device, epoch, envelope uint32
	flags                                 uint8
}

const (
	rowLen  = 16 + 3 + 5 + 8 // document, index of its kind, position, time
	kindLen = 5*4 + 1
	mostPos = 1<<40 - 1
)

// rows are packed one after the other in big-endian fields of fixed width: kept, encoded and decoded as the same bytes. Of
// thousands a start looks at few fields each, so these are taken out where they lie.
type rows struct {
	packed []byte
	kinds  names[kind]
}

func (p *rows) len() uint32 { return uint32(len(p.packed) / rowLen) }

func (p *rows) get(i uint32) row {
	b := p.packed[int(i)*rowLen:][:rowLen]
	k := &p.kinds.list[p.kind(i)]
	return row{
		doc: oplog.DocID(b[:16]), part: k.part, member: k.member, device: k.device, epoch: k.epoch, envelope: k.envelope, flags: k.flags,
		pos:  uint64(b[19])<<32 | uint64(binary.BigEndian.Uint32(b[20:])),
		time: oplog.Time(binary.BigEndian.Uint64(b[24:])),
	}
}

func (p *rows) kind(i uint32) uint32 {
	b := p.packed[int(i)*rowLen+16:][:3]
	return uint32(b[0])<<16 | uint32(b[1])<<8 | uint32(b[2])
}

func (p *rows) part(i uint32) uint32 { return p.kinds.list[p.kind(i)].part }
func (p *rows) flags(i uint32) uint8 { return p.kinds.list[p.kind(i)].flags }

// scan finds the first row of a document that is the right one, one after the other.
func (p *rows) scan(doc *oplog.DocID, is func(i uint32) bool) (row uint32, ok bool) {
	for i, at := uint32(0), 0; at < len(p.packed); i, at = i+1, at+rowLen {
		if p.packed[at] == doc[0] && p.packed[at+1] == doc[1] && p.packed[at+2] == doc[2] && is(i) {
			return i, true
		}
	}
	return 0, false
}

func (p *rows) set(i uint32, r *row) { p.pack(p.packed[:int(i)*rowLen], r) }

func (p *rows) add(r *row) (index uint32) {
	p.packed = p.pack(p.packed, r)
	return p.len() - 1
}

// pack appends a row. Three bytes of kinds and five of positions are more than any phone has room for.
func (p *rows) pack(b []byte, r *row) []byte {
	k := p.kinds.of(kind{r.part, r.member, r.device, r.epoch, r.envelope, r.flags})
	b = append(b, r.doc[:]...)
	b = append(b, byte(k>>16), byte(k>>8), byte(k), byte(r.pos>>32))
	b = binary.BigEndian.AppendUint32(b, uint32(r.pos))
	return binary.BigEndian.AppendUint64(b, uint64(r.time))
}

func (k *kind) append(b []byte) []byte {
	for _, field := range [...]uint32{k.part, k.member, k.device, k.epoch, k.envelope} {
		b = binary.BigEndian.AppendUint32(b, field)
	}
	return append(b, k.flags)
}

func readKind(b []byte) kind {
	field := func(i int) uint32 { return binary.BigEndian.Uint32(b[4*i:]) }
	return kind{field(0), field(1), field(2), field(3), field(4), b[20]}
}

func (p *rows) clone() rows { return rows{slices.Clone(p.packed), p.kinds.clone()} }

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
