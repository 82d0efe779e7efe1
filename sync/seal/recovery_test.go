package seal_test

import (
	"strings"
	"testing"

	"hushcup/sync/seal"
	"hushcup/sync/seal/sealtest"

	"pgregory.net/rapid"
)

// Computed outside Go from the package comment alone: versions 1, 2 and 0.
const (
	codeText  = "80041-06105-0R3GG-28A1C-60T3G-F4HG1"
	newerCode = "G0041-06105-0R3GG-28A1C-60T3G-F5AS4"
	zeroCode  = "00041-06105-0R3GG-28A1C-60T3G-FJV5D"
)

var code = seal.Recovery(counting(0, 16))

func TestSEAL18_TextOfARecoveryCode(t *testing.T) {
	if code.String() != codeText {
		t.Errorf("%s, want %s", code, codeText)
	}
	rapid.Check(t, func(t *rapid.T) {
		want := seal.Recovery(drawBytes(16).Draw(t, "secret"))
		if got, err := seal.ParseRecovery(want.String()); err != nil || got != want {
			t.Fatalf("%s: %v", want, err)
		}
	})
}

func TestSEAL18_TypedAsPeopleType(t *testing.T) {
	for _, text := range []string{
		codeText,
		strings.ToLower(codeText),
		strings.ReplaceAll(codeText, "-", ""),
		strings.ReplaceAll(codeText, "-", " "),
		strings.ReplaceAll(codeText, "-", " \u2013 "),
		strings.ReplaceAll(codeText, "0", "O"),
		strings.ReplaceAll(codeText, "0", "o"),
		strings.ReplaceAll(codeText, "1", "I"),
		strings.ReplaceAll(codeText, "1", "l"),
		"  " + codeText[:17] + "\r\n" + codeText[17:] + "\n",
		codeText[:9] + "\u00a0" + codeText[9:],
		"https://club.example/#" + codeText,
		"https://club.example/#/recover/" + codeText,
	} {
		if got, err := seal.ParseRecovery(text); err != nil || got != code {
			t.Errorf("%q: %x, %v", text, got, err)
		}
	}
}

func TestSEAL18_UReadsAsV(t *testing.T) {
	for n := range 50 {
		want := must(seal.NewRecovery(sealtest.NewRand(strings.Repeat("u", n))))(t)
		text := strings.ReplaceAll(want.String(), "V", "u")
		if got, err := seal.ParseRecovery(text); err != nil || got != want {
			t.Errorf("%q: %v", text, err)
		}
	}
}

func TestSEAL18_WhatIsWrongIsTold(t *testing.T) {
	for text, want := range map[string]error{
		"":                      seal.ErrCodeLength,
		codeText[:34]:           seal.ErrCodeLength,
		codeText + "0":          seal.ErrCodeLength,
		codeText + codeText:     seal.ErrCodeLength,
		"*" + codeText[1:]:      seal.ErrCodeLetter,
		"\u00e9" + codeText[1:]: seal.ErrCodeLetter,
		"\xff" + codeText[1:]:   seal.ErrCodeLetter,
		zeroCode:                seal.ErrCodeDamaged,
		newerCode:               seal.ErrCodeNewer,
		codeText[:34] + "2":     seal.ErrCodeDamaged,
		"G" + codeText[1:]:      seal.ErrCodeDamaged,
	} {
		got, err := seal.ParseRecovery(text)
		wantError(t, text, err, want)
		if got != (seal.Recovery{}) {
			t.Errorf("%q: a secret beside the error", text)
		}
	}
}

// Every single wrong letter and every swap of two neighbours of this code is noticed.
func TestSEAL18_TypingErrorsAreNoticed(t *testing.T) {
	const letters = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
	bare := strings.ReplaceAll(codeText, "-", "")
	var wrong []string
	for i := range bare {
		for _, letter := range letters {
			wrong = append(wrong, bare[:i]+string(letter)+bare[i+1:])
		}
		if i > 0 {
			wrong = append(wrong, bare[:i-1]+bare[i:i+1]+bare[i-1:i]+bare[i+1:])
		}
	}
	tried := 0
	for _, text := range wrong {
		if text == bare {
			continue
		}
		tried++
		if _, err := seal.ParseRecovery(text); err != seal.ErrCodeDamaged {
			t.Errorf("%q: %v", text, err)
		}
	}
	if tried < 30*31 {
		t.Errorf("only %d errors tried", tried)
	}
}

// Computed outside Go, with a general-purpose HMAC-SHA256, from the package comment alone.
func TestSEAL19_TheRecoveryDeviceComesFromTheCodeAlone(t *testing.T) {
	identity := code.Identity()
	wantHex(t, "sign", identity.SignSeed[:], "af7f0137b172af0fab51df1a7dffc987ae10a5472ed17ee09a42d73f359cb557")
	wantHex(t, "box", identity.BoxSeed[:], "ac314781f3af0d1f7889581790dca88e94d8d58e786c7ab61bc6559c7526131d")

	epoch := newKey(t, "epoch")
	info := seal.Info(seal.PurposeEpoch, club, nil, vega, epoch.ID())
	w := must(seal.Wrap(sealtest.NewRand("wrap"), identity.Public().Box, info, epoch))(t)
	typed := must(seal.ParseRecovery(strings.ToLower(codeText)))(t)
	if got, err := seal.Unwrap(typed.Identity().BoxSeed, info, w, epoch.ID()); err != nil || got != epoch {
		t.Errorf("%x, %v", got, err)
	}
}
