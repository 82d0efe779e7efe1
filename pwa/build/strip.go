package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
)

// Go's runtime carries tables that name file and line of every instruction. Only tracebacks read them, and no option of the
// linker leaves them out; without them, and with the data in few segments, the download is a sixth smaller. Tracebacks keep
// the names of functions, without the types of generic ones, and show inlined calls as part of their callers.
//
// The tables are described in runtime/symtab.go, runtime/runtime2.go and internal/abi/symtab.go of the toolchain. A _func record
// says where its tables begin in the table of tables; 0 stands for none, which the runtime answers with "?". What the garbage
// collector and the stack walker need (pcsp, most of pcdata) is left as it is.

// strip makes a linked program smaller, or fails where the toolchain's layout is another than the one that is known here.
func strip(linked []byte) ([]byte, error) {
	m, err := parseModule(linked)
	if err != nil {
		return nil, err
	}
	t, err := findTables(m.memory)
	if err == nil {
		err = t.dropLines()
	}
	if err == nil {
		t.shortenNames()
	}
	if err != nil {
		return nil, fmt.Errorf("the Go toolchain's function tables are not as known, so %s has to be adapted: %w", "pwa/build/strip.go", err)
	}
	return m.encode(), nil
}

// tables are the parts of the runtime's pclntab, as slices of the memory.
type tables struct {
	count int
	names []byte // each ends with a zero
	files []byte // cutab and filetab
	pctab []byte // the table of tables
	funcs []byte // functab, then the _func records
}

// typeNames begin the names of type:.eq.T and type:.hash.T.
const typeNames = "type:"

// pclntabHead is the magic number of Go 1.20 and later, two zeros, the least instruction and the size of a pointer.
var pclntabHead = []byte("\xf1\xff\xff\xff\x00\x00\x01\x08")

const (
	pclntabWords = 8 // after the head: nfunc, nfiles, unused, then the offsets of names, cutab, filetab, pctab, funcs
	functabEntry = 8 // entry, offset of the _func
	funcRecord   = 44

	// Fields of a _func.
	fieldPcsp      = 16
	fieldPcfile    = 20
	fieldPcln      = 24
	fieldPcdata    = 28 // how many; their offsets follow the record
	fieldCU        = 32
	fieldStartLine = 36
	fieldFuncdata  = 43 // how many, in one byte; their offsets follow those of pcdata, all ones for none
)

// Of pcdata nobody asks here for where a goroutine may be interrupted (there is one thread, and no signals), for inlined calls
// and for which arguments are still in use; the last two are for tracebacks.
var unneeded = []int{0, 2, 3} // PCDATA_UnsafePoint, PCDATA_InlTreeIndex, PCDATA_ArgLiveIndex

// Of funcdata only tracebacks ask for inlined calls and for how arguments are printed.
var unneededData = []int{3, 5, 6} // FUNCDATA_InlTree, FUNCDATA_ArgInfo, FUNCDATA_ArgLiveInfo

func findTables(memory []byte) (tables, error) {
	at := bytes.Index(memory, pclntabHead)
	if at < 0 || len(memory)-at < len(pclntabHead)+8*pclntabWords {
		return tables{}, errors.New("there are none")
	}
	if bytes.Contains(memory[at+1:], pclntabHead) {
		return tables{}, errors.New("there are several")
	}
	tab := memory[at:]
	word := func(i int) int { return int(binary.LittleEndian.Uint64(tab[len(pclntabHead)+8*i:])) }
	count, names, units, pctab, funcs := word(0), word(3), word(4), word(6), word(7)
	for _, pair := range [][2]int{{1, count}, {len(pclntabHead) + 8*pclntabWords, names}, {names, units}, {units, pctab}, {pctab, funcs}, {funcs, len(tab)}} {
		if pair[0] > pair[1] {
			return tables{}, fmt.Errorf("the parts are not in order: %d functions; %d, %d, %d, %d of %d", count, names, units, pctab, funcs, len(tab))
		}
	}
	t := tables{count: count, names: tab[names:units], files: tab[units:pctab], pctab: tab[pctab:funcs], funcs: tab[funcs:]}
	if (len(t.funcs)-functabEntry)/functabEntry < count {
		return tables{}, fmt.Errorf("%d functions do not fit", count)
	}
	return t, nil
}

// shortenNames cuts off what spells types out, field by field: what stands between brackets in the names of generic functions, and
// what the comparisons that the compiler makes are of. The runtime takes a name to end at its first zero.
func (t tables) shortenNames() {
	for at := 0; at < len(t.names); {
		end := at + bytes.IndexByte(t.names[at:], 0)
		if end < at {
			return
		}
		if bracket := bytes.IndexByte(t.names[at:end], '['); bracket > 0 {
			clear(t.names[at+bracket : end])
		}
		if bytes.HasPrefix(t.names[at:end], []byte(typeNames)) {
			clear(t.names[at+len(typeNames) : end])
		}
		at = end + 1
	}
}

// dropLines zeroes what leads to files and lines, and all tables that nothing leads to any more.
func (t tables) dropLines() error {
	kept := make([]bool, len(t.pctab))
	entry := uint32(0)
	for i := range t.count {
		next := binary.LittleEndian.Uint32(t.funcs[i*functabEntry:])
		if next < entry {
			return fmt.Errorf("function %d begins before the one that precedes it", i)
		}
		entry = next
		record, err := t.record(i, entry)
		if err != nil {
			return fmt.Errorf("function %d: %w", i, err)
		}
		if err := t.dropLinesOf(record, kept); err != nil {
			return fmt.Errorf("function %d: %w", i, err)
		}
		if err := t.dropDataOf(record); err != nil {
			return fmt.Errorf("function %d: %w", i, err)
		}
	}
	for at := range t.pctab {
		if !kept[at] {
			t.pctab[at] = 0
		}
	}
	clear(t.files)
	return nil
}

// record is a function's _func with the offsets of its pcdata tables.
func (t tables) record(i int, entry uint32) ([]byte, error) {
	at := int(binary.LittleEndian.Uint32(t.funcs[i*functabEntry+4:]))
	if at+funcRecord > len(t.funcs) {
		return nil, errors.New("its record is beyond the end")
	}
	record := t.funcs[at:]
	if own := binary.LittleEndian.Uint32(record); own != entry {
		return nil, fmt.Errorf("its record says that it begins at %d, not at %d", own, entry)
	}
	size := funcRecord + 4*int(binary.LittleEndian.Uint32(record[fieldPcdata:]))
	if size > len(record) {
		return nil, errors.New("its tables are beyond the end")
	}
	return record[:size], nil
}

func (t tables) dropLinesOf(record []byte, kept []bool) error {
	needed := [][]byte{record[fieldPcsp:]}
	dropped := [][]byte{record[fieldPcfile:], record[fieldPcln:]}
	for at := funcRecord; at < len(record); at += 4 {
		if slices.Contains(unneeded, (at-funcRecord)/4) {
			dropped = append(dropped, record[at:])
		} else {
			needed = append(needed, record[at:])
		}
	}
	for _, field := range needed {
		from, to, err := t.table(field)
		if err != nil {
			return err
		}
		for at := from; at < to; at++ {
			kept[at] = true
		}
	}
	for _, field := range dropped {
		if _, _, err := t.table(field); err != nil { // not a table: then the record is not what it is taken for
			return err
		}
		clear(field[:4])
	}
	for _, field := range []int{fieldCU, fieldStartLine} {
		clear(record[field : field+4])
	}
	return nil
}

// dropDataOf says that a function has none of what is not needed. The offsets lie behind the record, which may thus be longer.
func (t tables) dropDataOf(record []byte) error {
	count := int(record[fieldFuncdata])
	behind := record[len(record):cap(record)]
	if 4*count > len(behind) {
		return errors.New("its funcdata is beyond the end")
	}
	for _, n := range unneededData {
		if n < count {
			copy(behind[4*n:4*n+4], "\xff\xff\xff\xff")
		}
	}
	return nil
}

// table finds where the table that a field names begins and ends: pairs of a value's change and an instruction count, until
// a change of zero that is not the first.
func (t tables) table(field []byte) (from, to int, err error) {
	from = int(binary.LittleEndian.Uint32(field))
	if from == 0 {
		return 0, 0, nil
	}
	r := reader{t.pctab, from, nil}
	for first := true; ; first = false {
		if change := r.unsigned(); r.err != nil || change == 0 && !first {
			return from, r.at, r.err
		}
		r.unsigned()
	}
}
