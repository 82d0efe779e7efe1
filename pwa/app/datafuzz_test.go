package app

import (
	"bytes"
	"math/rand/v2"
	"testing"

	"hushcup/sync/codec"
)

// FuzzDataRecord hands over whatever may stand in a file. What is wrong is refused, a fault of the core is a bug, and what came
// in goes out again as something that the same check lets in.
func FuzzDataRecord(f *testing.F) {
	const id = "0123456789abcdef0123456789abcdef"
	brew := DataBrew{
		ID: id, Created: 1_790_000_000_000, State: "done", Began: 1_790_000_001_000, Setup: BrewSetup{Method: "drip", Dose: 15, Water: 240, Ratio: 16},
		Marks: []DataMark{{Mark: "start"}, {Mark: "pour", At: 5000, Grams: 240}}, Outcome: BrewOutcome{Beverage: 208, TDS: 1.35, Notes: "=bergamot"},
		Noticed: []DataNote{{Stage: "hot", At: 1_790_000_300_000, Words: []string{"bergamot"}}},
	}
	ofSample := brew
	ofSample.Of = &DataOf{Club: id + id, Sample: id, Code: 417, Title: "First light"}
	for _, r := range []DataRecord{
		{Kind: "brew", Brew: &brew}, {Kind: "brew", Brew: &ofSample},
		{Kind: "cup", Cup: &DataCup{Of: *ofSample.Of, Guess: []SaidFacet{{Facet: "process", Said: []Said{{Node: "process/washed", Share: 8000}}}}, Answer: &Answer{Lot: "7"}}},
		{Kind: "home", Home: &Home{Altitude: 2635}},
		{Kind: "coffee", Away: true, Coffee: &Coffee{ID: id, Name: "Orbital Blend"}},
		{Kind: "brewer", Brewer: &Brewer{ID: id, Name: "cone", Geometry: "cone"}},
		{Kind: "grinder", Grinder: &Grinder{ID: id, Name: "hand grinder", Scale: "turns", PerTurn: 12}},
		{Kind: "water", Water: &Water{ID: id, Name: "spring", Source: "label", Calcium: 30}},
		{Kind: "concentrate", Concentrate: &Concentrate{ID: id, Name: "drops", Litres: 0.25, Salts: []SaltGrams{{Salt: "sodium-bicarbonate", Grams: 6}}}},
		{Kind: "instrument", Instrument: &Instrument{ID: id, Name: "scale", What: "scale", Precision: 0.1}},
		{Kind: "recipe", Recipe: &Recipe{ID: id, Title: "cone", Geometry: "cone", Dose: 15, Ratio: 16, Kettle: 92, Steps: []RecipeStep{{Kind: "pour", Until: 30, Water: 1}}}},
	} {
		f.Add([]byte(codec.MustMarshal(r)))
	}
	f.Fuzz(func(t *testing.T, in []byte) {
		if codec.UnmarshalOpen(in, new(codec.Raw)) != nil {
			return // the bridge carries whole values only
		}
		a := New(rand.NewChaCha8([32]byte{1}))
		a.StepBytes(codec.MustMarshal(Input{Kind: InStart, Origin: "https://hushcup.test", Now: 1_790_000_000_000}))
		if out := a.StepBytes(codec.MustMarshal(dataTakeInput(7, in))); bytes.Contains(out, []byte("core-fault")) {
			t.Fatalf("%x: %q", in, out)
		}
		page, err := a.dataPage(DataPageAsk{Limit: 200})
		if err != nil {
			t.Fatalf("%x: %v", in, err)
		}
		for _, r := range page.Records {
			if taken, err := a.takeRecord(codec.MustMarshal(r), map[string]bool{}); err != nil || !taken.known {
				t.Fatalf("%x came out as %+v, which comes in as %+v, %v", in, r, taken, err)
			}
		}
	})
}

func dataTakeInput(id uint64, record []byte) Input {
	return Input{Kind: InCommand, ID: id, Name: CmdDataTake, Now: 1_790_000_000_000, Args: codec.MustMarshal(DataTake{Records: []codec.Raw{record}})}
}
