package atlas

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"strconv"
)

// priorMagic begins the bytes of a prior.
const priorMagic = "hushcup/1 prior\n"

// Encode returns the prior's canonical bytes: a magic line, the hash of its
// atlas, then unsigned varints: the shares of the origin tree's nodes after the
// root in tree order; for every other facet the number of rows, each row's
// shares likewise, and the row numbers of the origin leaves as runs (row,
// length); last, for every facet, the number of narrowing nodes and their
// indices.
func (p *Prior) Encode() []byte {
	hash := p.atlas.Hash()
	out := append([]byte(priorMagic), hash[:]...)
	out = appendShares(out, p.origin)
	for f := Process; f < Facets; f++ {
		out = binary.AppendUvarint(out, uint64(len(p.rows[f])))
		for _, r := range p.rows[f] {
			out = appendShares(out, r)
		}
		out = appendRuns(out, p.at[f])
	}
	for f := range Facets {
		out = binary.AppendUvarint(out, uint64(len(p.narrow[f])))
		for _, n := range p.narrow[f] {
			out = binary.AppendUvarint(out, uint64(n))
		}
	}
	return out
}

// Hash is what a flight pins: SHA-256 of the encoded prior.
func (p *Prior) Hash() [32]byte { return sha256.Sum256(p.Encode()) }

func appendShares(out []byte, r row) []byte {
	for _, s := range r[1:] {
		out = binary.AppendUvarint(out, uint64(s))
	}
	return out
}

func appendRuns(out []byte, numbers []int) []byte {
	for i := 0; i < len(numbers); {
		length := 1
		for i+length < len(numbers) && numbers[i+length] == numbers[i] {
			length++
		}
		out = binary.AppendUvarint(out, uint64(numbers[i]))
		out = binary.AppendUvarint(out, uint64(length))
		i += length
	}
	return out
}

// DecodePrior reads the bytes of a prior of this atlas. It refuses bytes that
// Encode would not write: shares that do not add up or leave something
// impossible, rows that are not there, narrowings that are untidy.
func (a *Atlas) DecodePrior(encoded []byte) (*Prior, error) {
	rest, ok := bytes.CutPrefix(encoded, []byte(priorMagic))
	if !ok || len(rest) < sha256.Size {
		return nil, badBytes("magic", encoded)
	}
	if hash := a.Hash(); !bytes.Equal(rest[:sha256.Size], hash[:]) {
		return nil, &Error{CodeOther, "atlas", ""}
	}
	d := &decoder{atlas: a, rest: rest[sha256.Size:]}
	p := d.prior()
	if d.bad != "" || len(d.rest) > 0 || !bytes.Equal(p.Encode(), encoded) {
		return nil, badBytes(d.bad, encoded)
	}
	return p.sealed(), nil
}

func badBytes(field string, encoded []byte) error {
	if field == "" {
		field = "prior"
	}
	return &Error{CodeBadBytes, field, strconv.Itoa(len(encoded)) + " bytes"}
}

// A decoder reads on after a fault, harmlessly, and remembers the first one.
type decoder struct {
	atlas *Atlas
	rest  []byte
	bad   string
}

func (d *decoder) fault(field string) {
	if d.bad == "" {
		d.bad = field
	}
}

// number reads a number that must lie below a limit.
func (d *decoder) number(field string, limit int) int {
	value, size := binary.Uvarint(d.rest)
	if size <= 0 || value >= uint64(limit) {
		d.fault(field)
		d.rest = nil
		return 0
	}
	d.rest = d.rest[size:]
	return int(value)
}

func (d *decoder) prior() *Prior {
	p := &Prior{atlas: d.atlas, origin: d.shares(Origin)}
	leaves := d.atlas.trees[Origin].Leaves()
	for f := Process; f < Facets; f++ {
		for range d.number("rows", leaves+1) {
			p.rows[f] = append(p.rows[f], d.shares(f))
		}
		for len(p.at[f]) < leaves && d.bad == "" {
			at := d.number("row number", len(p.rows[f]))
			for range d.number("run", leaves-len(p.at[f])+1) {
				p.at[f] = append(p.at[f], at)
			}
		}
	}
	for f := range Facets {
		p.narrow[f] = d.narrowing(f)
	}
	return p
}

func (d *decoder) shares(f Facet) row {
	t := d.atlas.trees[f]
	out := make(row, t.Len())
	out[0] = Whole
	sum := make([]int, t.Len())
	for i := 1; i < t.Len(); i++ {
		out[i] = uint16(d.number("share", Whole+1))
		sum[t.Parent(i)] += int(out[i])
		if out[i] == 0 {
			d.fault("share")
		}
	}
	for i, s := range sum {
		if !t.IsLeaf(i) && s != Whole {
			d.fault("share")
		}
	}
	return out
}

func (d *decoder) narrowing(f Facet) []int {
	t := d.atlas.trees[f]
	var nodes []int
	for range d.number("narrowing", t.Len()) {
		nodes = append(nodes, d.number("narrowing", t.Len()))
	}
	if d.bad == "" && len(nodes) > 0 && !equal(t.tidy(nodes), nodes) {
		d.fault("narrowing")
	}
	return nodes
}

func equal(a, b []int) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}
