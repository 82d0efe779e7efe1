// Package seal is Hushcup's cryptography: how keys are named, handed over and derived, how bodies are sealed, and how an
// invitation and a recovery code are written down. It does no I/O and draws no randomness of its own: whoever calls it
// passes a reader of random bytes. The numbered rules are SEAL-1 ff. of ../SPEC.md; this comment has what a stranger needs to
// build a compatible package.
//
// # Notation
//
// join(label, a, b, ...) is the label and then each field, every one of them preceded by its length as 8 bytes, big-endian.
// H(label, ...) is SHA-256 of join(label, ...). D(label, secret, a, b, ...) is 32 bytes of HKDF-SHA256 (RFC 5869) with the
// secret as input keying material, an empty salt and join(label, a, b, ...) as info. Labels are ASCII and begin with
// "hushcup/1 ".
//
// # Keys
//
//	id of a symmetric key     H("hushcup/1 key", key)
//	key of a body             D("hushcup/1 body key", key ...)   over 32 bytes (an epoch) or 64 (envelope || epoch)
//	envelope                  D("hushcup/1 envelope", notebook epoch, book, sample)
//	sample, private half      D("hushcup/1 sample", notebook epoch, book, sample), clamped as RFC 7748 does
//	key under a key           D("hushcup/1 key seal", key)
//	invitation, to join       seed of Ed25519: D("hushcup/1 join sign", secret, book)
//	                          symmetric:       D("hushcup/1 join key", secret, book)
//	invitation, of a device   the same with "hushcup/1 pairing sign" and "hushcup/1 pairing key"
//	recovery device           seed of Ed25519: D("hushcup/1 recovery sign", secret)
//	                          X25519 private:  D("hushcup/1 recovery box", secret)
//
// # Bytes
//
//	sealed body      nonce (24) || XChaCha20-Poly1305(key of the body, nonce, padded plaintext, associated data)
//	padded plaintext length (2, big-endian) || plaintext || zeros, in all 256, 512, ... 32,768 or 65,496 bytes, whichever is
//	                 the least that holds it; or, for answers and guesses, 4,096
//	wrapped key      HPKE (RFC 9180) base mode, DHKEM(X25519, HKDF-SHA256), HKDF-SHA256, ChaCha20-Poly1305, no associated
//	                 data: enc (32) and ciphertext (48); info is join(purpose, book, about, member, key id), where for a
//	                 sample's private half its public half takes the place of the key id
//	key under a key  nonce (24) || XChaCha20-Poly1305(key seal, nonce, key, info), 72 bytes
//	invitation       base64url without padding of version 1 (1) || kind (1) || book (32) || secret (16) || the first 4 bytes of
//	                 H("hushcup/1 invite check", everything before)
//	recovery code    150 bits, five to a letter: version 1 (2 bits) || secret (128) || the first 20 bits of
//	                 H("hushcup/1 recovery check", version as a byte, secret)
//
// # What it does not promise
//
// Secrets are not wiped from memory: neither Go's garbage collector nor a browser lets a program do that. A body's cipher
// commits to no key, so one body can be made to open under two; only the comparison with the key ids named beside it
// (OpenUnder, Unwrap, OpenKey) makes what was read the only thing that could be read. Lengths are hidden up to the padding.
package seal
