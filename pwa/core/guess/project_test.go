package guess

import (
	"errors"
	"math"
	"testing"

	"hushcup/pwa/core/atlas"
	"hushcup/pwa/core/exact"

	"pgregory.net/rapid"
)

func prior() *atlas.Prior { return atlas.Builtin().Prior() }

// failer is what *testing.T and *rapid.T have in common.
type failer interface {
	Helper()
	Fatal(...any)
}

func mass(t failer, j *atlas.Joint, id atlas.NodeID) float64 {
	t.Helper()
	m, err := j.Mass(id)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func project(t failer, p *atlas.Prior, b Belief) *atlas.Joint {
	t.Helper()
	j, err := Project(p, b)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

func TestSayingNothingIsThePrior(t *testing.T) {
	p := prior()
	j := project(t, p, nil)
	for f := range atlas.Facets {
		want := p.Joint().Marginal(f)
		for i, got := range j.Marginal(f) {
			if math.Abs(got-want[i]) > 1e-14 {
				t.Fatalf("%v %v: %v, want %v", f, p.Atlas().Tree(f).At(i).ID, got, want[i])
			}
		}
	}
}

func TestSayingEthiopiaMovesVarieties(t *testing.T) {
	p := prior()
	j := project(t, p, Belief{{"origin/africa/ethiopia", 8000}})
	if got := mass(t, j, "origin/africa/ethiopia"); math.Abs(got-0.8) > 1e-9 {
		t.Errorf("Ethiopia %v, want 0.8", got)
	}
	before, after := mass(t, p.Joint(), "variety/arabica/landrace"), mass(t, j, "variety/arabica/landrace")
	if after < 4*before {
		t.Errorf("landraces went from %v to %v", before, after)
	}
	// Within Ethiopia nothing was said: Guji keeps its part of it.
	part := mass(t, p.Joint(), "origin/africa/ethiopia/guji") / mass(t, p.Joint(), "origin/africa/ethiopia")
	if got := mass(t, j, "origin/africa/ethiopia/guji"); math.Abs(got-0.8*part) > 1e-9 {
		t.Errorf("Guji %v, want %v", got, 0.8*part)
	}
	// Decaf does not depend on the origin.
	if got, want := mass(t, j, "decaf/yes"), mass(t, p.Joint(), "decaf/yes"); math.Abs(got-want) > 1e-12 {
		t.Errorf("decaf %v, want %v", got, want)
	}
}

func TestVarietyMovesOrigin(t *testing.T) {
	p := prior()
	j := project(t, p, Belief{{"variety/arabica/bourbon/sl28", 9000}})
	before, after := mass(t, p.Joint(), "origin/africa/kenya"), mass(t, j, "origin/africa/kenya")
	if after < 10*before {
		t.Errorf("Kenya went from %v to %v", before, after)
	}
}

// drawBelief draws a belief that can be: masses for random nodes, each at most
// what the node above has left.
func drawBelief(t *rapid.T, a *atlas.Atlas) Belief {
	var out Belief
	for f := range atlas.Facets {
		if rapid.Bool().Draw(t, "speaks about "+f.String()) {
			out = append(out, drawFacet(t, a.Tree(f), 0, atlas.Whole, 3)...)
		}
	}
	return out
}

func drawFacet(t *rapid.T, tree *atlas.Tree, above, left, depth int) (out Belief) {
	var children []int
	for child := range tree.Children(above) {
		children = append(children, child)
	}
	if depth == 0 || len(children) < 2 {
		return nil
	}
	// The last child is never said, so that something is always left.
	for _, child := range children[:len(children)-1] {
		if rapid.IntRange(0, 3).Draw(t, "say") > 0 {
			continue
		}
		share := rapid.IntRange(0, left).Draw(t, "share")
		left -= share
		out = append(out, Mass{tree.At(child).ID, share})
		out = append(out, drawFacet(t, tree, child, share, depth-1)...)
	}
	return out
}

func TestProjectionAgreesWithWhatWasSaid(t *testing.T) {
	p := prior()
	rapid.Check(t, func(t *rapid.T) {
		b := drawBelief(t, p.Atlas())
		j := project(t, p, b)
		for _, m := range b {
			if got := mass(t, j, m.Node); math.Abs(got-float64(m.Share)/atlas.Whole) > 1e-7 {
				t.Fatalf("%v said %d, has %v", m.Node, m.Share, got)
			}
		}
		sum := 0.0
		for _, m := range j.Origin() {
			sum += m
		}
		if math.Abs(sum-1) > 1e-12 {
			t.Fatalf("masses add up to %v", sum)
		}
	})
}

// TestProjectionMovesLeast checks minimality by its characterisation: of all
// joints with the same said masses, the projection has the least relative
// entropy to the prior, by the Pythagorean identity KL(r||q) = KL(r||p) +
// KL(p||q) for every other r (Csiszár 1975, theorem 3.2). r is the projection
// of another prior that agrees on what was said.
func TestProjectionMovesLeast(t *testing.T) {
	p := prior()
	rapid.Check(t, func(t *rapid.T) {
		b := drawBelief(t, p.Atlas())
		j := project(t, p, b)
		tilt := atlas.Weights{}
		for _, f := range []atlas.Facet{atlas.Origin, atlas.Process, atlas.Variety} {
			tilt[f] = make([]float64, p.Atlas().Tree(f).Leaves())
			for i := range tilt[f] {
				tilt[f][i] = 0.25 + float64((i*7+3)%5)
			}
		}
		r := fitted(p.Joint().Reweigh(tilt), b)
		direct, viaProjection := entropy(r, p.Joint()), entropy(r, j)+entropy(j, p.Joint())
		if math.Abs(direct-viaProjection) > 1e-5*(1+direct) {
			t.Fatalf("KL(r||q) = %v, KL(r||p) + KL(p||q) = %v", direct, viaProjection)
		}
	})
}

// fitted fits another joint to the belief.
func fitted(j *atlas.Joint, b Belief) *atlas.Joint {
	parts, _ := partition(j, b)
	fit := newFit(j, parts)
	for range mostSweeps {
		if fit.sweep() <= settled {
			break
		}
	}
	return j.Reweigh(fit.weight)
}

// entropy returns the relative entropy of two factored joints in bits.
func entropy(p, q *atlas.Joint) (sum float64) {
	term := func(x, y float64) float64 {
		if x == 0 {
			return 0
		}
		return x * exact.Log2(x/y)
	}
	for leaf, m := range p.Origin() {
		sum += term(m, q.Origin()[leaf])
	}
	for f := atlas.Process; f < atlas.Facets; f++ {
		weight := p.RowMass(f)
		for r, row := range p.Rows(f) {
			for leaf, m := range row {
				sum += weight[r] * term(m, q.Rows(f)[r][leaf])
			}
		}
	}
	return sum
}

func TestStubbornBeliefsStillFit(t *testing.T) {
	p := prior()
	for name, b := range map[string]Belief{
		"hardly ever there": {{"origin/africa/kenya", 100}, {"variety/arabica/bourbon/sl28", 9900}},
		"never both":        {{"origin/africa/ethiopia", 9900}, {"process/wet-hulled", 9900}, {"variety/canephora", 9900}, {"altitude/below-900", 9900}},
		"certain":           {{"origin/africa/ethiopia/guji", 10000}, {"process/natural", 10000}, {"variety/arabica/landrace/mixed", 10000}, {"decaf/no", 10000}},
		"impossible half":   {{"origin/africa", 0}, {"variety/arabica/landrace", 5000}},
	} {
		t.Run(name, func(t *testing.T) {
			j := project(t, p, b)
			for _, m := range b {
				if got := mass(t, j, m.Node); math.Abs(got-float64(m.Share)/atlas.Whole) > 1e-6 {
					t.Errorf("%v said %d, has %v", m.Node, m.Share, got)
				}
			}
		})
	}
}

func TestCheckNamesWhatCannotBe(t *testing.T) {
	only, err := prior().Narrow("origin/africa", "origin/asia")
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		said Belief
		code string
		node atlas.NodeID
	}{
		"no such node":       {Belief{{"origin/atlantis", 10}}, CodeUnknownNode, "origin/atlantis"},
		"no such facet":      {Belief{{"weather/rain", 10}}, CodeUnknownNode, "weather/rain"},
		"the root":           {Belief{{"origin", 10000}}, CodeUnknownNode, "origin"},
		"twice":              {Belief{{"decaf/yes", 10}, {"decaf/yes", 20}}, CodeTwice, "decaf/yes"},
		"negative":           {Belief{{"decaf/yes", -1}}, CodeShare, "decaf/yes"},
		"over everything":    {Belief{{"decaf/yes", 10001}}, CodeShare, "decaf/yes"},
		"sum over one":       {Belief{{"process/washed", 7000}, {"process/natural", 4000}}, CodeOverWhole, "process"},
		"child over parent":  {Belief{{"origin/africa", 3000}, {"origin/africa/kenya", 2000}, {"origin/africa/rwanda", 1001}}, CodeOverParent, "origin/africa"},
		"contradictory zero": {Belief{{"origin/africa", 0}, {"origin/africa/kenya/nyeri", 5}}, CodeZero, "origin/africa"},
		"nothing left":       {Belief{{"decaf/yes", 100}, {"decaf/no", 9000}}, CodeNothingLeft, "decaf"},
		"nothing left open":  {Belief{{"origin/africa", 100}, {"origin/asia", 9000}}, CodeNothingLeft, "origin"},
		"declared away":      {Belief{{"origin/south-america/peru", 100}}, CodeExcluded, "origin/south-america/peru"},
	} {
		t.Run(name, func(t *testing.T) {
			problems := Check(only, c.said)
			if len(problems) == 0 || problems[0].Code != c.code || problems[0].Node != c.node {
				t.Fatalf("got %v, want %s at %s", problems, c.code, c.node)
			}
			_, err := Project(only, c.said)
			if problem := (*Problem)(nil); !errors.As(err, &problem) || problem.Code != c.code {
				t.Fatalf("Project: %v", err)
			}
		})
	}
	if problems := Check(only, Belief{{"origin/africa", 10000}, {"origin/asia", 0}, {"origin/south-america", 0}}); problems != nil {
		t.Errorf("zero for what was declared away is refused: %v", problems)
	}
}

func TestPreviewShowsTheStakes(t *testing.T) {
	p := prior()
	b := Belief{{"origin/africa", 7800}, {"origin/africa/ethiopia", 6600}, {"origin/africa/ethiopia/guji", 3000}}
	j := project(t, p, b)
	s, ok := Preview(p.Joint(), j, atlas.Origin, b)
	if !ok || s.Node != "origin/africa/ethiopia" {
		t.Fatalf("bets on %v", s.Node)
	}
	ethiopia, africa := mass(t, p.Joint(), "origin/africa/ethiopia"), mass(t, p.Joint(), "origin/africa")
	for name, c := range map[string][2]float64{
		"hit":       {s.Hit, 0.98*0.66/ethiopia + 0.02},
		"near miss": {s.NearMiss, 0.98*0.12/(africa-ethiopia) + 0.02},
		"far off":   {s.FarOff, 0.98*0.22/(1-africa) + 0.02},
	} {
		if math.Abs(c[0]-c[1]) > 1e-6 {
			t.Errorf("%s: x%v, want x%v", name, c[0], c[1])
		}
	}
	if _, ok := Preview(p.Joint(), j, atlas.Process, b); ok {
		t.Error("stakes for a question that nothing was said about")
	}
}
