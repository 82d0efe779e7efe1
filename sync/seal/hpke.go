package seal

import (
	"crypto/ecdh"
	"crypto/hkdf"
	"crypto/sha256"
	"encoding/binary"

	"golang.org/x/crypto/chacha20poly1305"
)

// HPKE base mode of RFC 9180, single shot, for one suite. It is written out here because the standard library's crypto/hpke
// takes no randomness from outside; the tests compare with the RFC's vectors and with that package, both ways.

const (
	kemID  = 0x0020 // DHKEM(X25519, HKDF-SHA256)
	kdfID  = 0x0001 // HKDF-SHA256
	aeadID = 0x0003 // ChaCha20Poly1305
)

var (
	kemSuite  = binary.BigEndian.AppendUint16([]byte("KEM"), kemID)
	hpkeSuite = binary.BigEndian.AppendUint16(binary.BigEndian.AppendUint16(binary.BigEndian.AppendUint16(
		[]byte("HPKE"), kemID), kdfID), aeadID)
)

// hpkeSeal is SealBase with the ephemeral key that DeriveKeyPair makes of ikm.
func hpkeSeal(ikm [32]byte, to [32]byte, info, ad, plain []byte) (enc [32]byte, box []byte, err error) {
	ephemeral := deriveKeyPair(ikm)
	enc = boxPublic(ephemeral)
	shared, err := sharedSecret(ephemeral, to, enc, to)
	if err != nil {
		return enc, nil, err
	}
	key, nonce := keySchedule(shared, info)
	return enc, chacha(key).Seal(nil, nonce, plain, ad), nil
}

// hpkeOpen is OpenBase.
func hpkeOpen(private, enc [32]byte, info, ad, box []byte) ([]byte, error) {
	shared, err := sharedSecret(private, enc, enc, boxPublic(private))
	if err != nil {
		return nil, err
	}
	key, nonce := keySchedule(shared, info)
	plain, err := chacha(key).Open(nil, nonce, box, ad)
	if err != nil {
		return nil, ErrUnreadable
	}
	return plain, nil
}

// deriveKeyPair is DeriveKeyPair of section 7.1.3; it returns the private half.
func deriveKeyPair(ikm [32]byte) [32]byte {
	prk := labeledExtract(kemSuite, nil, "dkp_prk", ikm[:])
	return [32]byte(labeledExpand(kemSuite, prk, "sk", nil, 32))
}

// sharedSecret is what Encap and Decap of section 4.1 share: the Diffie-Hellman of one private and one public half, bound to
// both public halves.
func sharedSecret(private, public, enc, recipient [32]byte) ([]byte, error) {
	if err := CheckBox(public); err != nil {
		return nil, err
	}
	peer, err := ecdh.X25519().NewPublicKey(public[:])
	if err != nil {
		return nil, ErrKeyForm
	}
	dh, err := boxKey(private).ECDH(peer)
	if err != nil { // all zeros; CheckBox has refused every key that leads here
		return nil, ErrKeyLow
	}
	prk := labeledExtract(kemSuite, nil, "eae_prk", dh)
	return labeledExpand(kemSuite, prk, "shared_secret", append(enc[:], recipient[:]...), 32), nil
}

// keySchedule is KeySchedule of section 5.1 for mode_base, as far as a single shot needs it.
func keySchedule(shared, info []byte) (key, nonce []byte) {
	context := []byte{0} // mode_base
	context = append(context, labeledExtract(hpkeSuite, nil, "psk_id_hash", nil)...)
	context = append(context, labeledExtract(hpkeSuite, nil, "info_hash", info)...)
	secret := labeledExtract(hpkeSuite, shared, "secret", nil)
	key = labeledExpand(hpkeSuite, secret, "key", context, chacha20poly1305.KeySize)
	nonce = labeledExpand(hpkeSuite, secret, "base_nonce", context, chacha20poly1305.NonceSize)
	return key, nonce
}

func labeledExtract(suite, salt []byte, label string, ikm []byte) []byte {
	labeled := append([]byte("HPKE-v1"), suite...)
	labeled = append(labeled, label...)
	labeled = append(labeled, ikm...)
	prk, err := hkdf.Extract(sha256.New, labeled, salt)
	if err != nil {
		panic("seal: hkdf: " + err.Error())
	}
	return prk
}

func labeledExpand(suite, prk []byte, label string, info []byte, length int) []byte {
	labeled := binary.BigEndian.AppendUint16(nil, uint16(length))
	labeled = append(labeled, "HPKE-v1"...)
	labeled = append(labeled, suite...)
	labeled = append(labeled, label...)
	labeled = append(labeled, info...)
	out, err := hkdf.Expand(sha256.New, prk, string(labeled), length)
	if err != nil {
		panic("seal: hkdf: " + err.Error())
	}
	return out
}
