package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
)

// A module is a WebAssembly module (core specification 1.0, section 5.5) cut into what stands before its data section, the
// memory that the data section describes, and what stands after it.
type module struct {
	before, after []byte
	memory        []byte // from address 0
}

const (
	dataSection      = 11
	dataCountSection = 12
	activeSegment    = 0    // of memory 0, with a constant address
	constant32       = 0x41 // i32.const
	endOfExpression  = 0x0b
)

var wasmHead = []byte("\x00asm\x01\x00\x00\x00")

// parseModule refuses what Go's linker does not make: passive segments, computed addresses, several data sections.
func parseModule(content []byte) (module, error) {
	if !bytes.HasPrefix(content, wasmHead) {
		return module{}, errors.New("this is not a WebAssembly module of version 1")
	}
	for at := len(wasmHead); at < len(content); {
		kind := content[at]
		r := reader{content, at + 1, nil}
		size := r.unsigned()
		body := r.take(size)
		switch {
		case r.err != nil:
			return module{}, fmt.Errorf("section %d: %w", kind, r.err)
		case kind == dataCountSection:
			return module{}, errors.New("the linker counts the data segments beforehand, which this build cannot rewrite")
		case kind == dataSection:
			memory, err := readSegments(body)
			return module{before: content[:at], memory: memory, after: content[r.at:]}, err
		}
		at = r.at
	}
	return module{}, errors.New("the module has no data section")
}

func readSegments(section []byte) ([]byte, error) {
	const mostMemory = 1 << 28 // a guard against a misread address, far above what a phone could hold
	r := reader{section, 0, nil}
	var memory []byte
	for range r.unsigned() {
		mode, code := r.unsigned(), r.byte()
		address, end := r.unsigned(), r.byte()
		content := r.take(r.unsigned())
		if r.err != nil {
			return nil, fmt.Errorf("the data section: %w", r.err)
		}
		if mode != activeSegment || code != constant32 || end != endOfExpression || address > mostMemory {
			return nil, fmt.Errorf("a data segment of another kind: mode %d, opcode %#x, address %d", mode, code, address)
		}
		if end := address + len(content); end > len(memory) {
			memory = append(memory, make([]byte, end-len(memory))...)
		}
		copy(memory[address:], content) // where two overlap, the later counts, as in a browser
	}
	return memory, r.err
}

// leastGap is how many zeros in a row are left out. Go's linker leaves out the shortest runs, which makes the file smaller
// and its compressed form much larger: an address costs more than the zeros that it saves.
const leastGap = 64

// encode writes the module with its memory in few segments.
func (m module) encode() []byte {
	segments := cutAtZeros(m.memory, leastGap)
	section := binary.AppendUvarint(nil, uint64(len(segments)))
	for _, s := range segments {
		section = append(binary.AppendUvarint(section, activeSegment), constant32)
		section = append(appendSigned(section, int64(s.from)), endOfExpression)
		section = binary.AppendUvarint(section, uint64(s.to-s.from))
		section = append(section, m.memory[s.from:s.to]...)
	}
	out := append(bytes.Clone(m.before), dataSection)
	out = append(binary.AppendUvarint(out, uint64(len(section))), section...)
	return append(out, m.after...)
}

type span struct{ from, to int }

// cutAtZeros finds what is left of memory without its runs of at least so many zeros.
func cutAtZeros(memory []byte, least int) []span {
	var list []span
	for at := 0; at < len(memory); {
		if memory[at] == 0 {
			at++
			continue
		}
		s := span{at, at}
		for ; at < len(memory) && at-s.to < least; at++ {
			if memory[at] != 0 {
				s.to = at + 1
			}
		}
		list = append(list, s)
	}
	return list
}

// appendSigned writes a signed LEB128, as addresses are written.
func appendSigned(to []byte, value int64) []byte {
	for {
		low := byte(value & 0x7f)
		value >>= 7
		if value == 0 && low&0x40 == 0 || value == -1 && low&0x40 != 0 {
			return append(to, low)
		}
		to = append(to, low|0x80)
	}
}

// reader reads a module's numbers; after an error everything is zero. Addresses are written signed, but those that are not
// negative read the same unsigned, and a negative one reads as too large.
type reader struct {
	content []byte
	at      int
	err     error
}

func (r *reader) unsigned() int {
	if r.err != nil {
		return 0
	}
	value, n := binary.Uvarint(r.content[min(r.at, len(r.content)):])
	if n <= 0 || value > 1<<32 {
		r.err = fmt.Errorf("no number at %d", r.at)
		return 0
	}
	r.at += n
	return int(value)
}

func (r *reader) byte() byte {
	b := r.take(1)
	if r.err != nil {
		return 0
	}
	return b[0]
}

func (r *reader) take(n int) []byte {
	if r.err == nil && n > len(r.content)-r.at {
		r.err = fmt.Errorf("%d bytes at %d reach beyond the end", n, r.at)
	}
	if r.err != nil {
		return nil
	}
	r.at += n
	return r.content[r.at-n : r.at]
}
