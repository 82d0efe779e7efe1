package club

import (
	"bytes"

	"hushcup/sync/codec"
)

// decode reads a control body: strictly, and only in the one encoding that codec gives it, so that no two bodies say the
// same and no length is quietly cut or filled.
func decode(b []byte, body any) bool {
	return codec.Unmarshal(b, body) == nil && bytes.Equal(codec.MustMarshal(body), b)
}

const (
	sealedKeyLen   = 72 // a key under a key (seal.SealKey)
	wrappedKeyLen  = 48 // a key under HPKE
	maxDeclaredLen = 4 << 10
)

// holdsKey checks the form of a key sealed under exactly one other.
func (s *Sealed) holdsKey() bool { return len(s.Keys) == 1 && len(s.Box) == sealedKeyLen }

// distinct says whether no two are equal.
func distinct[T comparable](list []T) bool {
	seen := make(map[T]bool, len(list))
	for _, one := range list {
		if seen[one] {
			return false
		}
		seen[one] = true
	}
	return true
}
