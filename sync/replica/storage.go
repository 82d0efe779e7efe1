package replica

import (
	"sort"
	"strings"
)

// disk is the queue of transactions. One is under way at most; what happens meanwhile collects in the next, so that many
// commands share one durable write and a failure has one clear edge.
//
// Records beginning with "own/" hold what only this phone has: after a failed write they go back to what the disk holds, and
// the commands of the write fail. All others hold what came from elsewhere or follows from it: a failed write of them is
// kept and tried again.
type disk struct {
	last    uint64
	flying  *batch
	waiting batch
	own     map[string][]byte // own/ records as the disk holds them
	fault   string            // code of the last failed write, "" since one succeeded
	retry   bool              // try although the last one failed
	tries   uint              // failed writes in a row
}

type batch struct {
	tx      uint64
	writes  map[string][]byte // nil deletes
	tickets []Ticket
}

const ownPrefix = "own/"

func (b *batch) empty() bool { return len(b.writes) == 0 && len(b.tickets) == 0 }

func (d *disk) put(key string, value []byte) {
	if d.waiting.writes == nil {
		d.waiting.writes = map[string][]byte{}
	}
	d.waiting.writes[key] = value
}

func (d *disk) del(key string) { d.put(key, nil) }

// peek finds a value that is on its way to the disk.
func (d *disk) peek(key string) []byte {
	if value, ok := d.waiting.writes[key]; ok {
		return value
	}
	if d.flying != nil {
		return d.flying.writes[key]
	}
	return nil
}

// next is the number of the transaction that what is written now will stand in, if nothing fails.
func (d *disk) next() uint64 { return d.last + 1 }

// flush hands the waiting transaction out, if none is under way.
func (r *Replica) flush() {
	d := &r.disk
	if d.flying != nil || d.waiting.empty() || (d.fault != "" && !d.retry && len(d.waiting.tickets) == 0) {
		return
	}
	if len(d.waiting.writes) == 0 && d.fault == "" { // whoever waits changed nothing, and all before it is durable
		for _, ticket := range d.waiting.tickets {
			r.do(Saved{Ticket: ticket})
		}
		d.waiting = batch{}
		return
	}
	d.last++
	b := d.waiting
	b.tx = d.last
	d.flying, d.waiting, d.retry = &b, batch{}, false
	for _, book := range r.order {
		book.writing = book.log.order.Pos
	}
	r.do(b.persist())
}

func (b *batch) persist() Persist {
	p := Persist{Tx: b.tx}
	for _, key := range sortedKeys(b.writes) {
		if value := b.writes[key]; value != nil {
			p.Puts = append(p.Puts, Record{Key: key, Value: value})
		} else {
			p.Deletes = append(p.Deletes, key)
		}
	}
	return p
}

func sortedKeys(m map[string][]byte) []string {
	keys := make([]string, 0, len(m))
	for key := range m {
		keys = append(keys, key)
	}
	sort.Strings(keys)
	return keys
}

// persisted makes what was written count: commands are saved, frozen runs may leave, windows may open.
func (r *Replica) persisted(tx uint64) {
	d := &r.disk
	if d.flying == nil || d.flying.tx != tx {
		return
	}
	b := d.flying
	d.flying = nil
	for key, value := range b.writes {
		if !strings.HasPrefix(key, ownPrefix) {
			continue
		}
		if value == nil {
			delete(d.own, key)
		} else {
			d.own[key] = value
		}
	}
	for _, ticket := range b.tickets {
		r.do(Saved{Ticket: ticket})
	}
	for _, book := range r.order {
		r.durable(book, tx)
	}
	if d.fault != "" {
		d.fault, d.tries = "", 0
		r.changed(zeroBook, ChangedSync)
		if r.started {
			r.wantAll()
		}
		r.dialAll()
	}
}

// persistFailed takes back what commands did since the last durable write, and keeps the rest for another try.
func (r *Replica) persistFailed(tx uint64, code string) {
	d := &r.disk
	if d.flying == nil || d.flying.tx != tx {
		return
	}
	failed, meanwhile := d.flying, d.waiting
	d.flying, d.waiting = nil, batch{}
	for _, b := range []*batch{failed, &meanwhile} {
		for key, value := range b.writes {
			if !strings.HasPrefix(key, ownPrefix) {
				d.put(key, value)
			}
		}
	}
	tickets := append(failed.tickets, meanwhile.tickets...)
	d.fault = code
	d.tries++
	r.restoreOwn()
	for _, ticket := range tickets {
		r.do(Failed{Ticket: ticket, Code: code, Text: "the phone's storage did not keep it"})
	}
	r.hangUpAll()
	r.do(SetTimer{Name: timerStorage, After: backoff(d.tries, 1000, 30_000)})
	r.changed(zeroBook, ChangedSync|ChangedDocs|ChangedState|ChangedGuesses)
}

// retryStorage tries a failed write again. When nothing is left to write, the fault is over with the next command.
func (r *Replica) retryStorage() {
	d := &r.disk
	if d.fault == "" {
		return
	}
	d.retry = true
	if r.me == nil && r.started && r.fault == nil { // the first start's write had failed
		_ = r.begin(r.startHost)
	}
	if d.waiting.empty() {
		d.put(keyProbe, []byte{1})
	}
}

// backoff doubles from least to most.
func backoff(tries uint, least, most int64) int64 {
	if tries > 20 {
		return most
	}
	return min(least<<max(tries, 1)>>1, most)
}
