package native

import (
	"bytes"
	"slices"
	"strings"
	"sync"

	"hushcup/pwa/app"
)

// Disk is a phone's storage: it outlives the Phone that is opened on it.
type Disk struct {
	mu      sync.Mutex
	records map[string][]byte
	refusal string
}

// NewDisk is the storage of a phone out of its box.
func NewDisk() *Disk { return &Disk{records: map[string][]byte{}} }

// Refuse makes every write fail with a code ("disk-full", "storage-failed"),
// until it is called with none.
func (d *Disk) Refuse(code string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.refusal = code
}

// Copy is a second disk with the same content: a phone that was backed up and
// restored elsewhere.
func (d *Disk) Copy() *Disk {
	d.mu.Lock()
	defer d.mu.Unlock()
	copied := NewDisk()
	for key, value := range d.records {
		copied.records[key] = bytes.Clone(value)
	}
	return copied
}

// Records are all that is stored, by key.
func (d *Disk) Records() []app.StoredRecord { return d.list(func(string) bool { return true }) }

// Values are all stored values, for searching.
func (d *Disk) Values() [][]byte {
	d.mu.Lock()
	defer d.mu.Unlock()
	var values [][]byte
	for _, value := range d.records {
		values = append(values, bytes.Clone(value))
	}
	return values
}

func (d *Disk) hot() []app.StoredRecord {
	return d.list(func(key string) bool { return !strings.HasPrefix(key, "cold/") })
}

func (d *Disk) read(keys []string, prefix string) []app.StoredRecord {
	if prefix != "" {
		return d.list(func(key string) bool { return strings.HasPrefix(key, prefix) })
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	var found []app.StoredRecord
	for _, key := range keys {
		if value, ok := d.records[key]; ok {
			found = append(found, app.StoredRecord{Key: key, Value: bytes.Clone(value)})
		}
	}
	return found
}

func (d *Disk) list(wanted func(key string) bool) []app.StoredRecord {
	d.mu.Lock()
	defer d.mu.Unlock()
	var found []app.StoredRecord
	for key, value := range d.records {
		if wanted(key) {
			found = append(found, app.StoredRecord{Key: key, Value: bytes.Clone(value)})
		}
	}
	slices.SortFunc(found, func(a, b app.StoredRecord) int { return strings.Compare(a.Key, b.Key) })
	return found
}

// write is one atomic transaction.
func (d *Disk) write(puts []app.StoredRecord, deletes []string) (refusal string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.refusal != "" {
		return d.refusal
	}
	for _, key := range deletes {
		delete(d.records, key)
	}
	for _, put := range puts {
		d.records[put.Key] = bytes.Clone(put.Value)
	}
	return ""
}
