package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// link compiles testdata/fall as the core is compiled.
func link(t *testing.T) []byte {
	t.Helper()
	raw := filepath.Join(t.TempDir(), "fall.wasm")
	if err := compile(".", "./testdata/fall", raw); err != nil {
		t.Fatal(err)
	}
	content, err := os.ReadFile(raw)
	if err != nil {
		t.Fatal(err)
	}
	return content
}

// execute runs a module under Node with the toolchain's own start.
func execute(t *testing.T, module []byte) (stdout, stderr string, exit int) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "fall.wasm")
	if err := os.WriteFile(file, module, 0o644); err != nil {
		t.Fatal(err)
	}
	runtime, err := goRuntime()
	if err != nil {
		t.Fatal(err)
	}
	node := exec.Command("node", "--stack-size=8192", filepath.Join(filepath.Dir(runtime), "wasm_exec_node.js"), file)
	var out, complaints bytes.Buffer
	node.Stdout, node.Stderr = &out, &complaints
	err = node.Run()
	var failed *exec.ExitError
	if err != nil && !errors.As(err, &failed) {
		t.Fatalf("node does not run: %v", err)
	}
	return out.String(), complaints.String(), node.ProcessState.ExitCode()
}

func TestAStrippedProgramRunsAndFallsAsBefore(t *testing.T) {
	linked := link(t)
	quiet, _, err := silence(linked)
	if err != nil {
		t.Fatal(err)
	}
	stripped, err := strip(quiet)
	if err != nil {
		t.Fatal(err)
	}
	before, _, _ := execute(t, linked)
	after, trace, exit := execute(t, stripped)
	if after != before || !strings.Contains(after, "recovered: runtime error: index out of range [65536] with length 0\n") ||
		!strings.Contains(after, "caller: main.caller\n") || !strings.Contains(after, "goroutines: 4036\n") {
		t.Errorf("it printed\n%s\nbut before it was stripped\n%s", after, before)
	}
	if exit != 2 || !strings.Contains(trace, "panic: spilt") || strings.Count(trace, "main.pour(") != 4 || !strings.Contains(trace, "main.main()") {
		t.Errorf("it ended with %d and\n%s", exit, trace)
	}
	if strings.Contains(trace, ".go:") {
		t.Errorf("the trace still names lines:\n%s", trace)
	}
}

func TestStrippingShrinksWhatIsDownloaded(t *testing.T) {
	linked := link(t)
	stripped, err := strip(linked)
	if err != nil {
		t.Fatal(err)
	}
	h := house{dist: t.TempDir(), quick: true}
	size := func(name string, content []byte) int64 {
		if err := errors.Join(h.write(name, content), h.compress(name)); err != nil {
			t.Fatal(err)
		}
		n, err := h.size(name)
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	if before, after := size("linked.wasm", linked), size("stripped.wasm", stripped); after > before*95/100 {
		t.Errorf("%d bytes compressed, and %d before", after, before)
	}
}

func TestTheMemoryIsTheSameButForTheTables(t *testing.T) {
	linked, err := parseModule(link(t))
	if err != nil {
		t.Fatal(err)
	}
	again, err := parseModule(linked.encode())
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(bytes.TrimRight(again.memory, "\x00"), bytes.TrimRight(linked.memory, "\x00")) ||
		!bytes.Equal(again.before, linked.before) || !bytes.Equal(again.after, linked.after) {
		t.Error("what was read and written again is not the same")
	}
}

func TestAnUnknownLayoutStopsTheBuild(t *testing.T) {
	head := string(wasmHead)
	segment := func(mode, code byte, memory string) string {
		body := "\x01" + string([]byte{mode, code}) + "\x10\x0b" + string(binary.AppendUvarint(nil, uint64(len(memory)))) + memory
		return head + "\x0b" + string(binary.AppendUvarint(nil, uint64(len(body)))) + body
	}
	words := func(list ...uint64) string {
		tab := string(pclntabHead)
		for _, word := range list {
			tab += string(binary.LittleEndian.AppendUint64(nil, word))
		}
		return tab + strings.Repeat("\x00", 100)
	}
	for name, module := range map[string]string{
		"not a module":         "\x7fELF",
		"cut in a section":     head + "\x01\x05\x00",
		"no data":              head + "\x01\x01\x00",
		"a data count":         head + "\x0c\x01\x01",
		"a passive segment":    segment(1, constant32, "x"),
		"a computed address":   segment(0, 0x23, "x"),
		"a segment too long":   head + "\x0b\x07\x01\x00\x41\x10\x0b\x09x",
		"no tables":            segment(0, constant32, "nothing here"),
		"two tables":           segment(0, constant32, words(1, 0, 0, 72, 72, 72, 72, 72)+words(1, 0, 0, 72, 72, 72, 72, 72)),
		"parts out of order":   segment(0, constant32, words(1, 0, 0, 72, 100, 90, 90, 100)),
		"more functions":       segment(0, constant32, words(50, 0, 0, 72, 72, 72, 72, 72)),
		"a record too far":     segment(0, constant32, words(1, 0, 0, 72, 72, 72, 72, 72)[:72]+"\x00\x00\x00\x00\xff\x00\x00\x00"+strings.Repeat("\x00", 60)),
		"another entry":        segment(0, constant32, words(1, 0, 0, 72, 72, 72, 72, 72)[:72]+"\x00\x00\x00\x00\x08\x00\x00\x00\x09"+strings.Repeat("\x00", 60)),
		"a table without end":  segment(0, constant32, words(1, 0, 0, 72, 72, 72, 72, 76)[:72]+"\x00\x01\x01\x01"+"\x00\x00\x00\x00\x08\x00\x00\x00"+strings.Repeat("\x00", 16)+"\x01"+strings.Repeat("\x00", 60)),
		"no tables of a known": segment(0, constant32, strings.Replace(words(1, 0, 0, 72, 72, 72, 72, 72), "\xf1", "\xf2", 1)),
	} {
		if _, err := strip([]byte(module)); err == nil {
			t.Errorf("%s: it was stripped", name)
		}
	}
}
