package grinder

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// A kitchen is a grinder whose log time falls by a slope for each step, in brewers
// with a level each.
type kitchen struct {
	grinder string
	slope   float64
	level   map[string]float64 // log seconds at position 20 and 15 g
	noise   float64
	stalls  float64 // how often the paper clogs and the time is half as long again
}

var lyra = kitchen{grinder: "conical", slope: -0.045, level: map[string]float64{"cone": math.Log(170), "basket": math.Log(210)}, noise: 0.06}

func (k kitchen) brew(random *rand.Rand, brewer string, position float64) Brew {
	y := k.level[brewer] + k.slope*(position-20) + k.noise*random.NormFloat64()
	if random.Float64() < k.stalls {
		y += 0.4
	}
	return Brew{Grinder: k.grinder, Brewer: brewer, Position: Position(position), Dose: 15, Exponent: 1.0 / 3, Seconds: math.Exp(y)}
}

// truth is the position that takes so long on average.
func (k kitchen) truth(brewer string, seconds float64) float64 {
	return 20 + (math.Log(seconds)-k.level[brewer])/k.slope
}

func (k kitchen) brews(random *rand.Rand, brewer string, n int) (out []Brew) {
	for range n {
		out = append(out, k.brew(random, brewer, float64(14+random.IntN(13))))
	}
	return out
}

func fit(t failer, brews []Brew, at Place) *Curve {
	t.Helper()
	c, err := Fit(brews, at)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

type failer interface {
	Helper()
	Fatal(...any)
}

var cone15 = Place{"conical", "cone", 15}

func codes(reasons []Reason) (out []string) {
	for _, r := range reasons {
		out = append(out, r.Code)
	}
	return out
}

// exact brews without noise lie on one line.
func exactly(positions ...float64) (out []Brew) {
	for _, p := range positions {
		out = append(out, Brew{"conical", "cone", Position(p), 15, 1.0 / 3, 170 * math.Exp(-0.05*(p-20))})
	}
	return out
}

func TestALineIsFound(t *testing.T) {
	c := fit(t, exactly(16, 18, 20, 22, 24, 26), cone15)
	s, err := c.Setting(170 * math.Exp(0.05*3))
	if err != nil || !s.Known {
		t.Fatal(s, err)
	}
	if math.Abs(s.Position.Value-17) > 1e-9 {
		t.Errorf("position %v, want 17", s.Position)
	}
	if got, _ := c.Time(20); math.Abs(got.Value-170) > 1e-6 {
		t.Errorf("time %v, want 170", got)
	}
	if !slices.Equal(codes(s.Reasons), []string{ReasonFitted}) {
		t.Errorf("reasons %v", s.Reasons)
	}
}

func TestOneStallInFourMovesLittle(t *testing.T) {
	brews := exactly(14, 16, 18, 20, 22, 24, 26, 28)
	for _, i := range []int{2, 5} {
		brews[i].Seconds *= 3
	}
	s, err := fit(t, brews, cone15).Setting(170)
	if err != nil || !s.Known {
		t.Fatal(s, err)
	}
	if math.Abs(s.Position.Value-20) > 1.5 {
		t.Errorf("position %v, want about 20", s.Position)
	}
}

func TestReasonsToRefuse(t *testing.T) {
	for code, row := range map[string]struct {
		brews []Brew
		at    Place
	}{
		ReasonTooFew:    {exactly(16, 20, 24), cone15},
		ReasonAlike:     {exactly(20, 20, 20, 20, 20), cone15},
		ReasonNewBrewer: {exactly(16, 18, 20, 22, 24), Place{"conical", "basket", 15}},
		ReasonNoTrend:   {[]Brew{turned(16, 150), turned(18, 200), turned(20, 140), turned(22, 190), turned(24, 160)}, cone15},
	} {
		s, err := fit(t, row.brews, row.at).Setting(170)
		if err != nil {
			t.Fatal(err)
		}
		if s.Known || !slices.Equal(codes(s.Reasons), []string{code}) {
			t.Errorf("%s: %+v", code, s)
		}
	}
}

func turned(position, seconds float64) Brew {
	return Brew{"conical", "cone", Position(position), 15, 1.0 / 3, seconds}
}

func TestSlopeIsBorrowed(t *testing.T) {
	brews := exactly(16, 18, 20, 22, 24, 26)
	basket := turned(20, 210)
	basket.Brewer = "basket"
	s, err := fit(t, append(brews, basket), Place{"conical", "basket", 15}).Setting(210 * math.Exp(0.05*2))
	if err != nil || !s.Known {
		t.Fatal(s, err)
	}
	if math.Abs(s.Position.Value-18) > 1e-9 {
		t.Errorf("position %v, want 18", s.Position)
	}
	if !slices.Equal(codes(s.Reasons), []string{ReasonFitted, ReasonBorrowed}) {
		t.Errorf("reasons %v", s.Reasons)
	}
}

func TestExtrapolationIsSaid(t *testing.T) {
	s, err := fit(t, exactly(16, 18, 20, 22, 24, 26), cone15).Setting(170 * math.Exp(-0.05*20))
	if err != nil || !s.Known {
		t.Fatal(s, err)
	}
	if !slices.Equal(codes(s.Reasons), []string{ReasonFitted, ReasonExtrapolated}) || math.Abs(s.Reasons[1].N-14) > 1e-6 {
		t.Errorf("reasons %v", s.Reasons)
	}
	nearest, on := s.On(Scale{Kind: Clicks, Low: 0, High: 32})
	if nearest != 32 || codes(on.Reasons)[2] != ReasonPastStop || math.Abs(on.Reasons[2].N-8) > 1e-6 {
		t.Errorf("%v, %v", nearest, on.Reasons)
	}
	if len(s.Reasons) != 2 {
		t.Error("the suggestion itself was changed")
	}
}

func TestOtherDoseIsBroughtOver(t *testing.T) {
	var brews []Brew
	for _, b := range exactly(16, 18, 20, 22, 24, 26) {
		b.Dose, b.Exponent = 30, 0.5
		brews = append(brews, b)
	}
	s, err := fit(t, brews, cone15).Setting(170 / math.Sqrt2)
	if err != nil || !s.Known {
		t.Fatal(s, err)
	}
	if math.Abs(s.Position.Value-20) > 1e-9 || !slices.Contains(codes(s.Reasons), ReasonOtherDoses) {
		t.Errorf("%+v, want position 20", s)
	}
}

// TestThereAndBack: a setting carried to another grinder, brewer and dose comes
// back as itself.
func TestThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		random := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		flat := kitchen{grinder: "flat", slope: 0.2, level: map[string]float64{"basket": math.Log(200)}, noise: 0.05}
		steady := lyra
		steady.noise = 0.02
		brews := append(steady.brews(random, "cone", 20), flat.brews(random, "basket", 20)...)
		from := fit(t, brews, cone15)
		to := fit(t, brews, Place{"flat", "basket", rapid.Float64Range(10, 25).Draw(t, "dose")})
		position := Position(rapid.Float64Range(10, 30).Draw(t, "position"))
		there, err := Transfer(from, position, to)
		if err != nil || !there.Known {
			t.Fatal(there, err)
		}
		back, err := Transfer(to, Position(there.Position.Value), from)
		if err != nil || !back.Known {
			t.Fatal(back, err)
		}
		if math.Abs(back.Position.Value-float64(position)) > 1e-6 {
			t.Fatalf("%v comes back as %v", position, back.Position)
		}
		for _, e := range []Estimate{there.Position, there.Seconds, back.Position} {
			if !(e.Low <= e.Value && e.Value <= e.High) {
				t.Fatalf("interval out of order: %v", e)
			}
		}
	})
}

// TestIntervalsHold: the interval of the setting holds at least 90 in 100, with
// and without stalls. It is conservative on purpose where brews are few.
func TestIntervalsHold(t *testing.T) {
	for _, row := range []struct {
		brews     int
		stalls    float64
		least     float64 // three standard errors below what is claimed
		answering float64
	}{
		{6, 0, 0.87, 0.10}, {10, 0, 0.87, 0.85}, {20, 0, 0.87, 0.99}, {10, 0.15, 0.87, 0.6}, {20, 0.15, 0.87, 0.95},
	} {
		held, answered := holds(1000, row.brews, row.stalls)
		if held < row.least || answered < row.answering {
			t.Errorf("%d brews, %v stalls: %.1f %% held, %.1f %% answered", row.brews, row.stalls, 100*held, 100*answered)
		}
	}
}

// holds returns how often the interval held of those times that there was one,
// and how often there was one.
func holds(kitchens, brews int, stalls float64) (held, answered float64) {
	random := rand.New(rand.NewPCG(2, uint64(brews)))
	for range kitchens {
		k := lyra
		k.stalls = stalls
		k.slope *= 0.6 + 0.8*random.Float64()
		want := 150 + 50*random.Float64()
		c, err := Fit(k.brews(random, "cone", brews), cone15)
		if err != nil {
			panic(err)
		}
		s, err := c.Setting(want)
		if err != nil {
			panic(err)
		}
		if !s.Known {
			continue
		}
		answered++
		if truth := k.truth("cone", want); truth >= s.Position.Low && truth <= s.Position.High {
			held++
		}
	}
	return held / answered, answered / float64(kitchens)
}

func TestRefusals(t *testing.T) {
	for field, spoil := range map[string]func(*Brew){
		"dose":     func(b *Brew) { b.Dose = 0 },
		"seconds":  func(b *Brew) { b.Seconds = math.Inf(1) },
		"setting":  func(b *Brew) { b.Position = Position(math.NaN()) },
		"exponent": func(b *Brew) { b.Exponent = math.NaN() },
	} {
		bad := turned(20, 170)
		spoil(&bad)
		_, err := Fit([]Brew{bad}, cone15)
		var refused *Error
		if !errors.As(err, &refused) || refused.Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
	c := fit(t, nil, cone15)
	if _, err := c.Setting(-1); err == nil {
		t.Error("a time below nothing is accepted")
	}
	if s, err := Transfer(c, 20, c); err != nil || s.Known || codes(s.Reasons)[0] != ReasonTooFew {
		t.Error(s, err)
	}
	if _, ok := c.Time(20); ok {
		t.Error("a time from no brews")
	}
}

// BenchmarkHolds prints how often intervals held and how often there was one.
func BenchmarkHolds(b *testing.B) {
	var held, answered float64
	for b.Loop() {
		held, answered = holds(1000, 10, 0.15)
	}
	b.ReportMetric(100*held, "%-held")
	b.ReportMetric(100*answered, "%-answered")
}
