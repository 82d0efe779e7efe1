package seal

import "encoding/binary"

// Padding is how a body's length is hidden.
type Padding uint8

// The paddings.
const (
	Powers  Padding = iota // to a power of two from 256 bytes up to 32,768, then to all that a body may hold
	Uniform                // to 4,096 bytes whatever it is: answers and guesses, whose length would tell
)

const (
	smallest  = 256
	uniform   = 4096
	lengthLen = 2
)

// pad puts the length before the plaintext and zeros after it.
func (p Padding) pad(plain []byte) ([]byte, error) {
	size, ok := uniform, len(plain) <= MaxUniform
	if p != Uniform {
		size, ok = powersSize(len(plain))
	}
	if !ok {
		return nil, ErrTooLarge
	}
	padded := make([]byte, size)
	binary.BigEndian.PutUint16(padded, uint16(len(plain)))
	copy(padded[lengthLen:], plain)
	return padded, nil
}

// unpad refuses whatever pad does not make, so that one plaintext has at most two sealed sizes and no room for a message
// beside the message.
func unpad(padded []byte) ([]byte, error) {
	if len(padded) < smallest {
		return nil, ErrPadding
	}
	length := int(binary.BigEndian.Uint16(padded))
	size, ok := powersSize(length)
	if !ok || (len(padded) != size && (len(padded) != uniform || length > MaxUniform)) {
		return nil, ErrPadding
	}
	for _, b := range padded[lengthLen+length:] {
		if b != 0 {
			return nil, ErrPadding
		}
	}
	return padded[lengthLen : lengthLen+length], nil
}

// powersSize is the least step that holds a plaintext of this length.
func powersSize(length int) (int, bool) {
	if length > MaxPlain {
		return 0, false
	}
	size := smallest
	for size < lengthLen+length {
		size *= 2
	}
	return min(size, largest), true
}
