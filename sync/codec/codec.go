// Package codec is the one encoding of the log, the wire and the bridge: CBOR in its core deterministic form (RFC 8949,
// section 4.2.1), with every length, count and depth bounded before memory is taken for it.
//
// Structs that are signed or sent are encoded as maps with small integer keys or as arrays; the struct that is encoded
// states which. Strict decoding refuses unknown fields, duplicate keys, indefinite lengths, tags and trailing bytes.
// Open decoding is for the content of parts, which keep fields that this version does not know.
package codec

import (
	"fmt"

	"github.com/fxamacker/cbor/v2"
)

const (
	maxDepth    = 12
	maxElements = 1 << 16
	maxPairs    = 1 << 14
)

var (
	encoding = mustEnc()
	strict   = mustDec(cbor.ExtraDecErrorUnknownField)
	open     = mustDec(cbor.ExtraDecErrorNone)
)

// Raw is an encoded value that is carried through unread.
type Raw = cbor.RawMessage

// Marshal encodes v deterministically: equal values give equal bytes.
func Marshal(v any) ([]byte, error) { return encoding.Marshal(v) }

// MustMarshal encodes a value whose type is known to be encodable; it panics on a programming error only.
func MustMarshal(v any) []byte {
	b, err := encoding.Marshal(v)
	if err != nil {
		panic(fmt.Sprintf("codec: %T cannot be encoded: %v", v, err))
	}
	return b
}

// Unmarshal decodes strictly: what this version does not know is an error.
func Unmarshal(b []byte, v any) error { return strict.Unmarshal(b, v) }

// UnmarshalOpen decodes and leaves unknown map fields aside.
func UnmarshalOpen(b []byte, v any) error { return open.Unmarshal(b, v) }

func mustEnc() cbor.EncMode {
	options := cbor.CoreDetEncOptions()
	options.NilContainers = cbor.NilContainerAsEmpty
	mode, err := options.EncMode()
	if err != nil {
		panic(err)
	}
	return mode
}

func mustDec(unknown cbor.ExtraDecErrorCond) cbor.DecMode {
	mode, err := cbor.DecOptions{
		DupMapKey:         cbor.DupMapKeyEnforcedAPF,
		IndefLength:       cbor.IndefLengthForbidden,
		TagsMd:            cbor.TagsForbidden,
		MaxNestedLevels:   maxDepth,
		MaxArrayElements:  maxElements,
		MaxMapPairs:       maxPairs,
		ExtraReturnErrors: unknown,
		UTF8:              cbor.UTF8RejectInvalid,
	}.DecMode()
	if err != nil {
		panic(err)
	}
	return mode
}
