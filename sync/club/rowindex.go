package club

import (
	"encoding/binary"
	"hash/maphash"
)

// rowIndex finds rows by what competes. A phone that looks for more than a few makes it at every start, for as many rows as it
// has documents, so it hashes bytes: a map of keys would take ten times as long. The hash is seeded, so that nobody can choose
// documents that collide; order and content of the rows do not depend on it.
type rowIndex struct {
	slots []uint32 // row + 1, 0 is free; a power of two of them, at most half full
	used  int
	seed  maphash.Seed
}

const leastSlots = 64

// keyedBytes are hashed: document and part. Rows of several members that share both stand one after the other.
const keyedBytes = 16 + 4

func (x *rowIndex) rebuild(p *rows) {
	size := leastSlots
	for size < 4*int(p.len()) {
		size *= 2
	}
	*x = rowIndex{slots: make([]uint32, size), seed: maphash.MakeSeed()}
	for i := range p.len() {
		x.place(p, i)
	}
}

// add takes a row in that was added last. Before the index was made there is nothing to do.
func (x *rowIndex) add(p *rows, i uint32) {
	switch {
	case x.slots == nil:
	case 2*(x.used+1) > len(x.slots):
		x.rebuild(p)
	default:
		x.place(p, i)
	}
}

func (x *rowIndex) place(p *rows, i uint32) {
	var key [keyedBytes]byte
	copy(key[:], p.packed[int(i)*rowLen:])
	binary.BigEndian.PutUint32(key[16:], p.part(i))
	at := x.home(key[:])
	for x.slots[at] != 0 {
		at = (at + 1) % uint64(len(x.slots))
	}
	x.slots[at] = i + 1
	x.used++
}

func (x *rowIndex) find(key *rowKey, is func(i uint32) bool) (row uint32, ok bool) {
	var packed [keyedBytes]byte
	copy(packed[:], key.doc[:])
	binary.BigEndian.PutUint32(packed[16:], key.part)
	for at := x.home(packed[:]); x.slots[at] != 0; at = (at + 1) % uint64(len(x.slots)) {
		if i := x.slots[at] - 1; is(i) {
			return i, true
		}
	}
	return 0, false
}

func (x *rowIndex) home(key []byte) uint64 { return maphash.Bytes(x.seed, key) % uint64(len(x.slots)) }
