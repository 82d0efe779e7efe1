package guess

import (
	"errors"
	"math"
	"testing"

	"hushcup/pwa/core/atlas"

	"pgregory.net/rapid"
)

func TestBeansAddUpTheTree(t *testing.T) {
	a := atlas.Builtin()
	b, err := FromBeans(a, []Placed{{"origin/africa/ethiopia", 4}, {"origin/africa/ethiopia/guji", 6}, {"origin/asia", 3}, {"origin/africa", 1}, {"origin/south-america", 0}})
	if err != nil {
		t.Fatal(err)
	}
	for id, want := range map[atlas.NodeID]int{"origin/africa": 5500, "origin/africa/ethiopia": 5000, "origin/africa/ethiopia/guji": 3000, "origin/asia": 1500} {
		if got, _ := b.Said(id); got != want {
			t.Errorf("%s: %d, want %d", id, got, want)
		}
	}
	if _, said := b.Said("origin/south-america"); said {
		t.Error("no bean says something")
	}
	for code, placed := range map[string][]Placed{
		CodeOverWhole:   {{"origin/africa", 12}, {"origin/asia", 9}},
		CodeTwice:       {{"origin/africa", 1}, {"origin/africa", 1}},
		CodeUnknownNode: {{"origin", 1}},
		CodeShare:       {{"origin/africa", -1}},
	} {
		problem := (*Problem)(nil)
		if _, err := FromBeans(a, placed); !errors.As(err, &problem) || problem.Code != code {
			t.Errorf("%v: %v, want %s", placed, err, code)
		}
	}
}

func TestAllTwentyBeansAreAWholeBelief(t *testing.T) {
	p := prior()
	tree := p.Atlas().Tree(atlas.Process)
	rapid.Check(t, func(t *rapid.T) {
		count := map[atlas.NodeID]int{}
		for range Beans {
			leaf := rapid.IntRange(0, tree.Leaves()-1).Draw(t, "leaf")
			count[tree.At(tree.Leaf(leaf)).ID]++
		}
		var placed []Placed
		for id, n := range count {
			placed = append(placed, Placed{id, n})
		}
		b, err := FromBeans(p.Atlas(), placed)
		if err != nil {
			t.Fatal(err)
		}
		j := project(t, p, b)
		for _, bean := range placed {
			if got := mass(t, j, bean.Node); math.Abs(got-float64(bean.Beans)/Beans) > 1e-9 {
				t.Fatalf("%s has %v for %d beans", bean.Node, got, bean.Beans)
			}
		}
	})
}

func TestToBeansPlacesAllTwenty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		masses := rapid.SliceOfN(rapid.Float64Range(0.001, 1), 1, 40).Draw(t, "masses")
		atlas.Normalise(masses)
		sum := 0
		for i, n := range ToBeans(masses) {
			if math.Abs(float64(n)-masses[i]*Beans) >= 1 {
				t.Fatalf("%v beans for %v", n, masses[i])
			}
			sum += n
		}
		if sum != Beans {
			t.Fatalf("%d beans", sum)
		}
	})
}
