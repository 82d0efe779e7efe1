package atlas

import (
	"slices"
	"testing"
)

func TestFindIgnoresAccentsAndKnowsOtherNames(t *testing.T) {
	a := Builtin()
	for typed, want := range map[string]NodeID{
		"narino": "origin/south-america/colombia/narino", "NARIÑO": "origin/south-america/colombia/narino", "lam d": "origin/asia/vietnam/lam-dong",
		"gayo": "origin/asia/indonesia/aceh", "ivory": "origin/africa/cote-divoire", "kau": "origin/asia/hawaii/kau", "yirga chefe": "origin/africa/ethiopia/yirgacheffe",
	} {
		if got := a.Find(Origin, typed); !slices.Contains(got, want) {
			t.Errorf("%q finds %v", typed, got)
		}
	}
	for f, typed := range map[Facet]string{Process: "anaerobic", Variety: "geisha", Decaf: "sugar", Roast: "tile 65"} {
		if len(a.Find(f, typed)) == 0 {
			t.Errorf("%q finds nothing", typed)
		}
	}
	if got := a.Find(Variety, "bourbon"); got[0] != "variety/arabica/bourbon" {
		t.Errorf("bourbon finds %v first", got[0])
	}
	if a.Find(Origin, " ") != nil || a.Find(Origin, "xyzzy") != nil {
		t.Error("nothing finds something")
	}
}

// TestReasonsShowTheFigures compares reasons with the reference tables: USDA
// PSD for what is grown, the counts of declared samples, 2010 to 2023.
func TestReasonsShowTheFigures(t *testing.T) {
	a := Builtin()
	for _, c := range []struct {
		id, where NodeID
		want      Reason
	}{
		{"origin/africa/ethiopia", "", Reason{ReasonGrown, Read, 7218}},
		{"origin/africa/ethiopia", "", Reason{ReasonDeclared, Read, 36}},
		{"origin/africa/ethiopia/guji", "", Reason{ReasonAlike, Unconfirmed, 8}},
		{"process/natural", "origin/africa/ethiopia/guji", Reason{ReasonDeclared, Read, 21}},
		{"process/natural", "origin/africa/ethiopia", Reason{ReasonUsual, Unconfirmed, 2}},
		{"variety/arabica/bourbon/sl28", "origin/africa/kenya", Reason{ReasonDeclared, Read, 15}},
		{"variety/arabica/bourbon", "origin/africa/kenya", Reason{ReasonKnown, Unconfirmed, 43}},
		{"altitude/1800-2100", "origin/africa/kenya", Reason{ReasonAltitude, Read, 24}},
		{"decaf/yes/water", "", Reason{ReasonEstimate, Unconfirmed, 0}},
		{"origin/africa/elsewhere", "", Reason{ReasonNotListed, Unconfirmed, 0}},
	} {
		if got := a.Reasons(c.id, c.where); !slices.Contains(got, c.want) {
			t.Errorf("%s in %q: %v lacks %v", c.id, c.where, got, c.want)
		}
	}
	for f := range Facets {
		tree := a.Tree(f)
		for i := 1; i < tree.Len(); i++ {
			if len(a.Reasons(tree.At(i).ID, "origin/africa/kenya")) == 0 {
				t.Errorf("no reason for %s", tree.At(i).ID)
			}
		}
	}
}
