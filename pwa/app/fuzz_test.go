package app

import (
	"bytes"
	"math/rand/v2"
	"testing"

	"hushcup/sync/codec"
)

// FuzzStepBytes gives an App whatever may come over the bridge. A fault of the core is a bug: what is wrong with an input is
// refused.
func FuzzStepBytes(f *testing.F) {
	for _, c := range commands {
		f.Add(codec.MustMarshal(Input{Kind: InCommand, ID: 7, Name: c.Name, Args: codec.MustMarshal(map[string]string{})}))
	}
	f.Add(codec.MustMarshal(Input{Kind: InCommand, ID: 7, Name: CmdBrewStart, Args: codec.MustMarshal(BrewStart{
		Setup: BrewSetup{Method: "drip", Dose: 15, Ratio: 16, Kettle: 92}, Run: true})}))
	bowl := BrewSetup{Geometry: "cupping-bowl", Dose: 11, Ratio: 18, Steps: fuzzedSteps}
	for name, args := range map[string]any{
		CmdBrewPlan:    BrewPlan{Setup: bowl, Bowls: 5, Parent: &BrewParams{}},
		CmdBowlsStart:  BowlsStart{Setup: bowl, Bowls: []Bowl{{Coffee: "from the valley shop"}, {CoffeeID: "00", Dose: 10}}},
		CmdBrewReading: BrewReading{Celsius: 70},
		CmdBrewHold:    BrewHold{Hold: true, Ago: 1000},
	} {
		f.Add(codec.MustMarshal(Input{Kind: InCommand, ID: 7, Name: name, Args: codec.MustMarshal(args)}))
	}
	f.Add(codec.MustMarshal(Input{Kind: InWatch, Watch: 3, View: ViewBrews, Args: codec.MustMarshal(BrewsParams{Limit: 9, Search: BrewSearch{Words: "dry"}})}))
	f.Add(codec.MustMarshal(Input{Kind: InCommand, ID: 7, Name: CmdClubCreate, Args: codec.MustMarshal(ClubCreate{Name: "Observatory"})}))
	for _, v := range views {
		f.Add(codec.MustMarshal(Input{Kind: InWatch, Watch: 3, View: v.Name, Args: codec.MustMarshal(map[string]string{})}))
	}
	for _, kind := range []string{InFrame, InConnected, InDisconnected, InPersisted, InPersistFailed, InGot, InTimer, InForeground, InStart, "?"} {
		f.Add(codec.MustMarshal(Input{Kind: kind, Now: 1 << 62, Mono: 1e300, Bytes: []byte{0x80}}))
	}
	f.Fuzz(func(t *testing.T, in []byte) {
		a := New(rand.NewChaCha8([32]byte{1}))
		start := a.StepBytes(codec.MustMarshal(Input{Kind: InStart, Origin: "https://hushcup.test", Now: 1_790_000_000_000}))
		for range 2 {
			if out := a.StepBytes(in); bytes.Contains(out, []byte("core-fault")) {
				t.Fatalf("%x: %q", in, out)
			}
		}
		_ = start
	})
}
