package replica

import (
	"math"

	"hushcup/sync/oplog"
)

// chainSegment is how many positions stand in one stored record of a chain.
const chainSegment = 1024

const link = 32 + 1 // chain value, place in its run

// chain keeps the verified chain value of every position, and where each run begins: 33 bytes an entry. With it any `seen`
// can be checked, and a server that lost its tail can be told exactly what it lacks. Both are needed only in a conversation
// with a server: so a start reads the newest segment alone, and the ones before it are read before the book is subscribed.
type chain struct {
	links []byte // of the positions after base
	base  uint64 // positions whose links are not read yet, in whole segments
	cold  uint64 // segments that stand where a start does not read them
	size  uint64 // positions in a segment
}

// len is the last position.
func (c *chain) len() uint64 { return c.base + uint64(len(c.links)/link) }

// whole says whether every position is known. Only then may a server be listened to.
func (c *chain) whole() bool { return c.base == 0 }

func (c *chain) add(value oplog.Hash, place int) {
	c.links = append(c.links, value[:]...)
	c.links = append(c.links, byte(place))
}

// at is the chain value at a position; position 0 has the zero value.
func (c *chain) at(pos uint64) (oplog.Hash, bool) {
	if pos == 0 {
		return oplog.Hash{}, true
	}
	if pos <= c.base || pos > c.len() {
		return oplog.Hash{}, false
	}
	return oplog.Hash(c.links[(pos-c.base-1)*link:][:32]), true
}

// first is where the run that holds a position begins.
func (c *chain) first(pos uint64) uint64 { return pos - uint64(c.links[(pos-c.base-1)*link+32]) }

// newest is the segment that the last position stands in.
func (c *chain) newest() uint64 { return (c.len() - 1) / c.size }

func (c *chain) segment(n uint64) []byte {
	from, upTo := n*c.size-c.base, min((n+1)*c.size, c.len())-c.base
	return append([]byte{}, c.links[from*link:upTo*link]...)
}

// saveChain writes what a snapshot needs of the chain, and moves the segments before the newest out of what a start reads.
func (r *Replica) saveChain(b *book) {
	c := &b.log.chain
	if c.len() == 0 {
		return
	}
	for ; c.cold < c.newest(); c.cold++ {
		r.disk.put(coldChainKey(b.id, c.cold), c.segment(c.cold))
		r.disk.del(chainKey(b.id, c.cold))
	}
	r.disk.put(chainKey(b.id, c.cold), c.segment(c.cold))
}

// load joins the segments that a start reads up to a position, where they must have its chain value. Earlier versions kept all
// segments there.
func (c *chain) load(segments map[uint64][]byte, order oplog.Order) error {
	if order.Pos == 0 {
		return nil
	}
	last := (order.Pos - 1) / c.size
	for c.cold = last; c.cold > 0 && segments[c.cold-1] != nil; c.cold-- {
	}
	c.base = c.cold * c.size
	c.links = make([]byte, 0, (last-c.cold+2)*c.size*link)
	for n := c.cold; n <= last; n++ {
		if !c.join(segments[n], min(c.size, order.Pos-n*c.size)) {
			return errDamaged
		}
	}
	if value, _ := c.at(order.Pos); value != order.Chain {
		return errDamaged
	}
	return c.checkFirst()
}

// fill puts the segments that a start did not read before the others.
func (c *chain) fill(segments [][]byte) error {
	newer := c.links
	c.links = make([]byte, 0, int(c.base)*link+cap(newer))
	for _, segment := range segments {
		if !c.join(segment, c.size) {
			return errDamaged
		}
	}
	c.links = append(c.links, newer...)
	c.base = 0
	return c.checkFirst()
}

// join says whether a segment holds so many positions.
func (c *chain) join(segment []byte, positions uint64) bool {
	if uint64(len(segment)) < positions*link {
		return false
	}
	c.links = append(c.links, segment[:positions*link]...)
	return true
}

// checkFirst makes sure that no run begins before the book.
func (c *chain) checkFirst() error {
	if !c.whole() {
		return nil
	}
	for pos := uint64(1); pos <= min(c.len(), math.MaxUint8); pos++ { // no place is greater
		if uint64(c.links[(pos-1)*link+32]) >= pos {
			return errDamaged
		}
	}
	return nil
}

// wantChain asks for the segments that the start left where they are.
func (r *Replica) wantChain(b *book) {
	for _, id := range r.reads.chains {
		if id == b.id {
			return
		}
	}
	c := &b.log.chain
	keys := make([]string, c.base/c.size)
	for n := range keys {
		keys[n] = coldChainKey(b.id, uint64(n))
	}
	r.reads.chains[r.read(keys)] = b.id
}

// chainRead makes a chain whole, and goes on with what waited for it. A log whose chain is damaged is fetched anew.
func (r *Replica) chainRead(id oplog.BookID, keys []string, found map[string][]byte) {
	b := r.books[id]
	if b == nil || b.log.chain.whole() {
		return
	}
	segments := make([][]byte, len(keys))
	for n, key := range keys {
		segments[n] = found[key]
	}
	if err := b.log.chain.fill(segments); err != nil {
		r.loseLog(b)
	}
	r.subscribe(b)
}

// loseLog forgets what was folded of a book, so that it is fetched anew.
func (r *Replica) loseLog(b *book) {
	for _, key := range r.logKeysOf(b) {
		if key != keysKey(b.id) {
			r.disk.del(key)
		}
	}
	keys := b.log.keys
	b.log = r.newLedger()
	b.log.keys = keys
	b.ahead, b.removed, b.code, b.text = nil, false, "", ""
	b.written, b.writing = 0, 0
	r.own = ownParts{}
	r.changed(b.id, ChangedSync|ChangedState|ChangedDocs|ChangedGuesses)
}
