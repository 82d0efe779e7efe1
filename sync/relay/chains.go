package relay

import "hushcup/sync/oplog"

// chains keeps chain values that authors are likely to name as seen: the newest ones, and a few that were looked up.
type chains struct {
	first  uint64       // position of newest[0]
	newest []oplog.Hash // consecutive
	found  map[uint64]oplog.Hash
}

const (
	keepNewest = 128
	keepFound  = 128
)

func (c *chains) clear() { *c = chains{} }

// add keeps the next one.
func (c *chains) add(o oplog.Order) {
	if len(c.newest) == 0 || o.Pos != c.first+uint64(len(c.newest)) {
		c.first, c.newest = o.Pos, c.newest[:0]
	}
	if len(c.newest) == 2*keepNewest {
		c.newest = append(c.newest[:0], c.newest[keepNewest:]...)
		c.first += keepNewest
	}
	c.newest = append(c.newest, o.Chain)
}

// older keeps one that was looked up.
func (c *chains) older(pos uint64, chain oplog.Hash) {
	if c.found == nil || len(c.found) >= keepFound {
		c.found = map[uint64]oplog.Hash{}
	}
	c.found[pos] = chain
}

func (c *chains) get(pos uint64) (oplog.Hash, bool) {
	if pos >= c.first && pos-c.first < uint64(len(c.newest)) {
		return c.newest[pos-c.first], true
	}
	chain, ok := c.found[pos]
	return chain, ok
}
