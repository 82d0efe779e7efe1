package main

import (
	"bytes"
	"slices"
	"testing"
)

// bodies are the functions of a program by name, but for those that are silenced.
func bodies(t *testing.T, linked, quiet []byte) (kept map[string][]byte, emptied []string) {
	t.Helper()
	names, imported := map[int]string{}, 0
	var before, after [][]byte
	for _, module := range []struct {
		content []byte
		into    *[][]byte
	}{{linked, &before}, {quiet, &after}} {
		sections, err := cutSections(module.content)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range sections {
			r := reader{s.body, 0, nil}
			switch {
			case s.kind == importSection:
				imported = countFunctions(&r)
			case s.named(nameSection):
				readNames(&r, names)
			case s.kind == codeSection:
				for range r.unsigned() {
					*module.into = append(*module.into, r.take(r.unsigned()))
				}
			}
			if r.err != nil {
				t.Fatal(r.err)
			}
		}
	}
	if len(before) != len(after) || len(before) == 0 {
		t.Fatalf("%d functions, and %d before", len(after), len(before))
	}
	kept = map[string][]byte{}
	for i, body := range after {
		switch name := names[imported+i]; {
		case bytes.Equal(body, before[i]):
			kept[name] = body
		case bytes.Equal(body, nothing):
			emptied = append(emptied, name)
		default:
			t.Errorf("%s is another", name)
		}
	}
	return kept, emptied
}

func TestOnlyWhatIsNamedIsEmptied(t *testing.T) {
	linked := link(t)
	quiet, idle, err := silence(linked)
	if err != nil {
		t.Fatal(err)
	}
	kept, emptied := bodies(t, linked, quiet)
	if !slices.Contains(emptied, "runtime.traceLocker.GoStart") || !slices.Contains(emptied, "runtime.initMetrics") {
		t.Errorf("only %q are empty", emptied)
	}
	for _, name := range emptied {
		if !isSilenced(name, make([]bool, len(silenced))) {
			t.Errorf("%s is empty", name)
		}
	}
	for _, name := range []string{"runtime.traceback1", "runtime.traceAcquire", "main.main", "main.pour", "os.init"} {
		if kept[name] == nil {
			t.Errorf("%s is not as it was", name)
		}
	}
	if slices.Contains(idle, "runtime.traceStack") || !slices.Contains(idle, "crypto_internal_fips140_nistec.*") {
		t.Errorf("said to name nothing: %q", idle)
	}
}

func TestWhatAPackageDoesAtTheStartStays(t *testing.T) {
	used := make([]bool, len(silenced))
	for name, want := range map[string]bool{
		"internal_bisect.New": true, "internal_bisect.init": false, "crypto_internal_fips140_aes.init.0": false,
		"runtime.traceLocker.ok": false, "runtime.traceReader": true, "runtime.traceReaderAvailable": false, "": false,
	} {
		if isSilenced(name, used) != want {
			t.Errorf("%q: not %v", name, want)
		}
	}
}
