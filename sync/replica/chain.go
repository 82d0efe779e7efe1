package replica

import (
	"errors"
	"math"

	"hushcup/sync/oplog"
	"hushcup/sync/spell"
)

// segment is how many positions stand in one stored record of a chain.
const segment = 1024

const link = 32 + 1 // chain value, place in its run

// chain keeps the verified chain value of every position, and where each run begins: 33 bytes an entry. With it any `seen`
// can be checked, and a server that lost its tail can be told exactly what it lacks.
type chain struct {
	links []byte
	saved uint64 // positions that stand in stored segments
}

func (c *chain) len() uint64 { return uint64(len(c.links) / link) }

func (c *chain) add(value oplog.Hash, place int) {
	c.links = append(c.links, value[:]...)
	c.links = append(c.links, byte(place))
}

// at is the chain value at a position; position 0 has the zero value.
func (c *chain) at(pos uint64) (oplog.Hash, bool) {
	if pos == 0 {
		return oplog.Hash{}, true
	}
	if pos > c.len() {
		return oplog.Hash{}, false
	}
	return oplog.Hash(c.links[(pos-1)*link:][:32]), true
}

// first is where the run that holds a position begins.
func (c *chain) first(pos uint64) uint64 { return pos - uint64(c.links[(pos-1)*link+32]) }

func (c *chain) segment(n uint64) []byte {
	return append([]byte{}, c.links[n*segment*link:min((n+1)*segment*link, uint64(len(c.links)))]...)
}

// load joins stored segments up to a position, where they must have its chain value.
func (c *chain) load(segments map[uint64][]byte, order oplog.Order) error {
	c.links = make([]byte, 0, (len(segments)+1)*segment*link)
	for n := uint64(0); n*segment < order.Pos; n++ {
		want := min(segment, order.Pos-n*segment) * link
		if uint64(len(segments[n])) < want {
			return errors.New(spell.Text("segment %d of the chain holds %d bytes, not %d", n, len(segments[n]), want))
		}
		c.links = append(c.links, segments[n][:want]...)
	}
	c.saved = order.Pos
	if value, _ := c.at(order.Pos); value != order.Chain {
		return errors.New(spell.Text("the stored chain does not lead to position %d", order.Pos))
	}
	for pos := uint64(1); pos <= min(c.len(), math.MaxUint8); pos++ { // no place is greater
		if uint64(c.links[(pos-1)*link+32]) >= pos {
			return errors.New(spell.Text("the run of position %d begins before the book", pos))
		}
	}
	return nil
}
