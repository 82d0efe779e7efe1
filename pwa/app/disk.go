package app

import "hushcup/sync/replica"

// The app keeps records of its own beside the replica's: digests made from what the replica holds, so that a start need not
// open what it does not show. Losing them loses nothing.
const (
	ownKeys     = "app/"      // handed over at the start
	ownColdKeys = "cold/app/" // read when they are looked at
)

// disk numbers writes and reads of replica and app in one row, so that answers find their way back.
type disk struct {
	last   uint64
	writes map[uint64]write
	reads  map[uint64]reading
}

// write is a transaction under way: of the replica, or with own set, of the app.
type write struct {
	replica uint64
	own     func(saved bool)
}

// reading is a read under way: of the replica, or with own set, of the app.
type reading struct {
	replica uint64
	own     func(found []StoredRecord)
}

func (d *disk) number() uint64 {
	d.last++
	return d.last
}

func (d *disk) reading(replicaID uint64) uint64 {
	return d.read(reading{replica: replicaID})
}

func (d *disk) read(r reading) uint64 {
	if d.reads == nil {
		d.reads = map[uint64]reading{}
	}
	id := d.number()
	d.reads[id] = r
	return id
}

func (d *disk) write(w write) uint64 {
	if d.writes == nil {
		d.writes = map[uint64]write{}
	}
	tx := d.number()
	d.writes[tx] = w
	return tx
}

// persist passes the replica's transaction on.
func (a *App) persist(p replica.Persist) {
	puts := make([]StoredRecord, len(p.Puts))
	for i, put := range p.Puts {
		puts[i] = StoredRecord(put)
	}
	a.emit(PersistEffect{Kind: "persist", Tx: a.disk.write(write{replica: p.Tx}), Puts: puts, Deletes: p.Deletes})
}

// persistOwn writes records of the app.
func (a *App) persistOwn(puts []StoredRecord, deletes []string, then func(saved bool)) {
	a.emit(PersistEffect{Kind: "persist", Tx: a.disk.write(write{own: then}), Puts: puts, Deletes: deletes})
}

// ownTicket marks the tickets of the app's own writes; the replica counts from one.
const ownTicket replica.Ticket = 1 << 63

// keepOwn writes a record of the app's that no book has. The command under way is answered when it is durable, and only then
// kept is called.
func (a *App) keepOwn(record StoredRecord, kept func()) *Error {
	ticket := ownTicket | replica.Ticket(a.disk.last+1)
	a.persistOwn([]StoredRecord{record}, nil, func(saved bool) {
		if !saved {
			a.replies.failed(ticket, &Error{Code: "storage-failed", Text: "this device could not save it", Hint: "make room and try again"})
			return
		}
		kept()
		a.replies.saved(ticket)
	})
	return a.wait(ticket, nil)
}

// readOwn reads all records of the app whose keys begin so, and with last those after them up to the ones that begin with that.
func (a *App) readOwn(prefix, last string, then func(found []StoredRecord)) {
	a.emit(ReadEffect{Kind: "read", ID: a.disk.read(reading{own: then}), Prefix: prefix, Last: last})
}

func (a *App) persisted(tx uint64) {
	w, ok := a.disk.writes[tx]
	if !ok {
		return
	}
	delete(a.disk.writes, tx)
	if w.own != nil {
		w.own(true)
		return
	}
	a.feed(replica.Persisted{Tx: w.replica})
}

func (a *App) persistFailed(tx uint64, code string) {
	w, ok := a.disk.writes[tx]
	if !ok {
		return
	}
	delete(a.disk.writes, tx)
	if w.own != nil {
		w.own(false)
		return
	}
	a.feed(replica.PersistFailed{Tx: w.replica, Code: code})
}

func (a *App) got(id uint64, records []StoredRecord) {
	r, ok := a.disk.reads[id]
	if !ok {
		return
	}
	delete(a.disk.reads, id)
	a.replies.something = true
	if r.own != nil {
		r.own(records)
		return
	}
	found := make([]replica.Record, len(records))
	for i, record := range records {
		found[i] = replica.Record(record)
	}
	a.feed(replica.Got{Read: r.replica, Records: found})
}
