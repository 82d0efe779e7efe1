package atlas

import (
	"math"
	"slices"
	"strings"
	"testing"
)

func TestTreesAreWhole(t *testing.T) {
	a := Builtin()
	for f := range Facets {
		tree := a.Tree(f)
		if tree.At(0).ID != f.Root() || tree.Facet() != f {
			t.Errorf("%v: root is %q", f, tree.At(0).ID)
		}
		leaves := 0
		for i := range tree.Len() {
			n := tree.At(i)
			if back, err := tree.Index(n.ID); err != nil || back != i {
				t.Errorf("%s: index %d, %v", n.ID, back, err)
			}
			if i > 0 && (tree.At(tree.Parent(i)).ID != n.ID.Parent() || !validSlug(n.ID.Slug())) {
				t.Errorf("%s stands under %s", n.ID, tree.At(tree.Parent(i)).ID)
			}
			if n.Label == "" || n.Basis == "" {
				t.Errorf("%s has no label or no basis", n.ID)
			}
			low, high := tree.LeafRange(i)
			if tree.IsLeaf(i) {
				if low != leaves || high != low+1 || tree.Leaf(low) != i {
					t.Errorf("%s: leaves %d to %d, want %d", n.ID, low, high, leaves)
				}
				leaves++
			}
			checkRest(t, tree, i)
		}
		if leaves != tree.Leaves() {
			t.Errorf("%v: %d leaves, counted %d", f, tree.Leaves(), leaves)
		}
	}
}

// checkRest looks for exactly one leaf for what is not listed under every inner
// node, and for siblings in order.
func checkRest(t *testing.T, tree *Tree, index int) {
	rests := 0
	var slugs []string
	for child := range tree.Children(index) {
		if tree.At(child).Rest {
			rests++
		}
		slugs = append(slugs, tree.At(child).ID.Slug())
	}
	want := 1
	if tree.IsLeaf(index) || index == 0 && tree.Facet().exhaustive() {
		want = 0
	}
	if rests != want {
		t.Errorf("%s has %d leaves for what is not listed, want %d", tree.At(index).ID, rests, want)
	}
	if !tree.Facet().Ordered() && !slices.IsSorted(slugs) {
		t.Errorf("%s: children out of order: %v", tree.At(index).ID, slugs)
	}
}

// TestVocabularyIsThere names what the reference vocabulary lists, a few of
// each kind, and how much there is of it.
func TestVocabularyIsThere(t *testing.T) {
	a := Builtin()
	countries, regions := 0, 0
	tree := a.Tree(Origin)
	for i := range tree.Len() {
		n := tree.At(i)
		switch {
		case n.Rest:
		case n.ID.Depth() == 2:
			countries++
		case n.ID.Depth() == 3:
			regions++
		}
	}
	if countries != 42 || regions < 160 {
		t.Errorf("%d countries, %d regions; the vocabulary has 42 and more than 160", countries, regions)
	}
	for _, id := range []NodeID{
		"origin/africa/ethiopia/guji", "origin/asia/timor-leste/ermera", "origin/asia/hawaii/kau", "origin/central-america/jamaica/blue-mountains",
		"origin/south-america/ecuador/galapagos", "origin/africa/ethiopia/elsewhere", "origin/elsewhere",
		"process/wet-hulled", "process/monsooned", "process/washed/closed/carbonic", "process/additions/fruit", "process/honey/honey/black",
		"variety/arabica/introgressed/catimor/ateng", "variety/arabica/introgressed/s795", "variety/canephora/nganda", "variety/liberica", "variety/eugenioides",
		"decaf/yes/dichloromethane", "altitude/above-2100", "roast/moderately-dark",
	} {
		if _, err := a.Node(id); err != nil {
			t.Errorf("%s: %v", id, err)
		}
	}
}

func TestEveryFactNamesAKnownNode(t *testing.T) {
	a := Builtin()
	for id, f := range figures() {
		if _, err := a.Node(id); err != nil {
			t.Error(err)
		}
		for _, counts := range [][]Count{f.Processes, f.Varieties, f.Known, f.Shares} {
			for _, c := range counts {
				if _, err := a.Node(c.Node); err != nil {
					t.Errorf("%s: %v", id, err)
				}
			}
		}
		for _, family := range f.UsualFamilies {
			if _, err := a.Node(family); err != nil {
				t.Errorf("%s: %v", id, err)
			}
		}
		if total(f.Known) > 100 {
			t.Errorf("%s: %d %% of its arabica is known", id, total(f.Known))
		}
	}
}

// TestProductionFigures compares a few embedded figures with USDA PSD, mean of
// 2018 to 2020, thousand bags of 60 kg.
func TestProductionFigures(t *testing.T) {
	for id, want := range map[NodeID][2]float64{
		"origin/south-america/brazil": {42200, 15700},
		"origin/asia/vietnam":         {1065, 29576},
		"origin/africa/ethiopia":      {7218, 0},
		"origin/africa/dr-congo":      {73, 167},
		"origin/asia/hawaii":          {33, 0},
	} {
		f := figures()[id]
		if f == nil || f.Arabica != want[0] || f.Canephora != want[1] {
			t.Errorf("%s: %+v, want %v", id, f, want)
		}
	}
}

func TestPriorIsWholeAndLeavesNothingOut(t *testing.T) {
	p := Builtin().Prior()
	check := func(f Facet, r row) {
		tree := p.atlas.trees[f]
		for i := range tree.nodes {
			sum := 0
			for child := range tree.Children(i) {
				sum += int(r[child])
				if r[child] == 0 {
					t.Errorf("%s is impossible", tree.At(child).ID)
				}
			}
			if !tree.IsLeaf(i) && sum != Whole {
				t.Errorf("below %s: %d", tree.At(i).ID, sum)
			}
		}
	}
	check(Origin, p.origin)
	for f := Process; f < Facets; f++ {
		for _, r := range p.rows[f] {
			check(f, r)
		}
		if len(p.at[f]) != p.atlas.trees[Origin].Leaves() {
			t.Errorf("%v: rows for %d origins", f, len(p.at[f]))
		}
	}
	for f := range Facets {
		if got := p.Joint().Marginal(f)[0]; math.Abs(got-1) > 1e-12 {
			t.Errorf("%v adds up to %v", f, got)
		}
	}
}

func given(t *testing.T, p *Prior, what, where NodeID) float64 {
	t.Helper()
	both, err := p.atlas.Event(what, where)
	if err != nil {
		t.Fatal(err)
	}
	alone, _ := p.atlas.Event(where)
	return p.Joint().Of(both) / p.Joint().Of(alone)
}

// TestPriorSaysWhatTheTradeKnows asks for relations, not for numbers.
func TestPriorSaysWhatTheTradeKnows(t *testing.T) {
	p := Builtin().Prior()
	for name, c := range map[string]struct {
		what           NodeID
		likelier, than NodeID
	}{
		"washed in Kenya":            {"process/washed", "origin/africa/kenya", "origin/south-america/brazil"},
		"natural in Brazil":          {"process/natural", "origin/south-america/brazil", "origin/central-america/guatemala"},
		"wet-hulled in Aceh":         {"process/wet-hulled", "origin/asia/indonesia/aceh", "origin/asia/indonesia/west-java"},
		"wet-hulled in Java":         {"process/wet-hulled", "origin/asia/indonesia/west-java", "origin/africa/kenya"},
		"landraces in Ethiopia":      {"variety/arabica/landrace/mixed", "origin/africa/ethiopia", "origin/africa/kenya"},
		"SL28 in Kenya":              {"variety/arabica/bourbon/sl28", "origin/africa/kenya", "origin/africa/rwanda"},
		"Gesha in Panama":            {"variety/arabica/landrace/gesha", "origin/central-america/panama", "origin/south-america/brazil"},
		"canephora in Vietnam":       {"variety/canephora", "origin/asia/vietnam", "origin/south-america/colombia"},
		"canephora in the highlands": {"variety/canephora", "origin/asia/vietnam/central-highlands", "origin/asia/vietnam/lam-dong"},
		"conilon in Brazil":          {"variety/canephora/conilon", "origin/south-america/brazil/rondonia", "origin/asia/vietnam/central-highlands"},
		"monsooned in India":         {"process/monsooned", "origin/asia/india", "origin/asia/china"},
		"double washed in Kenya":     {"process/washed/tank/twice", "origin/africa/kenya", "origin/south-america/colombia"},
		"high up in Ethiopia":        {"altitude/1800-2100", "origin/africa/ethiopia", "origin/south-america/brazil"},
		"low down in Hawaii":         {"altitude/below-900", "origin/asia/hawaii", "origin/africa/rwanda"},
		"catimor in China":           {"variety/arabica/introgressed/catimor", "origin/asia/china", "origin/africa/burundi"},
	} {
		t.Run(name, func(t *testing.T) {
			if more, less := given(t, p, c.what, c.likelier), given(t, p, c.what, c.than); more < 1.5*less {
				t.Errorf("%s: %.4f in %s, %.4f in %s", c.what, more, c.likelier, less, c.than)
			}
		})
	}
}

func TestNarrowingConditionsEverything(t *testing.T) {
	p := Builtin().Prior()
	only, err := p.Narrow("origin/africa")
	if err != nil {
		t.Fatal(err)
	}
	for _, what := range []NodeID{"process/washed", "variety/arabica/bourbon/sl28", "altitude/1800-2100"} {
		got, _ := only.Joint().Mass(what)
		if want := given(t, p, what, "origin/africa"); math.Abs(got-want) > 1e-12 {
			t.Errorf("%s: %v, want %v", what, got, want)
		}
	}
	kenya, _ := p.Joint().Mass("origin/africa/kenya")
	africa, _ := p.Joint().Mass("origin/africa")
	if got, _ := only.Joint().Mass("origin/africa/kenya"); math.Abs(got-kenya/africa) > 1e-12 {
		t.Errorf("Kenya: %v, want %v", got, kenya/africa)
	}
	// Narrowing a process moves the origin.
	hulled, err := p.Narrow("process/wet-hulled")
	if err != nil {
		t.Fatal(err)
	}
	if got, _ := hulled.Joint().Mass("origin/asia/indonesia"); got < 0.5 {
		t.Errorf("of wet-hulled coffee %v is from Indonesia", got)
	}
	if only.Allows("origin/asia") || !only.Allows("origin/africa/kenya") || !only.Allows("process/washed") {
		t.Error("Allows does not follow the narrowing")
	}
}

func TestExcludeIsNarrowToTheRest(t *testing.T) {
	p := Builtin().Prior()
	plain, err := p.Exclude("process/additions", "decaf/yes")
	if err != nil {
		t.Fatal(err)
	}
	for _, id := range []NodeID{"process/additions", "decaf/yes/water"} {
		if got, _ := plain.Joint().Mass(id); got != 0 {
			t.Errorf("%s has %v", id, got)
		}
	}
	regular, err := p.Narrow("decaf/no")
	if err != nil {
		t.Fatal(err)
	}
	if regular, err = regular.Exclude("process/additions"); err != nil || regular.Hash() != plain.Hash() {
		t.Errorf("the same declaration in other words pins another hash: %v", err)
	}
	var nothing *Error
	if _, err := regular.Narrow("decaf/yes"); !asError(err, &nothing) || nothing.Code != CodeNothing {
		t.Errorf("narrowed to nothing: %v", err)
	}
	if _, err := p.Narrow("origin/africa", "process/washed"); err == nil {
		t.Error("one narrowing of two facets is accepted")
	}
	all, err := p.Narrow("decaf/no", "decaf/yes")
	if err != nil || all.Hash() != p.Hash() || all.Narrowed(Decaf) != nil {
		t.Errorf("narrowed to everything: %v", err)
	}
}

func asError(err error, target **Error) bool {
	e, ok := err.(*Error)
	*target = e
	return ok
}

func TestBands(t *testing.T) {
	a := Builtin()
	for metres, want := range map[float64]NodeID{0: "altitude/below-900", 899.9: "altitude/below-900", 900: "altitude/900-1200", 2050: "altitude/1800-2100", 2100: "altitude/above-2100", 9999: "altitude/above-2100"} {
		if got := a.AltitudeBand(metres); got != want {
			t.Errorf("%v m: %s, want %s", metres, got, want)
		}
	}
	// The eight tiles of the ITC Coffee Guide stand for themselves.
	for colour, want := range map[float64]NodeID{
		95: "roast/very-light", 85: "roast/light", 75: "roast/moderately-light", 65: "roast/light-medium", 55: "roast/medium",
		45: "roast/moderately-dark", 35: "roast/dark", 25: "roast/very-dark", 130: "roast/very-light", 5: "roast/very-dark", 60: "roast/medium", 60.1: "roast/light-medium",
	} {
		if got := a.RoastBand(colour); got != want {
			t.Errorf("%v: %s, want %s", colour, got, want)
		}
	}
}

func TestApportion(t *testing.T) {
	for _, weights := range [][]float64{{1}, {1, 1, 1}, {1e-12, 1}, {0, 3, 0, 1}, {5, 3, 9, 1e-9, 0.1}} {
		sum := 0
		for i, share := range apportion(weights) {
			sum += int(share)
			if (share == 0) != (weights[i] == 0) {
				t.Errorf("%v: share %d for weight %v", weights, share, weights[i])
			}
		}
		if sum != Whole {
			t.Errorf("%v: %d", weights, sum)
		}
	}
}

func TestNodeIDs(t *testing.T) {
	id := NodeID("origin/africa/kenya")
	if f, err := id.Facet(); f != Origin || err != nil || id.Parent() != "origin/africa" || id.Slug() != "kenya" || id.Depth() != 2 {
		t.Error("parts of an id")
	}
	if NodeID("origin").Parent() != "" || !id.Under("origin/africa") || !id.Under(id) || id.Under("origin/afr") {
		t.Error("what is under what")
	}
	if _, err := NodeID("weather/rain").Facet(); err == nil || !strings.Contains(err.Error(), "weather") {
		t.Errorf("an unknown facet: %v", err)
	}
	if Origin.Level(2) != "country" || Variety.Level(9) != "variety" || Roast.Level(1) != "band" {
		t.Error("levels")
	}
}
