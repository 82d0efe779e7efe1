package score

import (
	"math"
	"testing"

	"hushcup/pwa/core/atlas"
	"hushcup/pwa/core/exact"
	"hushcup/pwa/core/guess"

	"pgregory.net/rapid"
)

type failer interface {
	Helper()
	Fatal(...any)
}

func project(t failer, p *atlas.Prior, b guess.Belief) *atlas.Joint {
	t.Helper()
	j, err := guess.Project(p, b)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// everything asks all six questions.
func everything() Rules {
	return Asking(atlas.Origin, atlas.Process, atlas.Variety, atlas.Decaf, atlas.Altitude, atlas.Roast)
}

func fact(nodes ...atlas.NodeID) Fact { return Fact{Nodes: nodes, Source: FromRoaster} }

// guji is an answer of the observatory club: an invented lot.
var guji = Truth{
	fact("origin/africa/ethiopia/guji"),
	fact("process/natural"),
	fact("variety/arabica/landrace/mixed"),
	fact("decaf/no"),
	fact("altitude/1800-2100"),
	fact("roast/light"),
}

func TestNoGuessIsExactlyZero(t *testing.T) {
	p := atlas.Builtin().Prior()
	j := project(t, p, nil)
	rapid.Check(t, func(t *rapid.T) {
		truth := drawTruth(t, p.Atlas())
		for _, m := range []Measure{j, p.Joint(), Linear([]*atlas.Joint{j, j, j})} {
			r := Score(everything(), p.Joint(), m, truth)
			for _, s := range r.Steps {
				if s.Bits != 0 {
					t.Fatalf("%s %s: %d", s.Facet, s.Level, s.Bits)
				}
			}
			if r.Total != 0 {
				t.Fatalf("total %d", r.Total)
			}
		}
	})
}

func drawTruth(t *rapid.T, a *atlas.Atlas) (out Truth) {
	for f := range atlas.Facets {
		tree := a.Tree(f)
		n := rapid.IntRange(0, 2).Draw(t, "nodes")
		for range n {
			out = append(out, fact(tree.At(rapid.IntRange(1, tree.Len()-1).Draw(t, "node")).ID))
		}
	}
	return out
}

// drawBelief draws masses for a few nodes under the roots.
func drawBelief(t *rapid.T, a *atlas.Atlas) (out guess.Belief) {
	for f := range atlas.Facets {
		tree, left := a.Tree(f), atlas.Whole
		for child := range tree.Children(0) {
			if left == 0 || tree.At(child).Rest || child == tree.Len()-1 || rapid.IntRange(0, 2).Draw(t, "say") == 0 {
				continue
			}
			share := rapid.IntRange(0, left).Draw(t, "share")
			left -= share
			out = append(out, guess.Mass{Node: tree.At(child).ID, Share: share})
			for grandchild := range tree.Children(child) {
				if rapid.IntRange(0, 4).Draw(t, "say below") == 0 {
					out = append(out, guess.Mass{Node: tree.At(grandchild).ID, Share: rapid.IntRange(0, share).Draw(t, "share")})
					break
				}
			}
		}
	}
	// Facets with all children said might leave nothing: those are not beliefs.
	var kept guess.Belief
	for f := range atlas.Facets {
		if of := out.Of(f); len(guess.Check(a.Prior(), of)) == 0 {
			kept = append(kept, of...)
		}
	}
	return kept
}

func TestChainRuleAddsUp(t *testing.T) {
	p := atlas.Builtin().Prior()
	rules := Standard()
	rapid.Check(t, func(t *rapid.T) {
		j := project(t, p, drawBelief(t, p.Atlas()))
		truth := drawTruth(t, p.Atlas())
		r := Score(rules, p.Joint(), j, truth)
		var whole atlas.Event
		for _, f := range []atlas.Facet{atlas.Origin, atlas.Process, atlas.Variety, atlas.Decaf} {
			if nodes, why := truth.nodes(p.Atlas().Tree(f)); why == Scored {
				whole = whole.Only(f, event(p.Joint(), f, nodes).Leaves(f))
			}
		}
		q := p.Joint().Of(whole)
		want := 1000 * exact.Log2((0.98*j.Of(whole)+0.02*q)/q)
		sum := Bits(0)
		for _, s := range r.Steps {
			sum += s.Bits
		}
		if sum != r.Total {
			t.Fatalf("steps add up to %d, total %d", sum, r.Total)
		}
		if off := math.Abs(float64(r.Total) - want); off > 0.5*float64(len(r.Steps))+1e-6 {
			t.Fatalf("total %d, log2 of the joint ratio %v", r.Total, want)
		}
	})
}

func TestInsightIsPaidOnce(t *testing.T) {
	p := atlas.Builtin().Prior()
	ethiopia := project(t, p, guess.Belief{{Node: "origin/africa/ethiopia", Share: 9500}})
	r := Score(everything(), p.Joint(), ethiopia, guji)
	for _, s := range r.Steps {
		paid := s.Bits
		switch {
		case s.Facet == atlas.Origin && s.Level != "region":
			if paid < 1000 {
				t.Errorf("%s: %d, want more than a bit", s.Level, paid)
			}
		case paid < -30 || paid > 30:
			t.Errorf("%s %s is paid %d although nothing was said about it beyond its country", s.Facet, s.Level, paid)
		}
	}
	// And yet the belief's own variety moved.
	if variety := r.Steps[4]; variety.Level != "variety" || variety.Gave < 3*variety.Before {
		t.Errorf("variety went from %d to %d", variety.Before, variety.Gave)
	}
}

func TestSayingTwiceWhatFollowsPaysOnce(t *testing.T) {
	p := atlas.Builtin().Prior()
	once := guess.Belief{{Node: "origin/africa/ethiopia", Share: 9500}}
	j := project(t, p, once)
	implied, _ := j.Mass("variety/arabica/landrace")
	twice := once.With("variety/arabica/landrace", exact.Round(implied*atlas.Whole))
	a := Score(Standard(), p.Joint(), j, guji).Total
	b := Score(Standard(), p.Joint(), project(t, p, twice), guji).Total
	if a-b > 5 || b-a > 5 {
		t.Errorf("once %d, twice %d", a, b)
	}
}

func TestTruthIsASet(t *testing.T) {
	p := atlas.Builtin().Prior()
	j := project(t, p, guess.Belief{{Node: "variety/arabica/bourbon/caturra", Share: 5000}, {Node: "variety/arabica/typica-bourbon/catuai", Share: 3000}})
	both := Truth{fact("variety/arabica/bourbon/caturra", "variety/arabica/typica-bourbon/catuai")}
	q1, _ := p.Joint().Mass("variety/arabica/bourbon/caturra")
	q2, _ := p.Joint().Mass("variety/arabica/typica-bourbon/catuai")
	want := exact.Round(1000 * exact.Log2((0.98*0.8+0.02*(q1+q2))/(q1+q2)))
	if got := Score(Standard(), p.Joint(), j, both).Total; int(got) != want {
		t.Errorf("got %d, want %d", got, want)
	}
	// Two facts are the same as one fact with two nodes.
	apart := Truth{fact(both[0].Nodes[0]), fact(both[0].Nodes[1])}
	if got := Score(Standard(), p.Joint(), j, apart).Total; int(got) != want {
		t.Errorf("as two facts: got %d, want %d", got, want)
	}
}

func TestWhatIsNotScored(t *testing.T) {
	p, err := atlas.Builtin().Prior().Narrow("origin/africa")
	if err != nil {
		t.Fatal(err)
	}
	truth := Truth{
		fact("origin/asia/laos"),
		{Nodes: []atlas.NodeID{"process/natural"}, Source: Hearsay},
		{Nodes: []atlas.NodeID{"decaf/yes"}, Source: "a source of a later version"},
		fact("variety/arabica/moonbean"),
		fact("roast/light"),
	}
	r := Score(everything(), p.Joint(), project(t, p, guess.Belief{{Node: "process/natural", Share: 9000}}), truth)
	want := [atlas.Facets]Why{Outside, OnlyHearsay, NotInAtlas, OnlyHearsay, NotStated, Scored}
	if r.Unscored != want {
		t.Errorf("got %v, want %v", r.Unscored, want)
	}
	if len(r.Steps) != 1 || r.Steps[0].Facet != atlas.Roast {
		t.Errorf("steps %v", r.Steps)
	}
	if got := Score(Standard(), p.Joint(), p.Joint(), truth).Unscored[atlas.Roast]; got != NotAsked {
		t.Errorf("roast: %v", got)
	}
}

func TestOrderedFacetsForgiveNeighbours(t *testing.T) {
	p := atlas.Builtin().Prior()
	j := project(t, p, guess.Belief{{Node: "roast/light", Share: 9000}})
	at := func(band atlas.NodeID) Bits {
		return Score(Asking(atlas.Roast), p.Joint(), j, Truth{fact(band)}).Total
	}
	if !(at("roast/light") > at("roast/moderately-light") && at("roast/moderately-light") > at("roast/medium") && at("roast/medium") > at("roast/dark")) {
		t.Errorf("light %d, moderately light %d, medium %d, dark %d", at("roast/light"), at("roast/moderately-light"), at("roast/medium"), at("roast/dark"))
	}
	// One band off costs less than the log score of that band would.
	m, _ := j.Mass("roast/moderately-light")
	q, _ := p.Joint().Mass("roast/moderately-light")
	if outright := 1000 * exact.Log2(guess.Soften(m, q)/q); float64(at("roast/moderately-light")) < outright {
		t.Errorf("one band off costs %d, the band outright %v", at("roast/moderately-light"), outright)
	}
	// A truth of two bands decides all borders but the one inside it.
	if got := Score(Asking(atlas.Roast), p.Joint(), j, Truth{fact("roast/very-light", "roast/very-dark")}); got.Unscored[atlas.Roast] != NotStated {
		t.Errorf("a truth that decides no border is scored: %v", got)
	}
}

func TestWrongAreaIsPaidOnce(t *testing.T) {
	p := atlas.Builtin().Prior()
	j := project(t, p, guess.Belief{{Node: "origin/asia", Share: 10000}})
	r := Score(Asking(atlas.Origin), p.Joint(), j, guji)
	// log2 of the doubt, 0.02: the worst that a guess can cost.
	if want := Bits(-5644); r.Steps[0].Bits != want || r.Total != want {
		t.Errorf("area %d, total %d, want %d", r.Steps[0].Bits, r.Total, want)
	}
}

func TestSpokenFactors(t *testing.T) {
	for bits, want := range map[Bits]struct {
		tenths  int
		divides bool
	}{0: {10, false}, 1000: {20, false}, -1000: {20, true}, 2000: {40, false}, 1202: {23, false}, -2322: {50, true}} {
		if tenths, divides := bits.Spoken(); tenths != want.tenths || divides != want.divides {
			t.Errorf("%d: %d %v", bits, tenths, divides)
		}
	}
}

func TestRulesAreChecked(t *testing.T) {
	r := Standard()
	if err := r.Check(); err != nil {
		t.Error(err)
	}
	pin := r.Pin()
	r.Weights[atlas.Decaf] = 1001
	if r.Check() == nil {
		t.Error("a weight of 1,001 is accepted")
	}
	if r.Pin() == pin {
		t.Error("other weights have the same pin")
	}
}

func TestPools(t *testing.T) {
	p := atlas.Builtin().Prior()
	vega := project(t, p, guess.Belief{{Node: "origin/africa/ethiopia", Share: 8000}, {Node: "process/natural", Share: 0}})
	mira := project(t, p, guess.Belief{{Node: "origin/africa/ethiopia", Share: 4000}, {Node: "process/natural", Share: 9000}})
	e, _ := p.Atlas().Event("origin/africa/ethiopia", "process/natural")
	if got, want := Linear([]*atlas.Joint{vega, mira}).Of(e), (vega.Of(e)+mira.Of(e))/2; math.Abs(got-want) > 1e-15 {
		t.Errorf("linear pool %v, want %v", got, want)
	}
	pool := Logarithmic(p.Joint(), []*atlas.Joint{vega, mira})
	if got := pool.Of(atlas.Event{}); math.Abs(got-1) > 1e-12 {
		t.Errorf("logarithmic pool adds up to %v", got)
	}
	if got := pool.Of(e); got == 0 {
		t.Error("one member vetoes the table")
	}
	// A table that agrees is its members.
	alone := Logarithmic(p.Joint(), []*atlas.Joint{mira, mira})
	if got, want := alone.Of(e), guess.Soften(mira.Of(e), p.Joint().Of(e)); math.Abs(got-want) > 0.02 {
		t.Errorf("two of one mind %v, one %v", got, want)
	}
	if Linear(nil) != nil || Logarithmic(p.Joint(), nil) != nil {
		t.Error("nobody's pool is not nil")
	}
	// Concavity of the logarithm: the linear pool is never below the mean score.
	for _, truth := range []Truth{guji, {fact("origin/asia/laos"), fact("process/washed")}} {
		mean := (Score(Standard(), p.Joint(), vega, truth).Total + Score(Standard(), p.Joint(), mira, truth).Total) / 2
		if got := Score(Standard(), p.Joint(), Linear([]*atlas.Joint{vega, mira}), truth).Total; got < mean-5 {
			t.Errorf("linear pool %d, mean of members %d", got, mean)
		}
	}
}
