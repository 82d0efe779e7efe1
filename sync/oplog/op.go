// Package oplog is the log that phones and servers agree on: what an op is, byte for byte, how a device chains its ops,
// how a run of them is signed, and how a book orders them.
//
// An op is a header and a body. The header is a CBOR array (package codec) that ends with the hash of the body, so a body
// can be dropped while every chain still verifies:
//
//	[version, book, device, seq, prev, seen position, seen chain, time, kind, doc, part, keys, wrap, body hash]
//
// The hash of an op is SHA-256("hushcup/1 op", header) and the hash of a body is SHA-256("hushcup/1 body", body), joined as
// seal.Sum joins. Bytes are signed, stored and forwarded as they came; nothing re-encodes them. See ../SPEC.md, LOG-1 ff.
package oplog

import (
	"bytes"

	"hushcup/sync/codec"
	"hushcup/sync/seal"
)

// Kind says what an op does. Every kind but Part is a control kind: its body stands in clear and holds no personal text.
type Kind uint8

// The kinds. Numbers are part of the format and never reused.
const (
	Part    Kind = 0  // sealed content of one part of a document
	Create  Kind = 1  // the first op of a book
	Invite  Kind = 2  // opens an invitation: to the club, or (to one's own devices) to a member
	Revoke  Kind = 3  // ends an invitation
	Join    Kind = 4  // a person, or a person's further device, comes in by an invitation
	Device  Kind = 5  // an enrolled device brings in another device of the same member
	Remove  Kind = 6  // takes out a member or a device, with the new epoch
	Role    Kind = 7  // makes a member an organiser or a taster
	Epoch   Kind = 8  // a new epoch without a removal
	Flight  Kind = 9  // opens a flight and pins what it is scored with
	Sample  Kind = 10 // a sealed sample: key, holders, code, grams, declaration, answer
	Lock    Kind = 11 // the close of named samples
	Unseal  Kind = 12 // publishes sample keys
	Erase   Kind = 13 // the author's own documents are to be forgotten
	Rules   Kind = 14 // raises the rules version at this position
	Resume  Kind = 15 // a restored book may order new ops again
	Leave   Kind = 16 // a member goes of their own will
	Closing Kind = 17 // moves a flight's closing time, before it is reached
	maxKind Kind = Closing
)

// Control says whether bodies of this kind stand in clear.
func (k Kind) Control() bool { return k != Part }

// Known says whether this version knows the kind; folding stops at an unknown one.
func (k Kind) Known() bool { return k <= maxKind }

// Bounds of the format.
const (
	Version      = 1
	MaxBody      = 64 << 10
	MaxHeader    = 1 << 10
	MaxKeys      = 4
	MaxRunOps    = 64
	MaxRunBytes  = 192 << 10
	MaxAhead     = 2 * 60 * 1000 // milliseconds that an op's time may lie past the server's
	signatureLen = 64
)

// Seen is the newest position that an author had verified, with the chain value there.
type Seen struct {
	Pos   uint64
	Chain Hash
}

// Wrap hands a member's envelope of a sample to whoever will hold the sample's private key: an HPKE wrap of the key whose id
// is the op's first key. It stands in the header, which is never dropped, of the first op that uses the envelope.
type Wrap struct {
	_      struct{} `cbor:",toarray"`
	Sample SampleID
	Epoch  KeyID    // the epoch of the author's notebook from which the envelope is derived
	Enc    [32]byte // HPKE encapsulated key
	Box    []byte   // HPKE ciphertext of the envelope, 48 bytes
}

// Header is what is hashed and signed of an op.
type Header struct {
	_        struct{} `cbor:",toarray"`
	Version  uint8
	Book     BookID
	Device   DeviceID
	Seq      uint64 // the device's counter in this book, gapless from 1
	Prev     Hash   // hash of the device's previous op in this book, zero for the first
	SeenPos  uint64
	SeenHash Hash
	Time     Time
	Kind     Kind
	Doc      DocID
	Part     uint32
	Keys     []KeyID // ids of the keys that seal the body, outermost first: [envelope, epoch], [epoch], or none
	Wrap     *Wrap
	BodyHash Hash
}

// Op is one parsed entry with its bytes as they came. Body is nil when it was dropped.
type Op struct {
	Header
	Raw  []byte
	Body []byte
	hash Hash
}

// Hash is the op's own hash, over the header.
func (o *Op) Hash() Hash { return o.hash }

// Seen is the order that the author had verified when writing.
func (o *Op) Seen() Seen { return Seen{Pos: o.SeenPos, Chain: o.SeenHash} }

// BookOf is the book that an op belongs to: its field, or for `create` its own hash.
func (o *Op) BookOf() BookID {
	if o.Kind == Create {
		return BookID(o.hash)
	}
	return o.Book
}

// Size is what the op takes in a run.
func (o *Op) Size() int { return len(o.Raw) + len(o.Body) }

// HashBody is the hash that a header carries of its body.
func HashBody(body []byte) Hash { return Hash(seal.Sum("hushcup/1 body", body)) }

// New completes a header over a body and encodes it once and for all.
func New(h Header, body []byte) Op {
	h.Version = Version
	h.BodyHash = HashBody(body)
	raw := codec.MustMarshal(&h)
	return Op{Header: h, Raw: raw, Body: body, hash: hashHeader(raw)}
}

// Parse reads an op from its bytes. A nil body means that it was dropped; any other must have the hash that the header names.
func Parse(raw, body []byte) (Op, error) {
	if len(raw) > MaxHeader {
		return Op{}, malformed("header of %d bytes is over %d", len(raw), MaxHeader)
	}
	if len(body) > MaxBody {
		return Op{}, malformed("body of %d bytes is over %d", len(body), MaxBody)
	}
	var h Header
	if err := codec.Unmarshal(raw, &h); err != nil {
		return Op{}, malformed("header does not decode: %v", err)
	}
	if err := h.check(raw); err != nil {
		return Op{}, err
	}
	if body != nil && HashBody(body) != h.BodyHash {
		return Op{}, malformed("body does not have the hash that its header names")
	}
	return Op{Header: h, Raw: raw, Body: body, hash: hashHeader(raw)}, nil
}

// check refuses what no honest author writes, and any second encoding of the same header.
func (h *Header) check(raw []byte) error {
	switch {
	case h.Version != Version:
		return &Error{Code: "newer-format", Text: "the op is of a format that this version does not know"}
	case h.Seq == 0:
		return malformed("seq is zero")
	case (h.Seq == 1) != (h.Prev == Hash{}):
		return malformed("prev must be zero for the first op of a device and only there")
	case (h.Kind == Create) != (h.Book == BookID{}):
		return malformed("the book is zero in create and only there")
	case h.Kind == Create && h.Seq != 1:
		return malformed("create is not its device's first op")
	case len(h.Keys) > MaxKeys:
		return malformed("%d keys are over %d", len(h.Keys), MaxKeys)
	case h.Kind == Part && len(h.Keys) == 0:
		return malformed("a part is sealed, and names its keys")
	case h.Wrap != nil && len(h.Wrap.Box) != 48:
		return malformed("a wrap has %d bytes, not 48", len(h.Wrap.Box))
	case !bytes.Equal(codec.MustMarshal(h), raw):
		return malformed("the header is not in its deterministic encoding")
	}
	return nil
}

func hashHeader(raw []byte) Hash { return Hash(seal.Sum("hushcup/1 op", raw)) }

// AssociatedData is what a sealed body is bound to: (book, device, kind, doc, part, key ids); not its place in a chain, so
// that re-chaining re-encrypts nothing.
func AssociatedData(book BookID, device DeviceID, kind Kind, doc DocID, part uint32, keys []KeyID) []byte {
	return codec.MustMarshal([]any{book, device, kind, doc, part, keys})
}
