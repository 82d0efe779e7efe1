package seal_test

import (
	"crypto/ecdh"
	"crypto/ed25519"
	"math/big"
	"slices"
	"testing"

	"hushcup/sync/seal"

	"pgregory.net/rapid"
)

// field is p = 2^255 - 19.
var field = new(big.Int).Sub(new(big.Int).Lsh(big.NewInt(1), 255), big.NewInt(19))

// The points of low order are computed here from the curves' equations, not copied: on v^2 = u^3 + A u^2 + u (and its twist)
// twice u is (u^2-1)^2 / 4u(u^2+Au+1). That is 0 for u = 1 and -1; and with w = u + 1/u it is 1 where w^2 - 4w - 4 - 4A = 0
// and -1 where w^2 + 4w - 4 + 4A = 0. The curve's cofactor is 8 and the twist's 4, so there are no others.
func TestSEAL6_CheckBoxRefusesAllPointsOfLowOrder(t *testing.T) {
	a := big.NewInt(486662)
	low := []*big.Int{big.NewInt(0), big.NewInt(1), big.NewInt(-1)}
	for _, sign := range []int64{1, -1} {
		constant := new(big.Int).Sub(big.NewInt(-4), new(big.Int).Mul(big.NewInt(4*sign), a))
		for _, w := range roots(big.NewInt(1), big.NewInt(-4*sign), constant) {
			low = append(low, roots(big.NewInt(1), new(big.Int).Neg(w), big.NewInt(1))...)
		}
	}
	if len(low) != 5 {
		t.Fatalf("%d points of low order, not 5", len(low))
	}
	for _, u := range low {
		box := littleEndian(u)
		wantError(t, u.String(), seal.CheckBox(box), seal.ErrKeyLow)
		if agrees(box) {
			t.Errorf("%s is of low order, and yet X25519 agrees on a secret with it", u)
		}
		box[31] |= 0x80 // RFC 7748 ignores this bit
		wantError(t, u.String()+" with the top bit", seal.CheckBox(box), seal.ErrKeyForm)
	}
}

func TestSEAL6_CheckBoxRefusesEveryEncodingThatIsNotReduced(t *testing.T) {
	for i := range int64(19) {
		box := littleEndianOf(new(big.Int).Add(field, big.NewInt(i)))
		wantError(t, "p + "+big.NewInt(i).String(), seal.CheckBox(box), seal.ErrKeyForm)
	}
	below := littleEndianOf(new(big.Int).Sub(field, big.NewInt(2)))
	if err := seal.CheckBox(below); err != nil {
		t.Errorf("p - 2 is canonical: %v", err)
	}
}

func TestSEAL6_CheckBoxTakesWhatX25519Makes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seed := [32]byte(drawBytes(32).Draw(t, "private"))
		if err := seal.CheckBox(seal.Identity{BoxSeed: seed}.Public().Box); err != nil {
			t.Fatal(err)
		}
	})
}

// On any 32 bytes CheckBox agrees with arithmetic and with the library's refusal of a secret that is all zeros.
func TestSEAL6_CheckBoxAgreesWithTheLibrary(t *testing.T) {
	edges := rapid.Custom(func(t *rapid.T) []byte {
		offset := rapid.Int64Range(-40, 40).Draw(t, "offset")
		box := littleEndianOf(new(big.Int).Add(field, big.NewInt(offset)))
		return box[:]
	})
	rapid.Check(t, func(t *rapid.T) {
		box := [32]byte(rapid.OneOf(drawBytes(32), edges).Draw(t, "box"))
		checkBoxAgrees(t, box)
	})
}

func checkBoxAgrees(t interface {
	Fatalf(string, ...any)
}, box [32]byte) {
	reduced := fromLittleEndian(box).Cmp(field) < 0
	if got, want := seal.CheckBox(box) == nil, reduced && agrees(box); got != want {
		t.Fatalf("%x: taken %v, want %v (reduced %v)", box, got, want, reduced)
	}
}

// agrees tells whether X25519 makes a secret with the key that is not all zeros.
func agrees(box [32]byte) bool {
	private, err := ecdh.X25519().NewPrivateKey(counting(1, 32))
	if err != nil {
		panic(err)
	}
	public, err := ecdh.X25519().NewPublicKey(box[:])
	if err != nil {
		panic(err)
	}
	_, err = private.ECDH(public)
	return err == nil
}

// On -x^2 + y^2 = 1 + d x^2 y^2 the y of orders 1, 2 and 4 are 1, -1 and 0; twice a point has y = 0 where x^2 = -y^2, that is
// where d y^4 + 2 y^2 - 1 = 0: order 8.
func TestSEAL7_CheckSignRefusesAllPointsOfLowOrder(t *testing.T) {
	d := new(big.Int).Mul(big.NewInt(-121665), new(big.Int).ModInverse(big.NewInt(121666), field))
	low := []*big.Int{big.NewInt(0), big.NewInt(1), big.NewInt(-1)}
	for _, square := range roots(d, big.NewInt(2), big.NewInt(-1)) {
		low = append(low, roots(big.NewInt(1), big.NewInt(0), new(big.Int).Neg(square))...)
	}
	if len(low) != 5 {
		t.Fatalf("%d values of y for the eight points, not 5", len(low))
	}
	for _, y := range low {
		for _, sign := range []byte{0, 0x80} {
			key := littleEndian(y)
			key[31] |= sign
			wantError(t, y.String(), seal.CheckSign(key), seal.ErrKeyLow)
		}
	}
}

func TestSEAL7_CheckSignRefusesEveryEncodingThatIsNotReduced(t *testing.T) {
	for i := range int64(19) {
		for _, sign := range []byte{0, 0x80} {
			key := littleEndianOf(new(big.Int).Add(field, big.NewInt(i)))
			key[31] |= sign
			wantError(t, "p + "+big.NewInt(i).String(), seal.CheckSign(key), seal.ErrKeyForm)
		}
	}
}

// With the neutral point as key, the neutral point and zero are a signature of everything. The library accepts it.
func TestSEAL7_AKeyThatSignsEverythingVerifiesNothing(t *testing.T) {
	neutral := [32]byte{1}
	signature := append(neutral[:], make([]byte, 32)...)
	message := []byte("whatever")
	if !ed25519.Verify(neutral[:], message, signature) {
		t.Fatal("the library has become stricter: say so in check.go")
	}
	if seal.Verify(neutral, message, signature) {
		t.Error("a key of low order verifies")
	}
}

// roots solves a x^2 + b x + c = 0 modulo p.
func roots(a, b, c *big.Int) []*big.Int {
	mod := func(n *big.Int) *big.Int { return n.Mod(n, field) }
	discriminant := mod(new(big.Int).Sub(new(big.Int).Mul(b, b), mod(new(big.Int).Mul(big.NewInt(4), new(big.Int).Mul(a, c)))))
	root := new(big.Int).ModSqrt(discriminant, field)
	if root == nil {
		return nil
	}
	half := new(big.Int).ModInverse(mod(new(big.Int).Mul(big.NewInt(2), a)), field)
	one := mod(new(big.Int).Mul(new(big.Int).Sub(root, b), half))
	two := mod(new(big.Int).Mul(new(big.Int).Sub(new(big.Int).Neg(root), b), half))
	if one.Cmp(two) == 0 {
		return []*big.Int{one}
	}
	return []*big.Int{one, two}
}

// littleEndian writes a number modulo p, littleEndianOf as it is.
func littleEndian(n *big.Int) [32]byte { return littleEndianOf(new(big.Int).Mod(n, field)) }

func littleEndianOf(n *big.Int) [32]byte {
	var out [32]byte
	n.FillBytes(out[:])
	slices.Reverse(out[:])
	return out
}

func fromLittleEndian(b [32]byte) *big.Int {
	slices.Reverse(b[:])
	return new(big.Int).SetBytes(b[:])
}
