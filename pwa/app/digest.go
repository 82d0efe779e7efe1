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
	Recent  []byte                  `cbor:"4,keyasint"` // packed
	Going   []byte                  `cbor:"5,keyasint"` // packed: running, or done a short while ago
	Last    setupContent            `cbor:"6,keyasint"` // of the newest brew
	LastAt  int64                   `cbor:"7,keyasint"`
	Count   int                     `cbor:"8,keyasint"` // of brews; 0 where an older version wrote it
}

// entry is one brew in the index.
type entry struct {
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

func bucketKeys(bucket int64) string { return brewKeys + padded(bucket, bucketDigits) + "/" }

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

// tidy bounds the lists that are handed over at the start.
func (x *index) tidy(now int64) {
	x.recent = x.recent[:min(len(x.recent), mostRecent)]
	x.going = x.going.keep(func(l *line) bool { return l.made.Ended == 0 || now-l.made.Ended <= coolingTime })
}
