// Package sealtest makes what an attacker would make, for tests of whoever must not be fooled by it.
package sealtest

import (
	"encoding/binary"
	"errors"
	"io"
	"math/big"

	"golang.org/x/crypto/chacha20"
	"golang.org/x/crypto/chacha20poly1305"

	"hushcup/sync/seal"
)

const (
	block     = 16
	lengthLen = 2 // the plaintext's length, at the head of the padded plaintext
)

var (
	// prime is 2^130 - 5, the field of Poly1305 (RFC 8439, section 2.5).
	prime = new(big.Int).Sub(new(big.Int).Lsh(big.NewInt(1), 130), big.NewInt(5))
	// one128 is 2^128: the bit that Poly1305 sets above every whole block, and the modulus of a tag.
	one128 = new(big.Int).Lsh(big.NewInt(1), 128)
)

// Collide makes one sealed body that opens under two keys with the same associated data: under first it is plain followed by
// noise, under second it is noise. Both are padded as the rules of package seal say. The keys are those of seal.Open, so for
// a body under an envelope they are seal.BodyKey(envelope, epoch). Any keys will do; it takes some hundred thousand trials.
//
// The way: one block of the ciphertext is left free. Under each key the tag is a polynomial, evaluated at a point that the
// key gives, plus a pad that the key gives; that the two tags are equal is one linear equation in the free block, modulo
// 2^130 - 5. Its solution is a block if it lies in the quarter of the field where blocks lie; else other noise is tried. The
// padding stands in the way a little: both plaintexts must begin with the same length and leave no room for zeros, so nonces
// are tried until both keystreams begin with the same two bytes.
func Collide(rand io.Reader, first, second seal.Key, ad, plain []byte, pad seal.Padding) ([]byte, error) {
	size, err := paddedSize(len(plain), pad)
	if err != nil {
		return nil, err
	}
	nonce := make([]byte, chacha20poly1305.NonceSizeX)
	if _, err := io.ReadFull(rand, nonce[:block]); err != nil {
		return nil, err
	}
	one, two, err := alikeStreams(first, second, nonce, size)
	if err != nil {
		return nil, err
	}

	padded := make([]byte, size)
	binary.BigEndian.PutUint16(padded, uint16(size-lengthLen))
	copy(padded[lengthLen:], plain)
	noise := padded[lengthLen+len(plain) : size-block]
	for {
		if _, err := io.ReadFull(rand, noise); err != nil {
			return nil, err
		}
		if sealed, ok := agree(one, two, ad, nonce, padded); ok {
			return sealed, nil
		}
	}
}

// paddedSize leaves room for the free block and for a block of noise to vary.
func paddedSize(plain int, pad seal.Padding) (int, error) {
	size := 256
	if pad == seal.Uniform {
		size = seal.MaxUniform + lengthLen
	}
	for size < lengthLen+plain+2*block {
		size *= 2
	}
	if size > 32768 || (pad == seal.Uniform && size > seal.MaxUniform+lengthLen) {
		return 0, errors.New("sealtest: no room for a collision")
	}
	return size, nil
}

// stream is what XChaCha20-Poly1305 draws from one key and nonce.
type stream struct {
	r, s *big.Int // the point and the pad of Poly1305
	pad  []byte   // the keystream over the plaintext
}

// alikeStreams varies the last eight bytes of nonce until both keys' streams begin alike.
func alikeStreams(first, second seal.Key, nonce []byte, size int) (one, two stream, err error) {
	subs := [2][]byte{}
	for i, key := range []seal.Key{first, second} {
		if subs[i], err = chacha20.HChaCha20(key[:], nonce[:block]); err != nil {
			return one, two, err
		}
	}
	for n := uint64(0); ; n++ {
		binary.LittleEndian.PutUint64(nonce[block:], n)
		a, b := keystream(subs[0], nonce, 64+lengthLen), keystream(subs[1], nonce, 64+lengthLen)
		if a[64] == b[64] && a[65] == b[65] {
			return newStream(keystream(subs[0], nonce, 64+size)), newStream(keystream(subs[1], nonce, 64+size)), nil
		}
	}
}

func keystream(sub, nonce []byte, length int) []byte {
	short := append(make([]byte, 4, chacha20.NonceSize), nonce[block:]...)
	c, err := chacha20.NewUnauthenticatedCipher(sub, short)
	if err != nil {
		panic("sealtest: chacha20: " + err.Error())
	}
	out := make([]byte, length)
	c.XORKeyStream(out, out)
	return out
}

// newStream reads the one-time key of Poly1305, clamped, from the first block of the keystream.
func newStream(out []byte) stream {
	r := append([]byte(nil), out[:block]...)
	for _, i := range []int{3, 7, 11, 15} {
		r[i] &= 15
	}
	for _, i := range []int{4, 8, 12} {
		r[i] &= 252
	}
	return stream{r: littleEndian(r), s: littleEndian(out[block : 2*block]), pad: out[64:]}
}

// agree encrypts padded under one, chooses the last block so that both tags are equal, and gives up if there is none.
func agree(one, two stream, ad, nonce, padded []byte) ([]byte, bool) {
	box := make([]byte, len(padded))
	for i := range box {
		box[i] = padded[i] ^ one.pad[i]
	}
	free := box[len(box)-block:]
	clear(free)
	x, ok := solve(one, two, blocks(ad, box))
	if !ok {
		return nil, false
	}
	putLittleEndian(free, x)
	message := blocks(ad, box)
	tag := one.tag(message)
	if tag.Cmp(two.tag(message)) != 0 {
		return nil, false
	}
	sealed := append(append([]byte(nil), nonce...), box...)
	last := make([]byte, block)
	putLittleEndian(last, tag)
	return append(sealed, last...), true
}

// solve finds the block before the last of message, which is zero there, so that the sums of both keys differ by what their
// pads differ. The sums are below p but count modulo 2^128, so the difference may be off by a few 2^128.
func solve(one, two stream, message []*big.Int) (*big.Int, bool) {
	slope := new(big.Int).Sub(new(big.Int).Mul(two.r, two.r), new(big.Int).Mul(one.r, one.r))
	inverse := new(big.Int).ModInverse(slope.Mod(slope, prime), prime)
	if inverse == nil {
		return nil, false
	}
	a, b := one.sum(message), two.sum(message)
	for k := int64(-4); k <= 4; k++ {
		gap := new(big.Int).Sub(one.s, two.s)
		gap.Add(gap, new(big.Int).Mul(big.NewInt(k), one128))
		x := gap.Add(gap, a)
		x.Sub(x, b)
		x.Mul(x, inverse)
		x.Mod(x, prime)
		if x.Cmp(one128) >= 0 {
			continue
		}
		whole := append([]*big.Int(nil), message...)
		whole[len(whole)-2] = new(big.Int).Add(x, one128)
		if one.tag(whole).Cmp(two.tag(whole)) == 0 {
			return x, true
		}
	}
	return nil, false
}

// blocks is what Poly1305 sums up: the associated data and the ciphertext, each filled up with zeros, and both lengths.
func blocks(ad, box []byte) []*big.Int {
	var message []byte
	message = append(message, ad...)
	message = append(message, make([]byte, -len(ad)&(block-1))...)
	message = append(message, box...)
	message = append(message, make([]byte, -len(box)&(block-1))...)
	message = binary.LittleEndian.AppendUint64(message, uint64(len(ad)))
	message = binary.LittleEndian.AppendUint64(message, uint64(len(box)))

	var out []*big.Int
	for ; len(message) > 0; message = message[block:] {
		out = append(out, new(big.Int).Add(littleEndian(message[:block]), one128))
	}
	return out
}

// sum is the polynomial at r, below p.
func (s stream) sum(message []*big.Int) *big.Int {
	sum := new(big.Int)
	for _, b := range message {
		sum.Mod(sum.Mul(sum.Add(sum, b), s.r), prime)
	}
	return sum
}

func (s stream) tag(message []*big.Int) *big.Int {
	tag := s.sum(message)
	return tag.Mod(tag.Add(tag, s.s), one128)
}

func littleEndian(b []byte) *big.Int {
	reversed := make([]byte, len(b))
	for i := range b {
		reversed[len(b)-1-i] = b[i]
	}
	return new(big.Int).SetBytes(reversed)
}

func putLittleEndian(into []byte, x *big.Int) {
	x.FillBytes(into)
	for i, j := 0, len(into)-1; i < j; i, j = i+1, j-1 {
		into[i], into[j] = into[j], into[i]
	}
}
