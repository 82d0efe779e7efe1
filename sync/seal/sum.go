package seal

import (
	"crypto/hkdf"
	"crypto/sha256"
	"encoding/binary"
)

// Join is the label and the fields, each preceded by its length as 8 bytes, big-endian: no two different lists of fields
// join to the same bytes.
func Join(label string, fields ...[]byte) []byte {
	size := 8 + len(label)
	for _, f := range fields {
		size += 8 + len(f)
	}
	joined := make([]byte, 0, size)
	joined = append(binary.BigEndian.AppendUint64(joined, uint64(len(label))), label...)
	for _, f := range fields {
		joined = append(binary.BigEndian.AppendUint64(joined, uint64(len(f))), f...)
	}
	return joined
}

// Sum is SHA-256 of Join: the H of the protocol. The label is the whole separating string, "hushcup/1 ..." included.
func Sum(label string, fields ...[]byte) [32]byte {
	return sha256.Sum256(Join(label, fields...))
}

// derive is 32 bytes of HKDF-SHA256 from a secret, separated by the label and the fields.
func derive(label string, secret []byte, fields ...[]byte) [32]byte {
	out, err := hkdf.Key(sha256.New, secret, nil, string(Join(label, fields...)), 32)
	if err != nil { // only for lengths beyond 255 hashes
		panic("seal: hkdf: " + err.Error())
	}
	return [32]byte(out)
}
