package seal

import (
	"crypto/subtle"
	"encoding/base64"
	"io"
	"strings"
)

// Kind is what an invitation brings: a person or a device.
type Kind uint8

// The kinds of invitation. Each derives its keys under its own label, so that neither can stand in for the other.
const (
	KindJoin   Kind = 1 // a person into a club
	KindDevice Kind = 2 // a further device to a member, by pairing
)

// Invite is what an invitation's link or QR code carries after the host. Whoever has it can read the book and, within the
// invitation's limits, join it.
type Invite struct {
	Kind   Kind
	Book   [32]byte
	Secret [16]byte
}

const (
	inviteVersion  = 1
	inviteCheckLen = 4
	inviteLen      = 2 + 32 + 16 // version, kind, book, secret
	longestLink    = 4096        // far beyond any link; what is pasted may be anything
)

// inviteText refuses stray bits and line breaks, so that an invitation has one text.
var inviteText = base64.RawURLEncoding.Strict()

// NewInvite draws an invitation's secret.
func NewInvite(rand io.Reader, kind Kind, book [32]byte) (Invite, error) {
	i := Invite{Kind: kind, Book: book}
	if err := draw(rand, i.Secret[:]); err != nil {
		return Invite{}, err
	}
	return i, nil
}

// Public is the Ed25519 key that the book knows the invitation by.
func (i Invite) Public() [32]byte { return signPublic(i.derive(" sign")) }

// Sign signs as the invitation: a join, or the right to read the book before it. The message is a Sum.
func (i Invite) Sign(message []byte) [64]byte { return sign(i.derive(" sign"), message) }

// Key is what the book's epoch is sealed under for whoever has the invitation.
func (i Invite) Key() Key { return i.derive(" key") }

func (i Invite) derive(use string) [32]byte {
	label := "hushcup/1 join"
	if i.Kind == KindDevice {
		label = "hushcup/1 pairing"
	}
	return derive(label+use, i.Secret[:], i.Book[:])
}

// String is the text that stands in a link's fragment, in a QR code, or to be pasted.
func (i Invite) String() string {
	raw := make([]byte, 0, inviteLen+inviteCheckLen)
	raw = append(raw, inviteVersion, byte(i.Kind))
	raw = append(raw, i.Book[:]...)
	raw = append(raw, i.Secret[:]...)
	raw = append(raw, inviteCheck(raw)...)
	return inviteText.EncodeToString(raw)
}

// ParseInvite reads an invitation's text. It may be pasted as a whole link, broken into lines, or with marks around it. The
// check comes first in every version to come, so that a typing error is never mistaken for a newer version.
func ParseInvite(text string) (Invite, error) {
	raw, err := inviteText.DecodeString(inviteLetters(text))
	if err != nil || len(raw) < 2+inviteCheckLen {
		return Invite{}, ErrLinkDamaged
	}
	body, check := raw[:len(raw)-inviteCheckLen], raw[len(raw)-inviteCheckLen:]
	if subtle.ConstantTimeCompare(inviteCheck(body), check) != 1 || body[0] == 0 || body[1] == 0 {
		return Invite{}, ErrLinkDamaged
	}
	if body[0] != inviteVersion || Kind(body[1]) > KindDevice {
		return Invite{}, ErrLinkNewer
	}
	if len(body) != inviteLen {
		return Invite{}, ErrLinkDamaged
	}
	return Invite{Kind: Kind(body[1]), Book: [32]byte(body[2:34]), Secret: [16]byte(body[34:])}, nil
}

func inviteCheck(body []byte) []byte {
	sum := Sum("hushcup/1 invite check", body)
	return sum[:inviteCheckLen]
}

// inviteLetters finds the text in what was pasted: the fragment if there is one, without blanks, and without what stands
// around it (a full stop, quotation marks, brackets).
func inviteLetters(text string) string {
	letters := strings.Map(func(r rune) rune {
		if blank(r) {
			return -1
		}
		return r
	}, fragment(text))
	return strings.TrimFunc(letters, func(r rune) bool {
		return !(r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-' || r == '_')
	})
}

// fragment is what stands at the end of a link's fragment, whatever route leads to it there ("#/join/..." or "#join=..."),
// or everything; nothing if it is too long to be a link.
func fragment(text string) string {
	if len(text) > longestLink {
		return ""
	}
	text = text[strings.LastIndexByte(text, '#')+1:]
	return text[strings.LastIndexAny(text, "/=")+1:]
}

// blank tells the spaces, breaks and invisible marks that mail and chat programs put into a text.
func blank(r rune) bool {
	switch r {
	case ' ', '\t', '\n', '\r', '\v', '\f', 0x85, 0xa0, 0xad, 0x202f, 0x2060, 0x3000, 0xfeff:
		return true
	}
	return r >= 0x2000 && r <= 0x200f || r >= 0x2028 && r <= 0x202e
}
