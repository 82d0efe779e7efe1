// Package canary looks for secrets where they must not be: in database files,
// dumps, logs and recorded traffic.
//
// A secret is looked for as it is and in every dress that a program might have
// put it in: hexadecimal, base64 and base32 at every alignment, UTF-16, with
// JSON's and a URL's escapes. Whoever uses it should also plant something that
// must be found, so that a search which looks in the wrong place fails.
package canary

import (
	"encoding/base32"
	"encoding/base64"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// shortest is the length below which a needle would be found by chance.
const shortest = 5

// Net is a set of secrets to look for.
type Net struct {
	needles map[uint32][]needle // by the first four bytes
	names   map[string]bool
}

type needle struct {
	secret, dress string
	bytes         []byte
}

// Finding is a secret that stands where it must not.
type Finding struct {
	Secret string // the name that it was added under
	Dress  string // how it was encoded
	Where  string
	Offset int
}

func (f Finding) String() string {
	return fmt.Sprintf("%s, as %s, in %s at byte %d", f.Secret, f.Dress, f.Where, f.Offset)
}

// New is an empty net.
func New() *Net { return &Net{needles: map[uint32][]needle{}, names: map[string]bool{}} }

// Add looks for these bytes from now on. A secret that is too short to be told
// from chance is refused: choose longer ones.
func (n *Net) Add(name string, secret []byte) error {
	if len(secret) < shortest {
		return fmt.Errorf("the secret %q has %d bytes: it would be found by chance", name, len(secret))
	}
	n.names[name] = true
	for dress, bytes := range dresses(secret) {
		if len(bytes) >= shortest {
			n.add(needle{name, dress, bytes})
		}
	}
	return nil
}

// AddText looks for a text from now on, whatever its letters' case.
func (n *Net) AddText(name, secret string) error {
	for _, text := range []string{secret, strings.ToLower(secret), strings.ToUpper(secret)} {
		if err := n.Add(name, []byte(text)); err != nil {
			return err
		}
	}
	return nil
}

// Names lists the secrets, sorted.
func (n *Net) Names() []string {
	names := make([]string, 0, len(n.names))
	for name := range n.names {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

func (n *Net) add(new needle) {
	key := binary.LittleEndian.Uint32(new.bytes)
	for _, old := range n.needles[key] {
		if string(old.bytes) == string(new.bytes) {
			return
		}
	}
	n.needles[key] = append(n.needles[key], new)
}

// Search lists every place in data where a secret stands.
func (n *Net) Search(where string, data []byte) []Finding {
	var found []Finding
	for offset := 0; offset+4 <= len(data); offset++ {
		for _, needle := range n.needles[binary.LittleEndian.Uint32(data[offset:])] {
			if len(data)-offset >= len(needle.bytes) && string(data[offset:offset+len(needle.bytes)]) == string(needle.bytes) {
				found = append(found, Finding{needle.secret, needle.dress, where, offset})
			}
		}
	}
	return found
}

// SearchFolder searches every file below a folder, except those that leave says
// to leave out.
func (n *Net) SearchFolder(folder string, leave func(path string) bool) (found []Finding, searched int64, err error) {
	err = filepath.WalkDir(folder, func(path string, entry fs.DirEntry, err error) error {
		if err != nil || !entry.Type().IsRegular() || (leave != nil && leave(path)) {
			return err
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		searched += int64(len(data))
		found = append(found, n.Search(path, data)...)
		return nil
	})
	return found, searched, err
}

// dresses are the ways in which a program might have written the bytes down.
func dresses(secret []byte) map[string][]byte {
	all := map[string][]byte{
		"plain bytes":             secret,
		"hexadecimal":             []byte(hex.EncodeToString(secret)),
		"upper-case hexadecimal":  []byte(strings.ToUpper(hex.EncodeToString(secret))),
		"colon-separated hex":     []byte(spacedHex(secret, ":")),
		"space-separated hex":     []byte(spacedHex(secret, " ")),
		"a list of numbers":       []byte(numbers(secret, ",")),
		"a printed list of bytes": []byte(numbers(secret, " ")),
	}
	for shift := range 3 {
		all[fmt.Sprintf("base64, shifted by %d", shift)] = inner(base64.StdEncoding.EncodeToString, secret, shift, 3, 4)
		all[fmt.Sprintf("URL base64, shifted by %d", shift)] = inner(base64.URLEncoding.EncodeToString, secret, shift, 3, 4)
	}
	for shift := range 5 {
		all[fmt.Sprintf("base32, shifted by %d", shift)] = inner(base32.StdEncoding.EncodeToString, secret, shift, 5, 8)
		all[fmt.Sprintf("hex base32, shifted by %d", shift)] = inner(base32.HexEncoding.EncodeToString, secret, shift, 5, 8)
	}
	if utf8.Valid(secret) {
		units := utf16.Encode([]rune(string(secret)))
		all["UTF-16, little end first"] = wide(units, binary.LittleEndian)
		all["UTF-16, big end first"] = wide(units, binary.BigEndian)
		all["URL escapes"] = []byte(url.QueryEscape(string(secret)))
		if quoted, err := json.Marshal(string(secret)); err == nil {
			all["JSON escapes"] = quoted[1 : len(quoted)-1]
		}
	}
	return all
}

// inner encodes the secret as it would look behind shift other bytes, and keeps
// the letters that depend on nothing but the secret.
func inner(encode func([]byte) string, secret []byte, shift, group, letters int) []byte {
	encoded := encode(append(make([]byte, shift), secret...))
	bits := 8 * group / letters
	first := (8*shift + bits - 1) / bits
	last := 8 * (shift + len(secret)) / bits
	if first >= last {
		return nil
	}
	return []byte(encoded[first:last])
}

func wide(units []uint16, order binary.AppendByteOrder) []byte {
	var bytes []byte
	for _, unit := range units {
		bytes = order.AppendUint16(bytes, unit)
	}
	return bytes
}

func spacedHex(secret []byte, between string) string {
	pairs := make([]string, len(secret))
	for i, b := range secret {
		pairs[i] = fmt.Sprintf("%02x", b)
	}
	return strings.Join(pairs, between)
}

func numbers(secret []byte, between string) string {
	list := make([]string, len(secret))
	for i, b := range secret {
		list[i] = fmt.Sprint(b)
	}
	return strings.Join(list, between)
}

// Without is the same net but for the secrets of one name.
func (n *Net) Without(name string) *Net {
	rest := New()
	for secret := range n.names {
		if secret != name {
			rest.names[secret] = true
		}
	}
	for key, needles := range n.needles {
		for _, needle := range needles {
			if needle.secret != name {
				rest.needles[key] = append(rest.needles[key], needle)
			}
		}
	}
	return rest
}
