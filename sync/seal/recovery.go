package seal

import (
	"io"
	"strings"
)

// Recovery is the secret behind a recovery code, which a member keeps on paper. It yields the recovery device, enrolled with
// the member from the start, whose one job is to enrol a fresh device.
type Recovery [16]byte

const (
	recoveryVersion = 1
	recoveryLetters = 30 // 2 bits of version, 128 of secret, 20 of check
	recoveryGroup   = 5
	checkBits       = 20
)

// recoveryAlphabet is the ten digits and the letters without I, L, O and U, which hands and eyes confuse with others.
const recoveryAlphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

// NewRecovery draws a code's secret.
func NewRecovery(rand io.Reader) (Recovery, error) {
	var r Recovery
	err := draw(rand, r[:])
	return r, err
}

// Identity is the recovery device.
func (r Recovery) Identity() Identity {
	return Identity{SignSeed: derive("hushcup/1 recovery sign", r[:]), BoxSeed: derive("hushcup/1 recovery box", r[:])}
}

// String is the code as it is printed: six groups of five, with dashes.
func (r Recovery) String() string {
	var b bitString
	b.put(recoveryVersion, 2)
	for _, octet := range r {
		b.put(uint32(octet), 8)
	}
	b.put(recoveryCheck(recoveryVersion, r), checkBits)

	var code strings.Builder
	for i := range recoveryLetters {
		if i > 0 && i%recoveryGroup == 0 {
			code.WriteByte('-')
		}
		code.WriteByte(recoveryAlphabet[b.take(5)])
	}
	return code.String()
}

// ParseRecovery reads a code as people type it: in either case, with any spaces and dashes or none, O for 0, I or L for 1,
// U for V; or pasted as a whole link whose fragment it is.
func ParseRecovery(text string) (Recovery, error) {
	var b bitString
	letters := 0
	for _, r := range fragment(text) {
		if blank(r) || dash(r) {
			continue
		}
		value := letterValue(r)
		if value < 0 {
			return Recovery{}, ErrCodeLetter
		}
		if letters++; letters > recoveryLetters {
			return Recovery{}, ErrCodeLength
		}
		b.put(uint32(value), 5)
	}
	if letters != recoveryLetters {
		return Recovery{}, ErrCodeLength
	}
	return b.recovery()
}

func (b *bitString) recovery() (Recovery, error) {
	var r Recovery
	version := b.take(2)
	for i := range r {
		r[i] = byte(b.take(8))
	}
	if b.take(checkBits) != recoveryCheck(version, r) || version == 0 {
		return Recovery{}, ErrCodeDamaged
	}
	if version != recoveryVersion {
		return Recovery{}, ErrCodeNewer
	}
	return r, nil
}

func recoveryCheck(version uint32, r Recovery) uint32 {
	sum := Sum("hushcup/1 recovery check", []byte{byte(version)}, r[:])
	return uint32(sum[0])<<12 | uint32(sum[1])<<4 | uint32(sum[2])>>4
}

func letterValue(r rune) int {
	if r >= 'a' && r <= 'z' {
		r -= 'a' - 'A'
	}
	switch r {
	case 'O':
		r = '0'
	case 'I', 'L':
		r = '1'
	case 'U':
		r = 'V'
	}
	return strings.IndexRune(recoveryAlphabet, r)
}

// dash tells the signs that keyboards and word processors make of a dash.
func dash(r rune) bool {
	switch r {
	case '-', '_', '.', ',', 0x2212, 0xfe58, 0xfe63, 0xff0d:
		return true
	}
	return r >= 0x2010 && r <= 0x2015
}

// bitString is a queue of bits, the first put the first taken.
type bitString struct {
	bits  []bool
	taken int
}

func (b *bitString) put(value uint32, count int) {
	for i := count - 1; i >= 0; i-- {
		b.bits = append(b.bits, value>>i&1 == 1)
	}
}

func (b *bitString) take(count int) uint32 {
	var value uint32
	for range count {
		value <<= 1
		if b.bits[b.taken] {
			value |= 1
		}
		b.taken++
	}
	return value
}
