package evening

import (
	"errors"
	"math"
	"reflect"
	"slices"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

// lyra is a setup with everything known.
func lyra() Setup {
	return Setup{
		Coffee: "417", Brewer: "cone, 60 degrees", Filter: "paper", Grinder: "conical", Grind: Read(24),
		SinceGrinding: Read(2), Dose: Read(12), Water: Read(192), WaterKind: "tap", Temperature: Read(91),
		Steps: []Doing{
			{Kind: "bloom", To: Read(0.15), Seconds: Read(40), Temperature: Read(91), Times: Read(0), Manner: "spiral"},
			{Kind: "pour", To: Read(0.6), Seconds: Read(30), Temperature: Read(91), Times: Read(0), Manner: "spiral"},
			{Kind: "pour", To: Read(1), Seconds: Read(30), Temperature: Read(91), Times: Read(0), Manner: "spiral"},
			{Kind: "swirl", To: Read(1), Seconds: Read(5), Temperature: Read(91), Times: Read(1), Manner: "gentle"},
		},
	}
}

func changed(change func(*Setup)) Setup {
	s := lyra()
	change(&s)
	return s
}

func diff(t failer, from, to Setup) Difference {
	t.Helper()
	d, err := Compare(from, to, Usual())
	if err != nil {
		t.Fatal(err)
	}
	return d
}

type failer interface {
	Helper()
	Fatal(...any)
}

// tell writes changes as "field kind".
func tell(d Difference) (out []string) {
	for _, c := range d.Changes {
		text := c.Field.String() + " " + c.Kind.String()
		if c.StepKind != "" {
			text += " in " + strconv.Itoa(c.Step) + " " + c.StepKind
		}
		out = append(out, text)
	}
	return out
}

func TestCompare(t *testing.T) {
	for name, row := range map[string]struct {
		change  func(*Setup)
		verdict Verdict
		told    []string
	}{
		"nothing":      {func(s *Setup) {}, Repeated, nil},
		"within reach": {func(s *Setup) { s.Dose, s.Water, s.Temperature = Read(12.1), Read(193), Read(91.5) }, Repeated, nil},
		"grind":        {func(s *Setup) { s.Grind = Read(22) }, OneChange, []string{"grind changed"}},
		"coffee":       {func(s *Setup) { s.Coffee = "528" }, OneChange, []string{"coffee changed"}},
		"ratio":        {func(s *Setup) { s.Water = Read(204) }, OneChange, []string{"ratio changed", "water followed"}},
		"size":         {func(s *Setup) { s.Dose, s.Water = Read(18), Read(288) }, OneChange, []string{"dose changed", "water followed"}},
		"dose alone":   {func(s *Setup) { s.Dose = Read(14) }, OneChange, []string{"dose changed", "ratio followed"}},
		"dose and ratio": {func(s *Setup) { s.Dose, s.Water = Read(18), Read(260) }, Several,
			[]string{"dose changed", "ratio changed", "water followed"}},
		"grind and temperature": {func(s *Setup) { s.Grind, s.Temperature = Read(22), Read(88) }, Several, []string{"grind changed", "temperature changed"}},
		"another grinder":       {func(s *Setup) { s.Grinder, s.Grind = "flat", Read(6) }, OneChange, []string{"grinder changed", "grind followed"}},
		"unknown":               {func(s *Setup) { s.Temperature = Reading{} }, NotCertain, []string{"temperature unknown"}},
		"one and an unknown":    {func(s *Setup) { s.Grind, s.WaterKind = Read(22), "" }, NotCertain, []string{"grind changed", "water-kind unknown"}},
		"two and an unknown":    {func(s *Setup) { s.Grind, s.Brewer, s.WaterKind = Read(22), "basket", "" }, Several, []string{"brewer changed", "grind changed", "water-kind unknown"}},
		"scoops beside a dose":  {func(s *Setup) { s.Scoops = Read(2) }, Repeated, nil},
		"dose unknown":          {func(s *Setup) { s.Dose = Reading{} }, NotCertain, []string{"dose unknown"}},
		"border of pours":       {func(s *Setup) { s.Steps[1].To = Read(0.5) }, OneChange, []string{"step-to changed in 1 pour"}},
		"longer bloom":          {func(s *Setup) { s.Steps[0].Seconds = Read(60) }, OneChange, []string{"step-seconds changed in 0 bloom"}},
		"another manner":        {func(s *Setup) { s.Steps[2].Manner = "centre" }, OneChange, []string{"step-manner changed in 2 pour"}},
		"no swirl":              {func(s *Setup) { s.Steps = s.Steps[:3] }, OneChange, []string{"step removed in 3 swirl"}},
		"a stir":                {func(s *Setup) { s.Steps = slices.Insert(s.Steps, 1, Doing{Kind: "stir"}) }, OneChange, []string{"step added in 1 stir"}},
		"one pour": {func(s *Setup) { s.Steps = slices.Delete(s.Steps, 1, 2) }, OneChange,
			[]string{"step removed in 1 pour"}},
	} {
		got := diff(t, lyra(), changed(row.change))
		if got.Verdict != row.verdict || !slices.Equal(tell(got), row.told) {
			t.Errorf("%s: %v %v", name, got.Verdict, tell(got))
		}
		if mixed := name == "dose alone"; got.Mixed != mixed {
			t.Errorf("%s: mixed %v", name, got.Mixed)
		}
	}
}

// TestScoops: a home without a scale counts them, and what it counted otherwise is a change like any other.
func TestScoops(t *testing.T) {
	spooned := func(scoops, dose Reading) Setup {
		return changed(func(s *Setup) { s.Scoops, s.Dose = scoops, dose })
	}
	none := Reading{}
	for name, row := range map[string]struct {
		from, to Setup
		verdict  Verdict
		told     []string
	}{
		"alike":            {spooned(Read(2), none), spooned(Read(2), none), Repeated, nil},
		"one more":         {spooned(Read(2), none), spooned(Read(3), none), OneChange, []string{"scoops changed"}},
		"not counted":      {spooned(Read(2), none), spooned(none, none), NotCertain, []string{"scoops unknown"}},
		"weighed, too":     {spooned(Read(2), Read(12)), spooned(Read(3), Read(18)), Several, []string{"scoops followed", "dose changed", "ratio changed", "water followed"}},
		"the dose as ever": {spooned(Read(2), Read(12)), spooned(Read(3), Read(12)), OneChange, []string{"scoops changed"}},
	} {
		if name == "weighed, too" {
			row.to.Water = Read(260)
		}
		if got := diff(t, row.from, row.to); got.Verdict != row.verdict || !slices.Equal(tell(got), row.told) {
			t.Errorf("%s: %v %v", name, got.Verdict, tell(got))
		}
	}
}

func TestHowFar(t *testing.T) {
	got := diff(t, lyra(), changed(func(s *Setup) { s.Water = Read(204) })).Changes
	if got[0].By != 1 || got[0].From.Number != 16 || got[0].To.Number != 17 || got[1].By != 12 {
		t.Errorf("%+v", got)
	}
	// Settings of two grinders have no difference.
	got = diff(t, lyra(), changed(func(s *Setup) { s.Grinder, s.Grind = "flat", Read(6) })).Changes
	if got[1].By != 0 || got[1].To.Number != 6 {
		t.Errorf("%+v", got)
	}
}

func drawSetup(t *rapid.T) Setup {
	reading := func(values ...float64) Reading {
		if rapid.IntRange(0, 5).Draw(t, "known") == 0 {
			return Reading{}
		}
		return Read(rapid.SampledFrom(values).Draw(t, "value"))
	}
	name := func(names ...string) string { return rapid.SampledFrom(names).Draw(t, "name") }
	s := Setup{
		Coffee: name("417", "528"), Brewer: name("", "cone", "basket"), Grinder: name("", "conical", "flat"),
		Grind: reading(20, 22, 24), Dose: reading(12, 15), Water: reading(192, 240, 255), Temperature: reading(88, 91),
	}
	for range rapid.IntRange(0, 5).Draw(t, "steps") {
		s.Steps = append(s.Steps, Doing{Kind: name("bloom", "pour", "stir"), To: reading(0.2, 0.5, 1), Seconds: reading(20, 40)})
	}
	return s
}

// TestBackwards: the way back has the same changes turned round, and no setup
// differs from itself.
func TestBackwards(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawSetup(t), drawSetup(t)
		if self := diff(t, a, a); self.Verdict != Repeated || len(self.Changes) > 0 {
			t.Fatalf("differs from itself: %v", tell(self))
		}
		there, back := diff(t, a, b), diff(t, b, a)
		if there.Verdict != back.Verdict || there.Causes != back.Causes || len(there.Changes) != len(back.Changes) || there.Mixed != back.Mixed {
			t.Fatalf("there %v %v, back %v %v", there.Verdict, tell(there), back.Verdict, tell(back))
		}
		sum := 0.0
		for i := range there.Changes {
			sum += there.Changes[i].By + back.Changes[i].By
		}
		if math.Abs(sum) > 1e-9 {
			t.Fatalf("there %+v, back %+v", there.Changes, back.Changes)
		}
	})
}

// TestMatchedStepsAreMost compares with the textbook's longest common subsequence
// found by trying all.
func TestMatchedStepsAreMost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawSetup(t).Steps, drawSetup(t).Steps
		got := matched(a, b)
		for i, m := range got {
			if a[m.from].Kind != b[m.to].Kind || i > 0 && (m.from <= got[i-1].from || m.to <= got[i-1].to) {
				t.Fatalf("matches %v", got)
			}
		}
		if want := longest(a, b); len(got) != want {
			t.Fatalf("%d matches, %d are possible", len(got), want)
		}
	})
}

func longest(a, b []Doing) int {
	if len(a) == 0 || len(b) == 0 {
		return 0
	}
	best := max(longest(a[1:], b), longest(a, b[1:]))
	if a[0].Kind == b[0].Kind {
		best = max(best, 1+longest(a[1:], b[1:]))
	}
	return best
}

// TestPublishedSubsequence: ABCBDAB and BDCABA have a longest common subsequence of
// four (Cormen and others, Introduction to Algorithms, section on the longest
// common subsequence).
func TestPublishedSubsequence(t *testing.T) {
	steps := func(kinds string) (out []Doing) {
		for _, k := range kinds {
			out = append(out, Doing{Kind: string(k)})
		}
		return out
	}
	if got := len(matched(steps("ABCBDAB"), steps("BDCABA"))); got != 4 {
		t.Errorf("%d matches, want 4", got)
	}
}

// TestUnknownIsUnknown: what a missing reading holds does not matter.
func TestUnknownIsUnknown(t *testing.T) {
	odd := changed(func(s *Setup) { s.Steps[1].Times = Reading{Value: math.NaN()} })
	bare := changed(func(s *Setup) { s.Steps[1].Times = Reading{} })
	for _, pair := range [][2]Setup{{odd, bare}, {bare, odd}, {odd, odd}} {
		if got := diff(t, pair[0], pair[1]); got.Verdict != Repeated {
			t.Errorf("%v %v", got.Verdict, tell(got))
		}
	}
}

func TestCompareChangesNothing(t *testing.T) {
	a, b := lyra(), changed(func(s *Setup) { s.Steps = s.Steps[1:] })
	diff(t, a, b)
	if !reflect.DeepEqual(a, lyra()) {
		t.Error("the setup was changed")
	}
}

func TestRefusals(t *testing.T) {
	for field, spoil := range map[string]func(*Setup){
		"dose":             func(s *Setup) { s.Dose = Read(0) },
		"water":            func(s *Setup) { s.Water = Read(-1) },
		"grind":            func(s *Setup) { s.Grind = Read(math.NaN()) },
		"temperature":      func(s *Setup) { s.Temperature = Read(math.Inf(1)) },
		"since-grinding":   func(s *Setup) { s.SinceGrinding = Read(math.Inf(1)) },
		"step-to":          func(s *Setup) { s.Steps[0].To = Read(-0.5) },
		"step-seconds":     func(s *Setup) { s.Steps[0].Seconds = Read(math.NaN()) },
		"step-temperature": func(s *Setup) { s.Steps[0].Temperature = Read(math.NaN()) },
		"step-times":       func(s *Setup) { s.Steps[0].Times = Read(-1) },
	} {
		_, err := Compare(lyra(), changed(spoil), Usual())
		var refused *Error
		if !errors.As(err, &refused) || refused.Field != field || refused.Code != CodeBadNumber {
			t.Errorf("%s: %v", field, err)
		}
	}
}
