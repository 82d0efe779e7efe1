package oplog

import (
	"encoding/binary"

	"hushcup/sync/seal"
)

// Run is a stretch of one device's chain under one signature, over its last hash. It is accepted, positioned consecutively,
// stored and delivered whole, or refused whole.
type Run struct {
	Ops []Op
	Sig [signatureLen]byte
}

// Packed is how a run travels and is stored: bytes as they came.
type Packed struct {
	_   struct{} `cbor:",toarray"`
	Ops []PackedOp
	Sig []byte
}

// PackedOp is one op of a packed run; Body is nil (CBOR null) when it was dropped.
type PackedOp struct {
	_    struct{} `cbor:",toarray"`
	Raw  []byte
	Body *[]byte
}

// Pack gives the run's bytes for the wire or a store.
func (r *Run) Pack() Packed {
	p := Packed{Ops: make([]PackedOp, len(r.Ops)), Sig: r.Sig[:]}
	for i := range r.Ops {
		p.Ops[i].Raw = r.Ops[i].Raw
		if r.Ops[i].Body != nil {
			p.Ops[i].Body = &r.Ops[i].Body
		}
	}
	return p
}

// Unpack parses a run and checks everything that can be checked without knowing the book: bounds, one device, one book,
// gapless sequence, hash links, and the signature. The caller checks that the first op follows the device's chain.
func (p *Packed) Unpack() (Run, error) {
	if len(p.Ops) == 0 || len(p.Ops) > MaxRunOps {
		return Run{}, malformed("a run of %d ops is not within 1 to %d", len(p.Ops), MaxRunOps)
	}
	if len(p.Sig) != signatureLen {
		return Run{}, malformed("a signature has %d bytes, not %d", len(p.Sig), signatureLen)
	}
	run := Run{Ops: make([]Op, len(p.Ops)), Sig: [signatureLen]byte(p.Sig)}
	size := 0
	for i := range p.Ops {
		op, err := p.Ops[i].parse()
		if err != nil {
			return Run{}, at(err, i)
		}
		run.Ops[i] = op
		size += op.Size()
	}
	if size > MaxRunBytes {
		return Run{}, malformed("a run of %d bytes is over %d", size, MaxRunBytes)
	}
	if err := run.link(); err != nil {
		return Run{}, err
	}
	if !run.verify() {
		return Run{}, &Error{Code: "bad-signature", Text: "the run is not signed by the device that it names"}
	}
	return run, nil
}

func (p *PackedOp) parse() (Op, error) {
	var body []byte
	if p.Body != nil {
		body = *p.Body
		if body == nil {
			body = []byte{}
		}
	}
	return Parse(p.Raw, body)
}

// link checks that the ops follow each other.
func (r *Run) link() error {
	for i := 1; i < len(r.Ops); i++ {
		before, op := &r.Ops[i-1], &r.Ops[i]
		switch {
		case op.Device != before.Device:
			return at(malformed("a run has one device"), i)
		case op.BookOf() != before.BookOf():
			return at(&Error{Code: "wrong-book", Text: "a run has one book"}, i)
		case op.Seq != before.Seq+1 || op.Prev != before.Hash():
			return at(&Error{Code: "chain-gap", Text: "the op does not follow the one before it"}, i)
		}
	}
	return nil
}

// Sign makes a run of consecutive ops of one device.
func Sign(ops []Op, sign func(message []byte) [signatureLen]byte) Run {
	run := Run{Ops: ops}
	run.Sig = sign(run.message())
	return run
}

func (r *Run) verify() bool {
	device := r.Ops[0].Device
	return seal.Verify(device, r.message(), r.Sig[:])
}

// message is what the signature covers: the last hash stands for the whole chain up to it, the first seq and the count for
// where this run begins.
func (r *Run) message() []byte {
	first, last := &r.Ops[0], &r.Ops[len(r.Ops)-1]
	book, hash := first.BookOf(), last.Hash()
	var span [16]byte
	binary.BigEndian.PutUint64(span[:8], first.Seq)
	binary.BigEndian.PutUint64(span[8:], uint64(len(r.Ops)))
	sum := seal.Sum("hushcup/1 run", book[:], first.Device[:], span[:], hash[:])
	return sum[:]
}

// Size is the sum of what the ops take.
func (r *Run) Size() int {
	size := 0
	for i := range r.Ops {
		size += r.Ops[i].Size()
	}
	return size
}

// Head is where a device's chain stands in a book.
type Head struct {
	_    struct{} `cbor:",toarray"`
	Seq  uint64
	Hash Hash
}

// Follows checks that op is the next of its device's chain: `seq-taken` when its place is taken, `chain-gap` when something
// is missing before it.
func (h Head) Follows(op *Op) error {
	switch {
	case op.Seq <= h.Seq:
		return &Error{Code: "seq-taken", Text: "another op of this device already stands at this place"}
	case op.Seq != h.Seq+1 || op.Prev != h.Hash:
		return &Error{Code: "chain-gap", Text: "the op does not follow the device's last one"}
	}
	return nil
}
