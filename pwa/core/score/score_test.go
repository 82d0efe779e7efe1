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

// small is the prior narrowed so far that all coffees can be counted: three
// origins, two processes, three varieties, decaf or not, three altitudes, two
// roasts.
func small(t failer) *atlas.Prior {
	t.Helper()
	p := atlas.Builtin().Prior()
	for _, nodes := range [][]atlas.NodeID{
		{"origin/africa/kenya/nyeri", "origin/africa/kenya/kiambu", "origin/asia/laos/bolaven"},
		{"process/natural/open", "process/washed/tank/twice"},
		{"variety/arabica/bourbon/sl28", "variety/arabica/typica/sl34", "variety/arabica/introgressed/catimor/catimor"},
		{"decaf/no", "decaf/yes/water"},
		{"altitude/900-1200", "altitude/1200-1500", "altitude/1500-1800"},
		{"roast/light", "roast/dark"},
	} {
		next, err := p.Narrow(nodes...)
		if err != nil {
			t.Fatal(err)
		}
		p = next
	}
	return p
}

// coffees lists every whole coffee that a prior allows, with its truth.
func coffees(p *atlas.Prior) []Truth {
	out := []Truth{nil}
	for f := range atlas.Facets {
		var longer []Truth
		for _, truth := range out {
			for _, id := range p.Narrowed(f) {
				longer = append(longer, append(truth[:len(truth):len(truth)], fact(id)))
			}
		}
		out = longer
	}
	return out
}

// drawSmall draws a belief about what small allows.
func drawSmall(t *rapid.T, p *atlas.Prior) (out guess.Belief) {
	for f := range atlas.Facets {
		if !rapid.Bool().Draw(t, "speaks") {
			continue
		}
		nodes, left := p.Narrowed(f), atlas.Whole
		for _, id := range nodes[:len(nodes)-1] {
			share := rapid.IntRange(0, left).Draw(t, string(id))
			left -= share
			out = append(out, guess.Mass{Node: id, Share: share})
		}
	}
	return out
}

// expectation returns the expected score, unrounded but for thousandths, of a
// belief when coffees come as the weight of each says.
func expectation(rules Rules, p *atlas.Prior, belief *atlas.Joint, all []Truth, weight []float64) (sum float64) {
	for i, truth := range all {
		sum += weight[i] * float64(Score(rules, p.Joint(), belief, truth).Total) / 1000
	}
	return sum
}

// weights returns the chance of every coffee under a belief mixed with the
// prior.
func weights(p *atlas.Prior, belief *atlas.Joint, all []Truth, doubt float64) (out []float64) {
	for _, truth := range all {
		var ids []atlas.NodeID
		for _, f := range truth {
			ids = append(ids, f.Nodes...)
		}
		e, _ := p.Atlas().Event(ids...)
		out = append(out, (1-doubt)*belief.Of(e)+doubt*p.Joint().Of(e))
	}
	return out
}

// TestHonestyPays counts out the expectation over every coffee: jointly, with
// all facets asked, at any positive weights, no other belief scores higher than
// the honest one when coffees come as the honest belief, with its doubt, says.
func TestHonestyPays(t *testing.T) {
	p := small(t)
	all := coffees(p)
	// Rounding to thousandths moves each of ten steps by half a thousandth.
	const rounding = 0.010
	rapid.Check(t, func(t *rapid.T) {
		rules := everything()
		for f := range rules.Weights {
			rules.Weights[f] = rapid.IntRange(20, 150).Draw(t, "weight")
		}
		honest, other := project(t, p, drawSmall(t, p)), project(t, p, drawSmall(t, p))
		weight := weights(p, honest, all, guess.Doubt)
		best, rival := expectation(rules, p, honest, all, weight), expectation(rules, p, other, all, weight)
		if rival > best+rounding {
			t.Fatalf("honesty expects %v bits, another belief %v", best, rival)
		}
		// Strictly: a belief that differs noticeably loses noticeably.
		if distance := far(weight, weights(p, other, all, guess.Doubt)); distance > 0.2 && rival >= best {
			t.Fatalf("a belief %v away expects %v bits, honesty %v", distance, rival, best)
		}
	})
}

// far is the total variation distance.
func far(p, q []float64) (sum float64) {
	for i := range p {
		sum += math.Abs(p[i]-q[i]) / 2
	}
	return sum
}

// TestOverstatingGainsNextToNothing bounds what whoever has no doubt at all
// could gain by another report: the divergence of P' from P, at most
// -log2(0.98) = 0.0291 bits.
func TestOverstatingGainsNextToNothing(t *testing.T) {
	p := small(t)
	all := coffees(p)
	rapid.Check(t, func(t *rapid.T) {
		honest, other := project(t, p, drawSmall(t, p)), project(t, p, drawSmall(t, p))
		weight := weights(p, honest, all, 0)
		gain := expectation(everything(), p, other, all, weight) - expectation(everything(), p, honest, all, weight)
		if gain > 0.0292+0.010 {
			t.Fatalf("another report gains %v bits", gain)
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
