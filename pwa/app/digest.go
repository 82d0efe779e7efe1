package app

import (
	"sort"
	"strconv"
	"strings"

	"hushcup/sync/oplog"
)

// benchRecord is what of the index is handed over at the start.
type benchRecord struct {
	Version uint8                   `cbor:"1,keyasint"`
	Upto    map[oplog.BookID]uint64 `cbor:"2,keyasint"`
	Buckets []int64                 `cbor:"3,keyasint"` // that have brews, newest first
	Recent  entries                 `cbor:"4,keyasint"`
	Going   entries                 `cbor:"5,keyasint"` // running, or done a short while ago
	Last    setupContent            `cbor:"6,keyasint"` // of the newest brew
	LastAt  int64                   `cbor:"7,keyasint"`
	Count   int                     `cbor:"8,keyasint"` // of brews; 0 where an older version wrote it
}

// entry is one brew in the index.
type entry struct {
	_       struct{} `cbor:",toarray"`
	Book    oplog.BookID
	Doc     oplog.DocID
	Created int64
	Ended   int64
	Digest  BrewDigest
	Facts   brewFacts
	Items   []oplog.DocID // of the Cupboard, that it used
}

func (e *entry) ref() brewRef { return brewRef{e.Book, e.Doc} }

func (e *entry) key() string { return brewKey(e.Created, e.Doc) }

func brewKey(created int64, doc oplog.DocID) string {
	return bucketKeys(bucketOf(created)) + padded(created, 16) + "-" + doc.String()
}

func bucketOf(created int64) int64 { return max(created, 0) / bucketLength }

func bucketKeys(bucket int64) string { return brewKeys + padded(bucket, 8) + "/" }

func padded(n int64, width int) string {
	text := strconv.FormatInt(max(n, 0), 10)
	return strings.Repeat("0", max(width-len(text), 0)) + text
}

func (b *benchRecord) addBucket(bucket int64) {
	for _, known := range b.Buckets {
		if known == bucket {
			return
		}
	}
	b.Buckets = append(b.Buckets, bucket)
	sort.Slice(b.Buckets, func(i, j int) bool { return b.Buckets[i] > b.Buckets[j] })
}

// entries are ordered by creation, newest first. A list is never changed in place, since views may hold it.
type entries []*entry

// with is the list with an entry in place of its older self.
func (list entries) with(e *entry) entries {
	out := make(entries, 0, len(list)+1)
	placed := false
	for _, other := range list {
		if other.ref() == e.ref() {
			continue
		}
		if !placed && e.key() > other.key() {
			out, placed = append(out, e), true
		}
		out = append(out, other)
	}
	if !placed {
		out = append(out, e)
	}
	return out
}

func (list entries) without(ref brewRef) entries {
	out := make(entries, 0, len(list))
	for _, e := range list {
		if e.ref() != ref {
			out = append(out, e)
		}
	}
	return out
}

// tidy bounds the lists that are handed over at the start.
func (b *benchRecord) tidy(now int64) {
	b.Recent = b.Recent[:min(len(b.Recent), mostRecent)]
	var going entries
	for _, e := range b.Going {
		if e.Ended == 0 || now-e.Ended <= coolingTime {
			going = append(going, e)
		}
	}
	b.Going = going
}
