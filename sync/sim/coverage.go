package sim

import (
	"fmt"
	"io"
	"maps"
	"slices"
)

// must is what has to happen again and again over a few thousand worlds: an ill that never befalls tests nothing.
var must = []string{
	// What people do.
	"part saved", "answer read", "guess read", "connected", "op listed as refused at rest", "phone of a removed member at rest",
	"command failed on a full disk",
	"ordered kind 0", "ordered kind 1", "ordered kind 2", "ordered kind 3", "ordered kind 4", "ordered kind 5", "ordered kind 6",
	"ordered kind 7", "ordered kind 8", "ordered kind 9", "ordered kind 10", "ordered kind 11", "ordered kind 12",
	"ordered kind 13", "ordered kind 15", "ordered kind 16", "ordered kind 17",

	// Disks, clocks, lines, servers.
	"write lost in a crash", "write kept in a crash, unheard", "write refused by a full disk", "storage rolled back",
	"chain read behind a start",
	"clock at the end of time", "clock years off", "clock minutes off", "clock drifts",
	"line broken", "frame damaged", "frame cut short", "frame repeated", "frame swallowed",
	"server died", "notification lost", "store failed", "store wrote, and the answer was lost", "store lost its tail",
	"server: slowed store-down", "server: slowed server-behind", "server: refused restored",

	// Those who lie, and what they hear.
	"phone in wrong hands", "server forked", "phone misled", "history differs, and it shows",
	"phone stopped: bad-signature", "phone stopped: body-missing", "phone stopped: chain-differs", "phone stopped: malformed",
	"phone stopped: seq-taken",
	"lie refused: bad-key", "lie refused: bad-signature", "lie refused: body-missing", "lie refused: chain-gap",
	"lie refused: malformed", "lie refused: newer-rules", "lie refused: not-a-holder", "lie refused: not-closed",
	"lie refused: not-uniform", "lie refused: not-yours", "lie refused: not-an-organiser", "lie refused: not-yourself",
	"lie refused: second-wrap", "lie refused: seen-contradicts", "lie refused: seq-taken", "lie refused: stale-epoch",
	"lie refused: time-ahead", "lie refused: wrong-sample-key", "lie taken, and void of harm",
}

// Missing lists what has to happen and did not, in these counts; every deceit and lie belongs to it.
func Missing(counts map[string]int) (missing []string) {
	all := slices.Clone(must)
	for _, d := range deceits {
		all = append(all, "device lied: "+d.name)
	}
	for _, l := range lies {
		all = append(all, "server lied: "+l.name)
	}
	for _, what := range all {
		if counts[what] == 0 {
			missing = append(missing, what)
		}
	}
	return missing
}

// Print writes how often everything happened.
func Print(to io.Writer, counts map[string]int) {
	for _, what := range slices.Sorted(maps.Keys(counts)) {
		fmt.Fprintf(to, "%9d  %s\n", counts[what], what)
	}
}
