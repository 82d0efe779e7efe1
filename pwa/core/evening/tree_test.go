package evening

import (
	"errors"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// anEvening: Lyra tries finer, from there hotter, then goes back to the first and
// tries more water; and brews another coffee.
func anEvening() []Trial {
	return []Trial{
		{"hotter", "finer", 3, changed(func(s *Setup) { s.Grind, s.Temperature = Read(22), Read(94) })},
		{"first", "", 1, lyra()},
		{"finer", "first", 2, changed(func(s *Setup) { s.Grind = Read(22) })},
		{"more water", "first", 4, changed(func(s *Setup) { s.Water = Read(204) })},
		{"again", "first", 5, lyra()},
		{"other", "", 6, changed(func(s *Setup) { s.Coffee = "528" })},
		{"found", "lost", 7, changed(func(s *Setup) { s.Grind, s.Water = Read(20), Read(180) })},
	}
}

func TestGrow(t *testing.T) {
	trials := anEvening()
	nodes, err := Grow(trials, Usual())
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, n := range nodes {
		text := strings.Repeat("  ", n.Depth) + trials[n.Trial].ID + " in " + strconv.Itoa(n.Lane)
		if n.Orphan {
			text += ", parent unknown"
		}
		if n.Parent >= 0 {
			text += ": " + n.Since.Verdict.String()
		}
		got = append(got, text)
	}
	want := []string{
		"first in 0",
		"  finer in 0: one-change",
		"    hotter in 0: one-change",
		"  more water in 1: one-change",
		"  again in 2: repeated",
		"other in 3",
		"found in 4, parent unknown",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if !slices.Equal(nodes[0].Children, []int{1, 3, 4}) {
		t.Errorf("children %v", nodes[0].Children)
	}
}

func TestReadable(t *testing.T) {
	trials := anEvening()
	pairs, err := Readable(trials, Usual())
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, p := range pairs {
		got = append(got, trials[p.First].ID+" - "+trials[p.Second].ID+": "+p.Since.Changes[0].Field.String())
	}
	want := []string{
		"first - finer: grind",
		"finer - hotter: temperature",
		"first - more water: ratio",
		"finer - again: grind",
		"more water - again: ratio",
		"first - other: coffee",
		"again - other: coffee",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s", strings.Join(got, "\n"))
	}
}

func TestClosest(t *testing.T) {
	trials := anEvening()
	for name, row := range map[string]struct {
		setup Setup
		want  string
	}{
		"the latest of equals":  {lyra(), "again"},
		"hotter still":          {changed(func(s *Setup) { s.Grind, s.Temperature = Read(22), Read(97) }), "hotter"},
		"of the same coffee":    {changed(func(s *Setup) { s.Coffee, s.Grind, s.Temperature = "528", Read(22), Read(94) }), "other"},
		"between two of coffee": {changed(func(s *Setup) { s.Grind = Read(22) }), "finer"},
	} {
		got, err := Closest(trials, row.setup, Usual())
		if err != nil || trials[got].ID != row.want {
			t.Errorf("%s: %v %v", name, trials[got].ID, err)
		}
	}
	if got, err := Closest(nil, lyra(), Usual()); got != -1 || err != nil {
		t.Errorf("of nothing: %v %v", got, err)
	}
}

// TestTreesAreWhole: whatever the parents, every trial stands once, under its
// parent, in a lane that nobody else uses in that row's stretch; or a circle is
// named.
func TestTreesAreWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 12).Draw(t, "trials")
		var trials []Trial
		for i := range n {
			parent := rapid.IntRange(-2, n-1).Draw(t, "parent")
			id := ""
			if parent != -1 {
				id = strconv.Itoa(parent)
			}
			trials = append(trials, Trial{strconv.Itoa(i), id, int64(rapid.IntRange(0, 5).Draw(t, "at")), lyra()})
		}
		nodes, err := Grow(trials, Usual())
		if err != nil {
			var refused *Error
			if !errors.As(err, &refused) || refused.Code != CodeCircle || !circular(trials, refused.Value) {
				t.Fatal(err)
			}
			return
		}
		checkTree(t, trials, nodes)
	})
}

// circular reports whether going from parent to parent never ends.
func circular(trials []Trial, id string) bool {
	for range len(trials) + 1 {
		i := slices.IndexFunc(trials, func(t Trial) bool { return t.ID == id })
		if i < 0 {
			return false
		}
		id = trials[i].Parent
	}
	return true
}

func checkTree(t *rapid.T, trials []Trial, nodes []Node) {
	seen := map[int]bool{}
	for row, n := range nodes {
		if seen[n.Trial] {
			t.Fatalf("trial %d stands twice", n.Trial)
		}
		seen[n.Trial] = true
		known := slices.ContainsFunc(trials, func(o Trial) bool { return o.ID == trials[n.Trial].Parent })
		switch {
		case n.Parent < 0:
			if known || n.Orphan != (trials[n.Trial].Parent != "") || n.Depth != 0 {
				t.Fatalf("%+v", n)
			}
		case trials[nodes[n.Parent].Trial].ID != trials[n.Trial].Parent || n.Depth != nodes[n.Parent].Depth+1 || n.Parent >= row:
			t.Fatalf("%+v under %+v", n, nodes[n.Parent])
		case !slices.Contains(nodes[n.Parent].Children, row):
			t.Fatalf("%+v does not know row %d", nodes[n.Parent], row)
		case (n.Lane == nodes[n.Parent].Lane) != (nodes[n.Parent].Children[0] == row):
			t.Fatalf("row %d stands in lane %d, its parent in %d", row, n.Lane, nodes[n.Parent].Lane)
		}
	}
	if len(nodes) != len(trials) {
		t.Fatalf("%d rows for %d trials", len(nodes), len(trials))
	}
}

func TestTreeRefuses(t *testing.T) {
	bad := lyra()
	bad.Dose = Read(-1)
	for code, trials := range map[string][]Trial{
		CodeTwice:     {{ID: "a", Setup: lyra()}, {ID: "a", Setup: lyra()}},
		CodeCircle:    {{ID: "a", Parent: "b", At: 2, Setup: lyra()}, {ID: "b", Parent: "a", At: 1, Setup: lyra()}},
		CodeBadNumber: {{ID: "a", Setup: bad}},
	} {
		_, err := Grow(trials, Usual())
		var refused *Error
		if !errors.As(err, &refused) || refused.Code != code {
			t.Errorf("%s: %v", code, err)
		}
	}
	if _, err := Readable([]Trial{{Setup: bad}}, Usual()); err == nil {
		t.Error("a dose below nothing is compared")
	}
	if _, err := Closest([]Trial{{Setup: bad}}, lyra(), Usual()); err == nil {
		t.Error("a dose below nothing is close")
	}
}
