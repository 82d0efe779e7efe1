package sim

import (
	"bytes"
	"encoding/binary"

	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// marker begins every plaintext of a world.
const marker = "what nobody else may read #"

// secrets are what must never stand in clear in a frame to a server or in a store.
type secrets struct {
	keys   map[[32]byte]string // 32 bytes that a phone drew: seeds, epoch keys, ephemeral keys
	small  map[[16]byte]string // the secrets of invitations and recovery codes
	frames [][]byte            // kept only in some worlds, as looking for keys takes time
	last   [32]byte
	keep   bool
}

func newSecrets(keep bool) secrets {
	return secrets{keys: map[[32]byte]string{}, small: map[[16]byte]string{}, keep: keep}
}

// tap is a phone's randomness, and remembers what becomes a key.
type tap struct {
	from    *rng
	secrets *secrets
}

func (t *tap) Read(into []byte) (int, error) {
	n, err := t.from.Read(into)
	if t.secrets.keep && len(into) == 32 {
		t.secrets.last = [32]byte(into)
		t.secrets.keys[t.secrets.last] = "a key that a phone drew"
	}
	return n, err
}

// link notes an invitation that is shown to somebody.
func (s *secrets) link(text string) {
	if invite, err := seal.ParseInvite(text); err == nil {
		s.small[invite.Secret] = "the secret of an invitation"
		s.keys[invite.Key()] = "the key of an invitation"
	}
}

// code notes a recovery code that is written down.
func (s *secrets) code(text string) {
	if code, err := seal.ParseRecovery(text); err == nil {
		s.small[code] = "a recovery code"
		identity := code.Identity()
		s.keys[identity.SignSeed], s.keys[identity.BoxSeed] = "the recovery device's seed", "the recovery device's seed"
	}
}

// watchFrame looks at what leaves a phone.
func (w *World) watchFrame(frame []byte) {
	if bytes.Contains(frame, []byte(marker)) {
		w.fail("promise 3: a plaintext leaves a phone in clear")
	}
	if w.secrets.keep {
		w.secrets.frames = append(w.secrets.frames, frame)
	}
}

// checkSecrets searches all frames and the store, once everything is over.
func (w *World) checkSecrets() {
	w.deriveSecrets()
	var search searcher
	search.add(w.secrets.keys, w.secrets.small)
	look := func(where string, b []byte) {
		if bytes.Contains(b, []byte(marker)) {
			w.fail("promise 3: a plaintext stands in clear in %s", where)
		}
		if what, found := search.in(b); found {
			w.fail("promise 3: %s stands in clear in %s", what, where)
		}
	}
	for _, f := range w.secrets.frames {
		look("a frame to a server", f)
	}
	w.store.Each(func(_ oplog.BookID, _ uint64, header, body, sig []byte) {
		look("a stored header", header)
		look("a stored body", body)
		look("a stored signature", sig)
	})
}

// deriveSecrets adds what follows from the keys that phones drew: envelopes, and the sample keys that nobody asked to unseal.
func (w *World) deriveSecrets() {
	if !w.secrets.keep {
		return
	}
	for _, ring := range w.notebookKeys() {
		for _, b := range w.observers[0].order {
			for _, s := range b.reckon.samples {
				w.secrets.keys[seal.Envelope(ring, b.id, s.id)] = "an envelope"
				info, _ := b.state.Sample(s.id)
				private := seal.SampleFor(ring, b.id, s.id)
				if private.Public == info.Body.Key && info.Private == nil && !w.unsealed[s.id] {
					w.secrets.keys[private.Private] = "the key of a sealed sample"
				}
			}
		}
	}
}

// searcher looks for many secrets at once: by their first eight bytes, behind a table of their first two.
type searcher struct {
	begins [1 << 16]bool
	keys   map[uint64][]secret
}

type secret struct {
	bytes []byte
	what  string
}

func (s *searcher) add(keys map[[32]byte]string, small map[[16]byte]string) {
	s.keys = map[uint64][]secret{}
	for key, what := range keys {
		s.one(bytes.Clone(key[:]), what)
	}
	for key, what := range small {
		s.one(bytes.Clone(key[:]), what)
	}
}

func (s *searcher) one(b []byte, what string) {
	s.begins[binary.LittleEndian.Uint16(b)] = true
	first := binary.LittleEndian.Uint64(b)
	s.keys[first] = append(s.keys[first], secret{b, what})
}

func (s *searcher) in(b []byte) (what string, found bool) {
	for ; len(b) >= 16; b = b[1:] {
		if !s.begins[binary.LittleEndian.Uint16(b)] {
			continue
		}
		for _, secret := range s.keys[binary.LittleEndian.Uint64(b)] {
			if bytes.HasPrefix(b, secret.bytes) {
				return secret.what, true
			}
		}
	}
	return "", false
}
