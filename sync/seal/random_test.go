package seal_test

import (
	"bytes"
	"strings"
	"testing"

	"hushcup/sync/seal"
)

func TestSEAL20_AShortSourceMakesNothing(t *testing.T) {
	key, box := newKey(t, "key"), newIdentity(t, "lyra").Public().Box
	for what, c := range map[string]struct {
		bytes int
		make  func(*bytes.Reader) (made bool, err error)
	}{
		"key":      {32, func(r *bytes.Reader) (bool, error) { k, err := seal.NewKey(r); return k != seal.Key{}, err }},
		"identity": {64, func(r *bytes.Reader) (bool, error) { i, err := seal.NewIdentity(r); return i != seal.Identity{}, err }},
		"sample":   {32, func(r *bytes.Reader) (bool, error) { s, err := seal.NewSample(r); return s != seal.Sample{}, err }},
		"recovery": {16, func(r *bytes.Reader) (bool, error) { s, err := seal.NewRecovery(r); return s != seal.Recovery{}, err }},
		"invite": {16, func(r *bytes.Reader) (bool, error) {
			i, err := seal.NewInvite(r, seal.KindJoin, club)
			return i != seal.Invite{}, err
		}},
		"wrap": {32, func(r *bytes.Reader) (bool, error) {
			w, err := seal.Wrap(r, box, nil, key)
			return w != seal.Wrapped{}, err
		}},
		"key under a key": {24, func(r *bytes.Reader) (bool, error) {
			s, err := seal.SealKey(r, key, nil, key)
			return s != nil, err
		}},
		"body": {24, func(r *bytes.Reader) (bool, error) {
			s, err := seal.Seal(r, key, nil, nil, seal.Powers)
			return s != nil, err
		}},
	} {
		for _, short := range []int{0, 1, c.bytes - 1} {
			made, err := c.make(bytes.NewReader(counting(1, short)))
			wantError(t, what, err, seal.ErrRandom)
			if made {
				t.Errorf("%s: something was made of %d bytes", what, short)
			}
		}
		source := bytes.NewReader(counting(1, c.bytes+9))
		if made, err := c.make(source); err != nil || !made || source.Len() != 9 {
			t.Errorf("%s: made %v, %v, with %d of %d bytes left", what, made, err, source.Len(), c.bytes+9)
		}
	}
}

func TestSEAL20_ThePackageHasNoSourceOfItsOwn(t *testing.T) {
	refused := []string{"os", "net", "net/", "time", "database/", "math/rand", "crypto/rand", "crypto/hpke", "syscall", "hushcup/", "fmt"}
	for path, file := range sources(t) {
		for _, i := range file.Imports {
			name := strings.Trim(i.Path.Value, `"`)
			for _, r := range refused {
				if name == r || (strings.HasSuffix(r, "/") || r == "math/rand") && strings.HasPrefix(name, r) {
					t.Errorf("%s imports %s", path, name)
				}
			}
		}
	}
}
