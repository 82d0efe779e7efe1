package app

import (
	"encoding/binary"
	"sort"
	"strings"
)

// page is a bucket's brews, newest first. What was read from the disk stays as it lies there, and becomes an entry when somebody
// asks for it. A page is never changed but for that.
type page []*line

// line is a brew of a page.
type line struct {
	ref     brewRef
	created int64
	text    string // that words are looked for in
	bytes   string // the encoded entry
	made    *entry // of it, or without bytes the entry itself
}

// readLine reads no further than a page needs; nil for what is no entry of this version.
func readLine(bytes string) *line {
	l, r := &line{bytes: bytes}, readEntry(bytes)
	r.id(l.ref.book[:])
	r.id(l.ref.doc[:])
	l.created = r.whole(0)
	r.text(&l.text)
	if r.bad {
		return nil
	}
	return l
}

func (e *entry) line() *line {
	return &line{ref: e.ref(), created: e.Created, text: e.Facts.Text, made: e}
}

func (l *line) key() string { return brewKey(l.created, l.ref.doc) }

// entry is nil for bytes that are damaged.
func (l *line) entry() *entry {
	if l.made == nil {
		l.made = decodeEntry(l.bytes)
	}
	return l.made
}

// head is an entry of which only what walkHead names need be there; scratch is where it may be put.
func (l *line) head(scratch *entry) *entry {
	if l.made != nil {
		return l.made
	}
	r := readEntry(l.bytes)
	scratch.walkLine(&r)
	scratch.walkHead(&r)
	return scratch
}

func (l *line) encode() []byte {
	if l.made != nil {
		return l.made.encode()
	}
	return []byte(l.bytes)
}

// keep is the page with those alone that are to stay.
func (p page) keep(stays func(*line) bool) page {
	out := make(page, 0, len(p)+1)
	for _, l := range p {
		if stays(l) {
			out = append(out, l)
		}
	}
	return out
}

func (p page) without(ref brewRef) page {
	return p.keep(func(l *line) bool { return l.ref != ref })
}

// with is the page with an entry in place of its older self.
func (p page) with(e *entry) page {
	p, key := p.without(e.ref()), e.key()
	at := sort.Search(len(p), func(i int) bool { return p[i].key() < key })
	return append(append(p[:at:at], e.line()), p[at:]...)
}

// whole is the page without what is damaged.
func (p page) whole() page {
	return p.keep(func(l *line) bool { return l.entry() != nil })
}

// packedName follows a bucket's records of single brews.
const packedName = "packed"

// pack is a page in one record: each entry with its length before it.
func (p page) pack() []byte {
	var out []byte
	for _, l := range p {
		bytes := l.encode()
		out = append(binary.AppendUvarint(out, uint64(len(bytes))), bytes...)
	}
	return out
}

// unpack reads as far as it is whole.
func unpack(packed []byte) (p page) {
	r := entryReader{rest: string(packed)}
	for r.rest != "" {
		l := readLine(r.take(r.length()))
		if l == nil {
			break
		}
		p = append(p, l)
	}
	return p
}

// readPage reads a bucket's records, which come in the order of their keys, oldest first: those of single brews, then the packed
// one. A single one stands for what is packed of that brew; one that is no entry says that the brew is gone. Those that the index
// does not know any more (thrown away on another device) are left out.
func (x *index) readPage(found []StoredRecord) page {
	var packed page
	last := len(found) - 1
	if last >= 0 && strings.HasSuffix(found[last].Key, packedName) {
		packed = unpack(found[last].Value)
		last--
	}
	p := make(page, 0, last+1+len(packed))
	add := func(l *line) {
		if l != nil && x.known[l.ref] {
			p = append(p, l)
		}
	}
	for last >= 0 || len(packed) > 0 {
		key := ""
		if len(packed) > 0 && last >= 0 {
			key = packed[0].key()
		}
		if last < 0 || found[last].Key < key {
			add(packed[0])
			packed = packed[1:]
			continue
		}
		if found[last].Key == key {
			packed = packed[1:]
		}
		add(readLine(string(found[last].Value)))
		last--
	}
	return p
}
