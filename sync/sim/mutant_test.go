package sim

import (
	"strings"
	"testing"
)

// mostSeeds is within how many worlds a mutant has to be found.
const mostSeeds = 300

// Each fault that is built in on purpose breaks a promise, and the simulation says so: an assertion that no fault can break
// would be none.
func TestSIM9_MutantsAreCaught(t *testing.T) {
	promise := map[Mutant]string{
		SavedEarly: "promise 1", DiskForgets: "", RoleGrabbed: "promise 2", RulesOff: "", PlainLeaks: "promise 3",
		KeyLeaks: "promise 3", LateScores: "promise 4", AnswerChanges: "promise 4", AckEarly: "promise 1", RowDropped: "",
		BodyForged: "promise 5", LiesBelieved: "promise 5", NeverHeals: "promise 6", Restless: "promise 6",
	}
	for m := None + 1; m < mutants; m++ {
		t.Run(m.String(), func(t *testing.T) {
			t.Parallel()
			fault := hunt(m)
			if fault == nil {
				t.Fatalf("%d worlds did not notice it", mostSeeds)
			}
			if !strings.Contains(fault.Broken, promise[m]) {
				t.Errorf("it broke another promise than %q: %s", promise[m], fault.Broken)
			}
			t.Logf("seed %d: %s", fault.Seed, fault.Broken)
		})
	}
}

func hunt(m Mutant) *Fault {
	for seed := range uint64(mostSeeds) {
		if fault := New(seed+1, m).Run(); fault != nil {
			return fault
		}
	}
	return nil
}
