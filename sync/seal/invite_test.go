package seal_test

import (
	"strings"
	"testing"

	"hushcup/sync/seal"
	"hushcup/sync/seal/sealtest"

	"pgregory.net/rapid"
)

// Computed outside Go from the package comment alone: kind 1 and 2, the same with version 2, with
// kind 3, a byte longer, with version 0, with kind 0, and with version 2, a byte longer and a bit set that no byte has.
const (
	joinText    = "AQGwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsAABAgMEBQYHCAkKCwwNDg8N4s73"
	deviceText  = "AQKwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsAABAgMEBQYHCAkKCwwNDg-wz3m8"
	newerText   = "AgGwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsAABAgMEBQYHCAkKCwwNDg_abi8x"
	newKindText = "AQOwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsAABAgMEBQYHCAkKCwwNDg_AGs7V"
	versionZero = "AAGwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsAABAgMEBQYHCAkKCwwNDg8kFO9z"
	kindZero    = "AQCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsAABAgMEBQYHCAkKCwwNDg-QlVT_"
	newerLong   = "AgGwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsAABAgMEBQYHCAkKCwwNDg94xJrwwg"
	strayBit    = "AgGwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsAABAgMEBQYHCAkKCwwNDg94xJrwwh"
	longText    = "AQGwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsLCwsAABAgMEBQYHCAkKCwwNDg942d-MTQ"
)

var joinInvite = seal.Invite{Kind: seal.KindJoin, Book: club, Secret: [16]byte(counting(0, 16))}

func TestSEAL16_TextOfAnInvitation(t *testing.T) {
	device := joinInvite
	device.Kind = seal.KindDevice
	for text, invite := range map[string]seal.Invite{joinText: joinInvite, deviceText: device} {
		if invite.String() != text {
			t.Errorf("%s, want %s", invite, text)
		}
		if got, err := seal.ParseInvite(text); err != nil || got != invite {
			t.Errorf("%s reads as %v, %v", text, got, err)
		}
	}
}

func TestSEAL16_PastedAsPeoplePaste(t *testing.T) {
	for _, text := range []string{
		"https://club.example/#" + joinText,
		"https://club.example:8080/join#" + joinText + "\n",
		"https://club.example/#/join/" + joinText,
		"https://club.example/#join=" + joinText,
		"  " + joinText[:40] + "\r\n\t" + joinText[40:] + "  ",
		"\u201c" + joinText + "\u201d.",
		"<" + joinText + ">",
		joinText[:30] + "\u200b" + joinText[30:60] + "\u00ad" + joinText[60:] + "\ufeff",
	} {
		if got, err := seal.ParseInvite(text); err != nil || got != joinInvite {
			t.Errorf("%q reads as %v, %v", text, got, err)
		}
	}
}

func TestSEAL16_DamagedAndNewerAreToldApart(t *testing.T) {
	for text, want := range map[string]error{
		newerText:                 seal.ErrLinkNewer,
		newKindText:               seal.ErrLinkNewer,
		newerLong:                 seal.ErrLinkNewer,
		strayBit:                  seal.ErrLinkDamaged,
		versionZero:               seal.ErrLinkDamaged,
		kindZero:                  seal.ErrLinkDamaged,
		longText:                  seal.ErrLinkDamaged,
		"":                        seal.ErrLinkDamaged,
		"#":                       seal.ErrLinkDamaged,
		"AQ":                      seal.ErrLinkDamaged,
		joinText[:71]:             seal.ErrLinkDamaged,
		joinText[1:]:              seal.ErrLinkDamaged,
		joinText + "A":            seal.ErrLinkDamaged,
		joinText + joinText:       seal.ErrLinkDamaged,
		strings.ToLower(joinText): seal.ErrLinkDamaged,
		strings.Replace(joinText, "AB", "A!B", 1): seal.ErrLinkDamaged,
		strings.Repeat("#"+joinText, 100):         seal.ErrLinkDamaged, // longer than any link
	} {
		got, err := seal.ParseInvite(text)
		wantError(t, text, err, want)
		if got != (seal.Invite{}) {
			t.Errorf("%q: an invitation beside the error", text)
		}
	}
}

func TestSEAL16_OneWrongLetterIsDamage(t *testing.T) {
	const letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"
	for i := range joinText {
		for _, letter := range letters {
			text := joinText[:i] + string(letter) + joinText[i+1:]
			if text == joinText {
				continue
			}
			if _, err := seal.ParseInvite(text); err != seal.ErrLinkDamaged {
				t.Errorf("%q: %v", text, err)
			}
		}
	}
}

func TestSEAL16_OneInvitationOneText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		invite := seal.Invite{
			Kind:   rapid.SampledFrom([]seal.Kind{seal.KindJoin, seal.KindDevice}).Draw(t, "kind"),
			Book:   [32]byte(drawBytes(32).Draw(t, "book")),
			Secret: [16]byte(drawBytes(16).Draw(t, "secret")),
		}
		text := invite.String()
		if len(text) != 72 {
			t.Fatalf("%d letters", len(text))
		}
		if got, err := seal.ParseInvite(text); err != nil || got != invite || got.String() != text {
			t.Fatalf("%v, %v", got, err)
		}
	})
}

// Computed outside Go, with a general-purpose HMAC-SHA256, from the package comment alone.
func TestSEAL17_KeysOfAnInvitation(t *testing.T) {
	device := joinInvite
	device.Kind = seal.KindDevice
	elsewhere := joinInvite
	elsewhere.Book = [32]byte{}

	key := joinInvite.Key()
	wantHex(t, "join key", key[:], "041fbc0483b1017cfadd8a74319edec80e3ee56f4267f9d27aedc864b17366ed")
	key = device.Key()
	wantHex(t, "pairing key", key[:], "c96386e6b435dbd25896a82c7987fbcebb9b127486399654d82a65b22837dfe3")
	for invite, seed := range map[seal.Invite]string{
		joinInvite: "7de27ef3c909e209187cc4c1383bfb46798d77945a7641145d897bf07e9992e0",
		device:     "cd6cb8a62677dc01c26563c354c83bdbc6ec21655036597254742d97964d5a4b",
	} {
		want := seal.Identity{SignSeed: [32]byte(unhex(seed))}
		if invite.Public() != want.Public().Sign || invite.Sign([]byte("x")) != want.Sign([]byte("x")) {
			t.Errorf("kind %d signs with another key", invite.Kind)
		}
	}

	keys := map[[32]byte]bool{}
	for _, i := range []seal.Invite{joinInvite, device, elsewhere} {
		keys[i.Public()], keys[i.Key()] = true, true
	}
	if len(keys) != 6 {
		t.Error("invitations of another kind or book share keys")
	}
}

func TestSEAL17_AnInvitationOpensTheEpoch(t *testing.T) {
	invite := must(seal.NewInvite(sealtest.NewRand("invite"), seal.KindJoin, club))(t)
	epoch, public := newKey(t, "epoch"), invite.Public()
	info := seal.Info(seal.PurposeInvite, club, public[:], [16]byte{}, epoch.ID())
	sealed := must(seal.SealKey(sealtest.NewRand("seal"), invite.Key(), info, epoch))(t)

	carried := must(seal.ParseInvite(invite.String()))(t)
	if got, err := seal.OpenKey(carried.Key(), info, sealed, epoch.ID()); err != nil || got != epoch {
		t.Errorf("%x, %v", got, err)
	}
	message := seal.Sum("test", public[:])
	signature := carried.Sign(message[:])
	if !seal.Verify(public, message[:], signature[:]) {
		t.Error("the invitation's signature does not verify")
	}
}
