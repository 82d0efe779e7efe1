package app

import (
	"encoding/binary"
	"math"
)

// Entries on the disk have an encoding of their own, since thousands of them are read for a search: the index's version, then the
// fields in the order of walk, one after the other. What a search looks at comes first, so that the rest need not be read.
//
//	text    its length, then its bytes
//	number  a length of 0 or 8, then an IEEE 754 double, little-endian, without trailing zeros counted: 0 is one byte
//	whole   a signed varint

// walker goes over the fields of an entry, to write or to read them.
type walker interface {
	text(*string)
	number(*float64)
	whole(int64) int64
	id(id []byte)
	// list gives the length of a list, which when it is read must be made.
	list(length int) int
}

// walk names every field of an entry once. The digest's names of book and brew are made from the ids.
func (e *entry) walk(w walker) {
	e.walkLine(w)
	e.walkHead(w)
	e.Digest.walkRest(w)
	e.Facts.walkRest(w)
	e.Ended = w.whole(e.Ended)
}

// walkLine goes over what a page is ordered by and what words are looked for in.
func (e *entry) walkLine(w walker) {
	w.id(e.Book[:])
	w.id(e.Doc[:])
	e.Created = w.whole(e.Created)
	w.text(&e.Facts.Text)
}

// walkHead goes over what else a search, or a count over all brews, looks at.
func (e *entry) walkHead(w walker) {
	d, f := &e.Digest, &e.Facts
	for _, text := range []*string{&d.Sample, &d.Coffee, &d.Brewer, &f.Coffee, &f.Brewer, &f.Grinder} {
		w.text(text)
	}
	for _, number := range []*float64{&d.Dose, &f.Dose, &f.Water, &f.Beverage, &f.TDS} {
		w.number(number)
	}
	d.Began = w.whole(d.Began)
	count(w, &d.Code)
	flags(w, &f.GrindSet, &f.Bowl, &f.Counts, &f.Infused, &f.Allergens)
	e.Items = sized(e.Items, w)
	for i := range e.Items {
		w.id(e.Items[i][:])
	}
}

func (d *BrewDigest) walkRest(w walker) {
	for _, text := range []*string{&d.State, &d.Method, &d.Grind, &d.Recipe, &d.Table} {
		w.text(text)
	}
	for _, number := range []*float64{&d.Scoops, &d.Water, &d.Drawdown, &d.TDS, &d.Yield} {
		w.number(number)
	}
	count(w, &d.Bowl)
	flags(w, &d.Abandoned)
}

func (f *brewFacts) walkRest(w walker) {
	for _, text := range []*string{&f.Geometry, &f.Recipe} {
		w.text(text)
	}
	for _, number := range []*float64{&f.Grind, &f.Kettle, &f.Stirs, &f.Seconds, &f.TDSOpen, &f.EY, &f.EYLow, &f.EYHigh} {
		w.number(number)
	}
	f.Balance = sized(f.Balance, w)
	for i := range f.Balance {
		w.text(&f.Balance[i].Of)
		count(w, &f.Balance[i].Mark)
	}
	w.id(f.Parent[:])
}

func sized[T any](list []T, w walker) []T {
	if n := w.list(len(list)); n != len(list) {
		return make([]T, n)
	}
	return list
}

func count(w walker, n *int) {
	*n = int(w.whole(int64(*n)))
}

func flags(w walker, all ...*bool) {
	bits := int64(0)
	for i, flag := range all {
		if *flag {
			bits |= 1 << i
		}
	}
	bits = w.whole(bits)
	for i, flag := range all {
		*flag = bits>>i&1 == 1
	}
}

func (e *entry) encode() []byte {
	w := entryWriter{indexVersion}
	e.walk(&w)
	return w
}

// decodeEntry is nil for what is no entry of this version.
func decodeEntry(value string) *entry {
	e, r := new(entry), readEntry(value)
	e.walk(&r)
	if r.bad || r.rest != "" {
		return nil
	}
	e.Digest.Book, e.Digest.Brew = e.Book.String(), e.Doc.String()
	return e
}

type entryWriter []byte

func (w *entryWriter) text(s *string) {
	*w = append(binary.AppendUvarint(*w, uint64(len(*s))), *s...)
}

func (w *entryWriter) number(x *float64) {
	if *x == 0 {
		*w = append(*w, 0)
		return
	}
	*w = binary.LittleEndian.AppendUint64(append(*w, 8), math.Float64bits(*x))
}

func (w *entryWriter) whole(n int64) int64 { *w = binary.AppendVarint(*w, n); return n }
func (w *entryWriter) id(id []byte)        { *w = append(*w, id...) }
func (w *entryWriter) list(n int) int      { *w = binary.AppendUvarint(*w, uint64(n)); return n }

// entryReader reads texts as parts of one string, which costs nothing for each.
type entryReader struct {
	rest string
	bad  bool
}

// readEntry begins to read what must be of this version.
func readEntry(value string) entryReader {
	if value == "" || value[0] != indexVersion {
		return entryReader{bad: true}
	}
	return entryReader{rest: value[1:]}
}

func (r *entryReader) take(n uint64) string {
	if n > uint64(len(r.rest)) {
		r.bad, r.rest = true, ""
		return ""
	}
	taken := r.rest[:n]
	r.rest = r.rest[n:]
	return taken
}

func (r *entryReader) length() (n uint64) {
	for shift := 0; shift < 63; shift += 7 {
		b := r.take(1)
		if b == "" {
			return 0
		}
		n |= uint64(b[0]&0x7f) << shift
		if b[0] < 0x80 {
			return n
		}
	}
	r.bad = true
	return 0
}

func (r *entryReader) text(s *string) { *s = r.take(r.length()) }

func (r *entryReader) number(x *float64) {
	*x = 0
	if n := r.length(); n != 0 {
		bits := uint64(0)
		for i, b := range []byte(r.take(8)) {
			bits |= uint64(b) << (8 * i)
		}
		*x, r.bad = math.Float64frombits(bits), r.bad || n != 8
	}
}

// whole undoes the folding of signs, as AppendVarint has it.
func (r *entryReader) whole(int64) int64 {
	folded := r.length()
	return int64(folded>>1) ^ -int64(folded&1)
}

func (r *entryReader) id(id []byte) { copy(id, r.take(uint64(len(id)))) }

// list refuses lengths that cannot be: each element takes a byte at least.
func (r *entryReader) list(int) int {
	n := r.length()
	if n > uint64(len(r.rest)) {
		r.bad = true
		return 0
	}
	return int(n)
}
