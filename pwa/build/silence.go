package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"strings"
)

// Go's linker keeps what the runtime would do if somebody recorded an execution trace, read its metrics or asked for its debugging
// aids, and what the cryptography would do in a mode for governments. Nobody can switch those on in the browser: the program has no
// environment but what the worker gives it. What stands behind the switches is emptied. A function that was entered all the same
// would end the core at once, and the worker starts another; the journeys of e2e would not get through.

// silenced are names of functions, as the linker spells them for WebAssembly; one that ends in a star names all that begin so, but for
// what a package does when the program starts.
var silenced = []string{
	// behind traceLocker.ok and traceEnabled: runtime/trace is not linked in, and nothing else starts a trace
	"runtime.traceLocker.G*", "runtime.traceLocker.H*", "runtime.traceLocker.P*", "runtime.traceLocker.S*", "runtime.traceLocker.e*",
	"runtime.traceLocker.s*", "runtime.traceWriter.*", "runtime.traceEventWriter.*",
	"runtime.traceAdvance*", "runtime.traceAcquireEnabled", "runtime.traceReader", "runtime.traceReadCPU", "runtime.traceStopReadCPU",
	"runtime.traceSyncBatch*", "runtime.traceBufFlush", "runtime.traceRegisterLabelsAndReasons", "runtime.traceStack",
	"runtime.makeTraceFrame*", "runtime.__traceMap_.*", "runtime.__traceStackTable_.*",
	"runtime.__traceTypeTable_.*", "runtime.__traceStringTable_.*", "runtime.__traceRegionAlloc_.*", "runtime.__traceBuf_.*",
	// behind settings of GODEBUG
	"runtime.schedtrace*", "runtime.printScavTrace", "runtime.dumpScanStats", "runtime.printAncestorTraceback*",
	"runtime.tracebackHexdump*", "internal_bisect.*",
	// behind runtime/metrics, and counters of settings that are not as usual
	"runtime.initMetrics",
	// behind fips140.Enabled; of all curves only X25519 and Ed25519 are used, of all hashes SHA-2
	"crypto_internal_fips140_aes.*", "crypto_internal_fips140_aes_gcm.*", "crypto_internal_fips140_drbg.__Counter_.*",
	"crypto_internal_fips140_drbg.NewCounter", "crypto_internal_fips140_ecdh.ecdh*", "crypto_internal_fips140_nistec.*",
	"crypto_internal_fips140_nistec_fiat.*", "crypto_internal_fips140_sha3.*",
	// behind symbolizers of C
	"runtime.printCgoTraceback*", "runtime.printOneCgoTraceback",
}

const (
	customSection = 0
	importSection = 2
	codeSection   = 10
	nameSection   = "name"
	functionNames = 1 // a part of the name section
)

// nothing is the body of a silenced function: no variables, unreachable, end.
var nothing = []byte{0x00, 0x00, endOfExpression}

// silence empties what is silenced and drops the names, which only this needs. It tells which of silenced named nothing.
func silence(linked []byte) (quiet []byte, idle []string, err error) {
	sections, err := cutSections(linked)
	if err != nil {
		return nil, nil, err
	}
	names, imported := map[int]string{}, 0
	for _, s := range sections {
		r := reader{s.body, 0, nil}
		switch {
		case s.kind == importSection:
			imported = countFunctions(&r)
		case s.named(nameSection):
			readNames(&r, names)
		}
		if r.err != nil {
			return nil, nil, fmt.Errorf("section %d: %w", s.kind, r.err)
		}
	}
	used := make([]bool, len(silenced))
	out := bytes.Clone(wasmHead)
	for _, s := range sections {
		if s.named(nameSection) {
			continue
		}
		body := s.body
		if s.kind == codeSection {
			if body, err = emptied(body, imported, names, used); err != nil {
				return nil, nil, err
			}
		}
		out = append(binary.AppendUvarint(append(out, s.kind), uint64(len(body))), body...)
	}
	for i, was := range used {
		if !was {
			idle = append(idle, silenced[i])
		}
	}
	return out, idle, nil
}

type section struct {
	kind byte
	body []byte
}

func cutSections(content []byte) (list []section, err error) {
	if !bytes.HasPrefix(content, wasmHead) {
		return nil, fmt.Errorf("this is not a WebAssembly module of version 1")
	}
	for r := (reader{content, len(wasmHead), nil}); r.at < len(content); {
		kind := r.byte()
		body := r.take(r.unsigned())
		if r.err != nil {
			return nil, fmt.Errorf("section %d: %w", kind, r.err)
		}
		list = append(list, section{kind, body})
	}
	return list, nil
}

func (s section) named(name string) bool {
	r := reader{s.body, 0, nil}
	return s.kind == customSection && string(r.take(r.unsigned())) == name
}

// countFunctions counts the imports, of which Go's linker makes functions alone.
func countFunctions(r *reader) int {
	count := r.unsigned()
	for range count {
		r.take(r.unsigned())
		r.take(r.unsigned())
		if kind := r.byte(); kind != 0 && r.err == nil {
			r.err = fmt.Errorf("an import of kind %d", kind)
		}
		r.unsigned()
	}
	return count
}

func readNames(r *reader, names map[int]string) {
	r.take(r.unsigned()) // the section's own
	for r.err == nil && r.at < len(r.content) {
		kind := r.byte()
		part := reader{r.take(r.unsigned()), 0, nil}
		if kind != functionNames {
			continue
		}
		for range part.unsigned() {
			index := part.unsigned()
			names[index] = string(part.take(part.unsigned()))
		}
		if part.err != nil {
			r.err = part.err
		}
	}
}

func emptied(code []byte, imported int, names map[int]string, used []bool) ([]byte, error) {
	r := reader{code, 0, nil}
	count := r.unsigned()
	out := binary.AppendUvarint(nil, uint64(count))
	for i := range count {
		body := r.take(r.unsigned())
		if isSilenced(names[imported+i], used) {
			body = nothing
		}
		out = append(binary.AppendUvarint(out, uint64(len(body))), body...)
	}
	return out, r.err
}

func isSilenced(name string, used []bool) bool {
	for i, pattern := range silenced {
		start, all := strings.CutSuffix(pattern, "*")
		if name == pattern || all && strings.HasPrefix(name, start) && !strings.Contains(name, ".init") {
			used[i] = true
			return true
		}
	}
	return false
}
