package atlas

import (
	"encoding/hex"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestEncodedPriorComesBack(t *testing.T) {
	p := Builtin().Prior()
	narrowed, err := p.Narrow("origin/africa", "origin/asia/laos")
	if err != nil {
		t.Fatal(err)
	}
	learned := narrowed.Learn(observatory)
	for name, p := range map[string]*Prior{"built in": p, "narrowed": narrowed, "learned": learned} {
		encoded := p.Encode()
		// It travels in one sealed body of 64 KiB, with room to spare.
		if len(encoded) > 32<<10 {
			t.Errorf("%s: %d bytes", name, len(encoded))
		}
		back, err := p.Atlas().DecodePrior(encoded)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if back.Hash() != p.Hash() {
			t.Errorf("%s: another hash", name)
		}
		for f := range Facets {
			if !slices.Equal(back.Joint().Marginal(f), p.Joint().Marginal(f)) {
				t.Errorf("%s: another joint in %v", name, f)
			}
		}
	}
}

// TestPinnedPrior keeps the built-in prior from changing unnoticed: flights pin
// it. Whoever changes facts or rules raises Version and writes the new hashes.
func TestPinnedPrior(t *testing.T) {
	atlas, prior := Builtin().Hash(), Builtin().Prior().Hash()
	if got := hex.EncodeToString(atlas[:8]); got != pinnedAtlas {
		t.Errorf("version %d of the atlas hashes to %s, not %s", Version, got, pinnedAtlas)
	}
	if got := hex.EncodeToString(prior[:8]); got != pinnedPrior {
		t.Errorf("version %d of the prior hashes to %s, not %s", Version, got, pinnedPrior)
	}
}

const (
	pinnedAtlas = "6c3e2a6973790cd5"
	pinnedPrior = "d160a150641ad1a1"
)

func TestDecodeRefusesWhatEncodeWouldNotWrite(t *testing.T) {
	a := Builtin()
	good := a.Prior().Encode()
	head := len(priorMagic) + 32
	for name, spoil := range map[string]func([]byte) []byte{
		"empty":           func([]byte) []byte { return nil },
		"another magic":   func(b []byte) []byte { b[0] ^= 1; return b },
		"another atlas":   func(b []byte) []byte { b[len(priorMagic)] ^= 1; return b },
		"truncated":       func(b []byte) []byte { return b[:len(b)-1] },
		"a tail":          func(b []byte) []byte { return append(b, 0) },
		"a share changed": func(b []byte) []byte { b[head] ^= 1; return b },
		"a long varint":   func(b []byte) []byte { return append(append(b[:head:head], 0x80|b[head], 0x80), b[head+1:]...) },
		"half":            func(b []byte) []byte { return b[:len(b)/2] },
	} {
		if _, err := a.DecodePrior(spoil(slices.Clone(good))); err == nil {
			t.Errorf("%s is accepted", name)
		}
	}
}

// FuzzDecodePrior fuzzes what follows the magic line and the atlas's hash. Give
// it -fuzzminimizetime 1x: a prior is long, and shrinking it finds nothing.
func FuzzDecodePrior(f *testing.F) {
	a := Builtin()
	narrowed, _ := a.Prior().Narrow("process/washed", "process/natural/open")
	head := a.Prior().Encode()[:len(priorMagic)+32]
	for _, p := range []*Prior{a.Prior(), narrowed, a.Prior().Learn(observatory)} {
		f.Add(p.Encode()[len(head):])
	}
	f.Fuzz(func(t *testing.T, rest []byte) {
		encoded := append(head[:len(head):len(head)], rest...)
		p, err := a.DecodePrior(encoded)
		if err != nil {
			return
		}
		if !slices.Equal(p.Encode(), encoded) {
			t.Fatal("two encodings of one prior")
		}
		if sum := p.Joint().Marginal(Origin)[0]; math.Abs(sum-1) > 1e-9 {
			t.Fatalf("a prior that adds up to %v", sum)
		}
	})
}

// observatory is what the club at the observatory has drunk: invented lots.
var observatory = []Sample{
	{"origin/africa/ethiopia/guji", "process/natural", "variety/arabica/landrace/mixed", "decaf/no"},
	{"origin/africa/ethiopia/guji", "process/natural", "variety/arabica/landrace/jarc", "decaf/no"},
	{"origin/africa/ethiopia/sidama", "process/natural/closed", "variety/arabica/landrace", "decaf/no"},
	{"origin/africa/kenya", "process/washed/tank/twice", "variety/arabica/bourbon/sl28", "variety/arabica/typica/sl34", "decaf/no"},
	{"origin/south-america/colombia/huila", "process/natural", "variety/arabica/landrace/pink-bourbon", "decaf/yes/ethyl-acetate"},
}

func TestLearningMovesTowardsTheClub(t *testing.T) {
	p := Builtin().Prior()
	learned := p.Learn(observatory)
	more := func(id NodeID) {
		t.Helper()
		before, _ := p.Joint().Mass(id)
		after, _ := learned.Joint().Mass(id)
		if after <= before {
			t.Errorf("%s went from %v to %v", id, before, after)
		}
	}
	for _, id := range []NodeID{"origin/africa", "origin/africa/ethiopia", "origin/africa/ethiopia/guji", "process/natural", "decaf/yes/ethyl-acetate", "variety/arabica/landrace"} {
		more(id)
	}
	// A club that drinks naturals drinks them from elsewhere too.
	if before, after := given(t, p, "process/natural", "origin/asia/india"), given(t, learned, "process/natural", "origin/asia/india"); after <= before {
		t.Errorf("naturals from India went from %v to %v", before, after)
	}
	// But five cups do not make a world.
	if m, _ := learned.Joint().Mass("origin/africa/ethiopia"); m > 0.3 {
		t.Errorf("Ethiopia at %v after three cups", m)
	}
	if m, _ := learned.Joint().Mass("origin/asia/laos"); m == 0 {
		t.Error("Laos became impossible")
	}
}

// TestLearningOriginIsDirichlet checks one number by hand: the share of an area
// is (12 q + n) / (12 + N).
func TestLearningOriginIsDirichlet(t *testing.T) {
	p := Builtin().Prior()
	before, _ := p.Joint().Mass("origin/africa")
	after, _ := p.Learn(observatory).Joint().Mass("origin/africa")
	if want := (12*before + 4) / (12 + 5); math.Abs(after-want) > 2e-4 {
		t.Errorf("Africa at %v, want %v", after, want)
	}
}

func TestLearningForgetsTheOrder(t *testing.T) {
	p := Builtin().Prior()
	want := p.Learn(observatory).Hash()
	rapid.Check(t, func(t *rapid.T) {
		shuffled := rapid.Permutation(observatory).Draw(t, "samples")
		for i := range shuffled {
			shuffled[i] = rapid.Permutation(shuffled[i]).Draw(t, "nodes")
		}
		if p.Learn(shuffled).Hash() != want {
			t.Fatal("another order gives another prior")
		}
	})
}

func TestLearningConvergesToWhatIsDrunk(t *testing.T) {
	var samples []Sample
	for range 2000 {
		samples = append(samples, Sample{"origin/africa/kenya/nyeri", "process/natural/open", "roast/dark"})
	}
	p := Builtin().Prior().Learn(samples)
	for _, id := range []NodeID{"origin/africa/kenya/nyeri", "process/natural/open", "roast/dark"} {
		if m, _ := p.Joint().Mass(id); m < 0.97 {
			t.Errorf("%s at %v after 2,000 cups", id, m)
		}
	}
	if p := Builtin().Prior(); p.Learn(nil).Hash() != p.Hash() || p.Learn([]Sample{{"origin/atlantis"}}).Hash() != p.Hash() {
		t.Error("nothing known changes the prior")
	}
}

func TestAddedNodesTakeTheirPartOfTheUnlisted(t *testing.T) {
	a := Builtin()
	more, err := a.With(
		Edit{Parent: "origin/africa/ethiopia", Slug: "arsi", Label: "Arsi", Share: 4000},
		Edit{Parent: "origin/africa/ethiopia/guji", Slug: "hambela", Label: "Hambela", Share: 3000},
		Edit{Parent: "process/natural/open", Slug: "raised-beds", Label: "On raised beds", Share: 5000},
	)
	if err != nil {
		t.Fatal(err)
	}
	before, after := a.Prior(), more.Prior()
	for _, id := range []NodeID{"origin/africa/ethiopia", "origin/africa/ethiopia/guji", "origin/africa/kenya/nyeri", "process/natural/open", "variety/arabica/landrace/mixed"} {
		x, _ := before.Joint().Mass(id)
		y, _ := after.Joint().Mass(id)
		if math.Abs(x-y) > 1e-4 {
			t.Errorf("%s went from %v to %v", id, x, y)
		}
	}
	guji, _ := after.Joint().Mass("origin/africa/ethiopia/guji")
	hambela, _ := after.Joint().Mass("origin/africa/ethiopia/guji/hambela")
	if math.Abs(hambela/guji-0.3) > 1e-3 {
		t.Errorf("Hambela has %v of Guji", hambela/guji)
	}
	if given(t, after, "variety/arabica/landrace/mixed", "origin/africa/ethiopia/arsi") < 0.3 {
		t.Error("a new region of Ethiopia does not have Ethiopia's varieties")
	}
	if more.Hash() == a.Hash() {
		t.Error("the hash does not see the additions")
	}
	learned := before.Learn(observatory)
	carried, err := learned.On(more)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := more.DecodePrior(carried.Encode()); err != nil {
		t.Error(err)
	}
	if _, err := carried.On(a); err == nil {
		t.Error("a prior goes back to an atlas with less")
	}
	if _, err := a.DecodePrior(carried.Encode()); err == nil {
		t.Error("a prior of another atlas is accepted")
	}
}

func TestEditsAreChecked(t *testing.T) {
	for name, e := range map[string]Edit{
		CodeUnknown:      {Parent: "origin/atlantis", Slug: "x", Share: 1},
		CodeTaken:        {Parent: "origin/africa", Slug: "kenya", Share: 1},
		"the rest":       {Parent: "origin/africa", Slug: "elsewhere", Share: 1},
		"below the rest": {Parent: "origin/africa/elsewhere", Slug: "togo", Share: 1},
		CodeBadSlug:      {Parent: "origin/africa", Slug: "To go", Share: 1},
		CodeBadShare:     {Parent: "origin/africa", Slug: "togo", Share: 10000},
		"an ordered one": {Parent: "roast", Slug: "blue", Share: 1},
		"decaf or not":   {Parent: "decaf", Slug: "perhaps", Share: 1},
	} {
		if _, err := Builtin().With(e); err == nil {
			t.Errorf("%s is accepted", name)
		}
	}
}
