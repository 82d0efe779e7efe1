package seal

import (
	"bytes"
	"encoding/binary"
	"testing"
)

func TestSEAL9_StepsOfThePadding(t *testing.T) {
	for length, want := range map[int]int{
		0: 256, 1: 256, 253: 256, 254: 256, 255: 512, 510: 512, 511: 1024, 1022: 1024, 1023: 2048, 2046: 2048, 2047: 4096,
		4094: 4096, 4095: 8192, 8190: 8192, 8191: 16384, 16382: 16384, 16383: 32768, 32766: 32768, 32767: 65496, 65494: 65496,
	} {
		padded, err := Powers.pad(bytes.Repeat([]byte{7}, length))
		if err != nil || len(padded) != want {
			t.Errorf("%d bytes are padded to %d, not %d (%v)", length, len(padded), want, err)
		}
		if got, err := unpad(padded); err != nil || len(got) != length {
			t.Errorf("%d bytes come back as %d (%v)", length, len(got), err)
		}
	}
}

func TestSEAL9_UnpadRefusesWhatPadDoesNotMake(t *testing.T) {
	of := func(size, length int, set ...int) []byte {
		padded := make([]byte, size)
		if size >= 2 {
			binary.BigEndian.PutUint16(padded, uint16(length))
		}
		for _, i := range set {
			padded[i] = 1
		}
		return padded
	}
	for what, padded := range map[string][]byte{
		"nothing":                          nil,
		"one byte":                         of(1, 0),
		"too short":                        of(255, 3),
		"no step":                          of(300, 3),
		"a step too far":                   of(512, 3),
		"a length that is not there":       of(256, 255),
		"the longest length":               of(256, 65535),
		"longer than any body":             of(65496, 65495),
		"a mark in the padding":            of(256, 3, 255),
		"a mark right after the plaintext": of(256, 3, 5),
		"uniform, but too long":            of(4096, 4095),
		"uniform, with a mark":             of(4096, 3, 4095),
		"the last step, but short":         of(65496, 32766),
	} {
		if got, err := unpad(padded); err != ErrPadding {
			t.Errorf("%s: %d bytes, %v", what, len(got), err)
		}
	}
}

// FuzzUnpad: whatever is accepted is exactly what pad makes of it, in one of the two ways.
func FuzzUnpad(f *testing.F) {
	f.Fuzz(func(t *testing.T, padded []byte) {
		plain, err := unpad(padded)
		if err != nil {
			return
		}
		powers, err := Powers.pad(plain)
		if err != nil {
			t.Fatal(err)
		}
		if uniform, err := Uniform.pad(plain); !bytes.Equal(padded, powers) && (err != nil || !bytes.Equal(padded, uniform)) {
			t.Fatalf("a padding of %d bytes for %d that pad does not make", len(padded), len(plain))
		}
	})
}
