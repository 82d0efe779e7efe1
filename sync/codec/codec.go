// Package codec is the one encoding of the log, the wire and the bridge: CBOR in its core deterministic form (RFC 8949,
// section 4.2.1), with every length, count and depth bounded before memory is taken for it.
//
// Structs that are signed or sent are encoded as maps with small integer keys or as arrays; the struct that is encoded
// states which. Strict decoding refuses unknown fields, duplicate keys, indefinite lengths, tags and trailing bytes.
// Open decoding is for the content of parts, which keep fields that this version does not know.
//
// # Go and CBOR
//
// Integers, floats (in their shortest form), booleans and strings are what they seem. []byte and arrays of bytes are byte
// strings; other slices and arrays are arrays; nil ones are empty ones. Maps have string, integer or byte-array keys. A nil
// pointer or interface is null, and null decodes as the zero value. Structs are maps by the `cbor` tag of their fields:
// "name", or "7,keyasint" for an integer key, and with ",omitempty" left out when zero; or, with a field
// `_ struct{} "cbor:\",toarray\""`, arrays of all their fields. Fields of an embedded struct without a tag count as the outer
// one's. Unexported fields are not encoded.
//
// It is written here and not taken from a library because of its size in the browser: it is a fifth of one, and 250 KB less
// to load. The tests hold it against that library, byte for byte.
package codec

import (
	"errors"
	"reflect"
)

const (
	maxDepth    = 12
	maxElements = 1 << 16
	maxPairs    = 1 << 14
)

// Raw is an encoded value that is carried through unread.
type Raw []byte

// Marshal encodes v deterministically: equal values give equal bytes.
func Marshal(v any) ([]byte, error) {
	e := encoder{}
	e.value(reflect.ValueOf(v))
	return e.out, e.err
}

// MustMarshal encodes a value whose type is known to be encodable; it panics on a programming error only.
func MustMarshal(v any) []byte {
	b, err := Marshal(v)
	if err != nil {
		panic("codec: " + reflect.TypeOf(v).String() + " cannot be encoded: " + err.Error())
	}
	return b
}

// Unmarshal decodes strictly: what this version does not know is an error.
func Unmarshal(b []byte, v any) error { return unmarshal(b, v, true) }

// UnmarshalOpen decodes and leaves unknown map fields aside.
func UnmarshalOpen(b []byte, v any) error { return unmarshal(b, v, false) }

func unmarshal(b []byte, v any, strict bool) error {
	target := reflect.ValueOf(v)
	if target.Kind() != reflect.Pointer || target.IsNil() {
		return errors.New("codec: decoding needs a pointer to decode into")
	}
	d := decoder{in: b, strict: strict}
	d.value(target.Elem(), 0)
	if d.err == nil && d.at != len(b) {
		d.fail("bytes are left over")
	}
	return d.err
}

// Kinds of CBOR item: the top three bits of its first byte.
const (
	kindUint   = 0
	kindNegint = 1
	kindBytes  = 2
	kindText   = 3
	kindArray  = 4
	kindMap    = 5
	kindTag    = 6
	kindSimple = 7
)

// Simple values and floats: the low five bits of a first byte of kind 7.
const (
	simpleFalse     = 20
	simpleTrue      = 21
	simpleNull      = 22
	simpleUndefined = 23
	floatHalf       = 25
	floatSingle     = 26
	floatDouble     = 27
)
