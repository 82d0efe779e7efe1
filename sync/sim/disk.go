package sim

import (
	"bytes"
	"maps"
	"slices"
	"strings"

	"hushcup/sync/replica"
)

// disk is one phone's storage: records, and at most a few transactions that are not durable yet.
type disk struct {
	records map[string][]byte
	pending []replica.Persist
}

func newDisk() *disk { return &disk{records: map[string][]byte{}} }

func (d *disk) apply(p replica.Persist) {
	for _, key := range p.Deletes {
		delete(d.records, key)
	}
	for _, r := range p.Puts {
		d.records[r.Key] = bytes.Clone(r.Value)
	}
}

// finish takes a pending transaction out; ok is false when a crash has already decided about it.
func (d *disk) finish(tx uint64) (p replica.Persist, ok bool) {
	at := slices.IndexFunc(d.pending, func(p replica.Persist) bool { return p.Tx == tx })
	if at < 0 {
		return p, false
	}
	p = d.pending[at]
	d.pending = slices.Delete(d.pending, at, at+1)
	return p, true
}

// crash decides what becomes of the transactions under way: a first part of them is durable, though nobody was told, and
// the rest is lost.
func (d *disk) crash(r *rng) (lost, kept int) {
	kept = r.upTo(len(d.pending) + 1)
	lost = len(d.pending) - kept
	for _, p := range d.pending[:kept] {
		d.apply(p)
	}
	d.pending = nil
	return lost, kept
}

func (d *disk) copy() *disk { return &disk{records: maps.Clone(d.records)} }

// hot gives what a phone loads at its start, in an order of no meaning.
func (d *disk) hot() []replica.Record {
	var out []replica.Record
	for _, key := range slices.Sorted(maps.Keys(d.records)) {
		if !strings.HasPrefix(key, "cold/") {
			out = append(out, replica.Record{Key: key, Value: bytes.Clone(d.records[key])})
		}
	}
	return out
}

func (d *disk) get(keys []string) []replica.Record {
	var out []replica.Record
	for _, key := range keys {
		if value, ok := d.records[key]; ok {
			out = append(out, replica.Record{Key: key, Value: bytes.Clone(value)})
		}
	}
	return out
}
