package replica

import (
	"hushcup/sync/oplog"
)

// reads are the cold records that were asked for.
type reads struct {
	last    uint64
	keys    []string // to be asked for at the end of this Step
	asked   map[string]place
	offers  map[uint64]*book // reads for what a server lacks
	chains  map[uint64]oplog.BookID
	pending map[uint64][]string
}

type place struct {
	book oplog.BookID
	pos  uint64
	key  DocKey
}

func newReads() reads {
	return reads{asked: map[string]place{}, offers: map[uint64]*book{}, chains: map[uint64]oplog.BookID{}, pending: map[uint64][]string{}}
}

// cache holds opened bodies: two generations of a bounded size, of which the older one is forgotten as a whole.
type cache struct {
	young, old map[place]cached
	size       int
}

type cached struct {
	raw  []byte
	body []byte
	gone bool
}

const cacheSize = 4 << 20

func newCache() cache { return cache{young: map[place]cached{}, old: map[place]cached{}} }

func (c *cache) get(book oplog.BookID, pos uint64) (cached, bool) {
	at := place{book: book, pos: pos}
	if v, ok := c.young[at]; ok {
		return v, true
	}
	v, ok := c.old[at]
	if ok {
		c.put(book, pos, v)
	}
	return v, ok
}

func (c *cache) put(book oplog.BookID, pos uint64, v cached) {
	if c.size > cacheSize {
		c.old, c.young, c.size = c.young, map[place]cached{}, 0
	}
	c.young[place{book: book, pos: pos}] = v
	c.size += len(v.raw) + len(v.body) + 64
}

func (c *cache) forget(book oplog.BookID, pos uint64) {
	delete(c.young, place{book: book, pos: pos})
	delete(c.old, place{book: book, pos: pos})
}

// unwritten finds a body whose write is not durable yet.
func (r *Replica) unwritten(key string) (cached, bool) {
	value := r.disk.peek(key)
	if value == nil {
		return cached{}, false
	}
	body, err := decodeRecord[coldBody](value)
	return cached{raw: body.Raw, body: body.Body}, err == nil
}

// ask collects what is to be read; it is asked for once, at the end of the Step.
func (r *Replica) ask(book oplog.BookID, pos uint64, doc DocKey) {
	key := coldBodyKey(book, pos)
	if _, asked := r.reads.asked[key]; asked {
		return
	}
	r.reads.asked[key] = place{book, pos, doc}
	r.reads.keys = append(r.reads.keys, key)
}

func (r *Replica) flushReads() {
	if len(r.reads.keys) == 0 {
		return
	}
	keys := r.reads.keys
	r.reads.keys = nil
	r.read(keys)
}

func (r *Replica) read(keys []string) uint64 {
	r.reads.last++
	r.reads.pending[r.reads.last] = keys
	r.do(Read{ID: r.reads.last, Keys: keys})
	return r.reads.last
}

// got takes what was read.
func (r *Replica) got(id uint64, records []Record) {
	keys, ok := r.reads.pending[id]
	if !ok {
		return
	}
	delete(r.reads.pending, id)
	found := make(map[string][]byte, len(records))
	for _, record := range records {
		found[record.Key] = record.Value
	}
	if b, ok := r.reads.offers[id]; ok {
		delete(r.reads.offers, id)
		r.offerRead(b, found)
		return
	}
	if b, ok := r.reads.chains[id]; ok {
		delete(r.reads.chains, id)
		r.chainRead(b, keys, found)
		return
	}
	for _, key := range keys {
		at := r.reads.asked[key]
		delete(r.reads.asked, key)
		c := cached{gone: true}
		if body, err := decodeRecord[coldBody](found[key]); err == nil {
			c = cached{raw: body.Raw, body: body.Body}
		}
		r.cache.put(at.book, at.pos, c)
		r.changed(at.book, ChangedDocs, at.key)
	}
	r.bodiesCame()
}
