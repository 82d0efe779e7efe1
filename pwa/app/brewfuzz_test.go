package app

import (
	"math"
	"testing"

	"hushcup/sync/codec"
)

var fuzzedSteps = []RecipeStep{
	{Kind: "bloom", Until: 10, Dose: 2.5}, {Kind: "stir", At: 12, Times: 3}, {Kind: "pour", At: 40, Until: 80, Water: 1}, {Kind: "drain", At: 80, Until: 180},
}

// touched is what a byte does to a brew; the next byte says how much.
func touched(b BrewParams, what, how byte) (string, any) {
	mark := func(word string) (string, any) {
		return CmdBrewMark, BrewMark{Book: b.Book, Brew: b.Brew, Mark: word, Grams: float64(how) * 2, Step: int(how) % 6, Ago: int64(how%8) * 1000}
	}
	switch what % 12 {
	case 0:
		return mark("start")
	case 1:
		return mark("pour")
	case 2:
		return mark("poured")
	case 3:
		return mark("stir")
	case 4:
		return mark("end")
	case 5:
		return CmdBrewUnmark, BrewUnmark(b)
	case 6:
		return CmdBrewHold, BrewHold{Book: b.Book, Brew: b.Brew, Hold: how%2 == 0, Ago: int64(how%5) * 1000}
	case 7:
		return CmdBrewReading, BrewReading{Book: b.Book, Brew: b.Brew, Celsius: float64(how) / 2}
	case 8:
		return CmdBrewCount, BrewCount{Book: b.Book, Brew: b.Brew, Counts: how%2 == 0}
	case 9:
		return CmdBrewAbandon, BrewAbandon{Book: b.Book, Brew: b.Brew, Why: "it ran over"}
	case 10:
		return CmdBrewSave, BrewSave{Book: b.Book, Brew: b.Brew, Outcome: BrewOutcome{Beverage: float64(how), TDS: float64(how) / 20}, Sure: everySure}
	}
	setup := BrewSetup{Method: "drip", Geometry: "cone", Dose: float64(how) / 10, Ratio: 16, Steps: fuzzedSteps[:how%5]}
	return CmdBrewEdit, BrewEdit{Book: b.Book, Brew: b.Brew, Setup: &setup, Sure: everySure}
}

// FuzzBrew touches a brew in whatever order, three seconds and a killed app now and then between the touches. Whatever was
// touched, the brew makes sense.
func FuzzBrew(f *testing.F) {
	f.Add([]byte{0, 0, 1, 20, 6, 0, 6, 1, 1, 80, 4, 0, 10, 200})
	f.Add([]byte{1, 20, 6, 0, 5, 0, 5, 0, 5, 0, 0, 0, 9, 1, 8, 0, 10, 100})
	f.Add([]byte{6, 0, 4, 0, 5, 0, 6, 1, 11, 150, 3, 7, 7, 130, 7, 120, 255, 0, 7, 110})
	f.Fuzz(func(t *testing.T, touches []byte) {
		p := phoneWith(t, codec.MustMarshal(map[int64]any{
			1: int64(1_780_000_000_000), 2: brewPlanned, 9: true, 3: keptSetup(BrewSetup{Method: "drip", Geometry: "cone", Dose: 15, Water: 240, Ratio: 16, Steps: fuzzedSteps}),
		}))
		p.refusals = true
		for i := 0; i+1 < len(touches) && i < 80; i += 2 {
			p.now += 3000
			if touches[i] == 255 {
				p.session++ // killed and opened again
				continue
			}
			name, args := touched(p.brew, touches[i], touches[i+1])
			p.step(Input{Kind: InCommand, ID: uint64(i), Name: name, Args: codec.MustMarshal(args)})
			v, err := p.lookBrew(p.brew)
			if err != nil {
				t.Fatal(err)
			}
			sensible(t, &v)
		}
	})
}

func sensible(t *testing.T, v *BrewView) {
	t.Helper()
	last := 0.0
	for _, m := range v.Marks {
		if m.At < last {
			t.Fatalf("the marks go back in time: %+v", v.Marks)
		}
		last = m.At
	}
	switch {
	case v.State == "planned" && (len(v.Marks) > 0 || v.Began != 0 || v.Held != 0),
		v.State == "going" && (len(v.Marks) == 0 || v.Began == 0),
		v.State != "going" && v.Held != 0,
		v.Drawdown < 0, v.Abandoned && v.State != "done":
		t.Fatalf("this cannot be: %+v", v)
	case v.Plan != nil && (math.IsNaN(v.Plan.Ends) || v.Plan.Ends < 0):
		t.Fatalf("the plan: %+v", v.Plan)
	case v.Yield != nil && !(v.Yield.Low <= v.Yield.Value && v.Yield.Value <= v.Yield.High):
		t.Fatalf("the yield: %+v", v.Yield)
	}
	if v.Plan != nil {
		for _, step := range v.Plan.Steps {
			if step.Until != 0 && step.Until < step.At {
				t.Fatalf("a step ends before it begins: %+v", v.Plan.Steps)
			}
		}
	}
}
