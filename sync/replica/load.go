package replica

import (
	"fmt"
	"slices"
	"sort"

	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// load takes what the phone stored. A book whose log does not hold together is fetched anew; what only this phone has is
// never thrown away.
func (r *Replica) load(records []Record) {
	if r.loaded {
		return
	}
	r.loaded = true
	logs := map[oplog.BookID]*ledgerRecords{}
	var logKeys = map[oplog.BookID][]string{}
	for _, rec := range records {
		parts := keyParts(rec.Key)
		switch {
		case parts[0]+"/" == ownPrefix:
			r.disk.own[rec.Key] = rec.Value
		case parts[0] == "log" && len(parts) >= 3:
			if id, ok := parseID[oplog.BookID](parts[1]); ok {
				logKeys[id] = append(logKeys[id], rec.Key)
				if logs[id] == nil {
					logs[id] = &ledgerRecords{chain: map[uint64][]byte{}}
				}
				logs[id].take(parts[2:], rec.Value)
			}
		}
	}
	r.restoreOwn()
	for _, b := range r.order {
		if stored := logs[b.id]; stored != nil {
			r.loadLog(b, stored, logKeys[b.id])
		}
	}
	for _, b := range r.order {
		r.learnKeys(b)
		r.tidy(b)
	}
}

func (l *ledgerRecords) take(parts []string, value []byte) {
	switch {
	case len(parts) == 1 && parts[0] == "head":
		l.headValue = value
	case len(parts) == 1 && parts[0] == "keys":
		l.keys = value
	case len(parts) == 1 && parts[0] == "snap":
		l.snap = value
	case len(parts) == 2 && parts[0] == "tail":
		if n, ok := parseNumber(parts[1]); ok {
			l.tail = append(l.tail, tailRun{n, value})
		}
	case len(parts) == 2 && parts[0] == "chain":
		if n, ok := parseNumber(parts[1]); ok {
			l.chain[n] = value
		}
	}
}

func (r *Replica) loadLog(b *book, stored *ledgerRecords, keys []string) {
	sort.Slice(stored.tail, func(i, j int) bool { return stored.tail[i].first < stored.tail[j].first })
	log := newLedger()
	err := log.load(stored)
	if err == nil {
		b.log = log
		b.removed, b.code, b.text = stored.head.Removed, stored.head.Code, stored.head.Text
		b.written, b.writing = log.order.Pos, log.order.Pos
		return
	}
	b.log = newLedger()
	_ = b.log.loadKeys(stored.keys)
	for _, key := range keys {
		if key != keysKey(b.id) {
			r.disk.del(key)
		}
	}
}

// restoreOwn brings back what only this phone has, from what the disk holds: at the start, and after a failed write.
func (r *Replica) restoreOwn() {
	own := r.disk.own
	r.jobs, r.refused, r.hurry, r.own = nil, nil, nil, ownParts{}
	r.me, r.device, r.phone = nil, oplog.DeviceID{}, phoneRecord{}
	if value, ok := own[keyPhone]; ok {
		r.restorePhone(value)
	}
	before := r.books
	r.books, r.order = map[oplog.BookID]*book{}, nil
	for _, key := range sortedKeys(own) {
		parts := keyParts(key)
		if len(parts) == 3 && parts[1] == "book" {
			r.restoreBook(before, parts[2], own[key])
		}
		if len(parts) == 3 && parts[1] == "job" {
			r.restoreJob(parts[2], own[key])
		}
	}
	for _, key := range sortedKeys(own) {
		r.restoreOp(keyParts(key), own[key])
	}
	for _, b := range r.order {
		r.tidy(b)
	}
}

func (r *Replica) restorePhone(value []byte) {
	record, err := decodeRecord[phoneRecord](value)
	if err != nil {
		r.fault = refuse("storage-damaged", "the stored identity does not decode: %v", err)
		return
	}
	r.phone = record
	r.me = &seal.Identity{SignSeed: record.Sign, BoxSeed: record.Box}
	r.device = oplog.DeviceID(r.me.Public().Sign)
}

// restoreBook keeps the folded part of a book that was there before.
func (r *Replica) restoreBook(before map[oplog.BookID]*book, name string, value []byte) {
	id, ok := parseID[oplog.BookID](name)
	record, err := decodeRecord[bookRecord](value)
	if !ok || err != nil {
		return
	}
	b := newBook(id, record, r.device)
	if old := before[id]; old != nil {
		b.log, b.removed, b.halted, b.code, b.text = old.log, old.removed, old.halted, old.code, old.text
		b.writing, b.written, b.head = old.writing, old.written, old.head
	}
	r.addBook(b)
}

func (r *Replica) restoreOp(parts []string, value []byte) {
	if len(parts) == 3 && parts[1] == "refused" {
		if record, err := decodeRecord[refusedRecord](value); err == nil {
			r.refused = append(r.refused, record)
			r.lastItem = max(r.lastItem, record.Item.ID)
		}
		return
	}
	if len(parts) < 4 {
		return
	}
	id, ok := parseID[oplog.BookID](parts[2])
	b := r.books[id]
	if !ok || b == nil {
		return
	}
	switch parts[1] {
	case "out":
		if it, err := decodeRecord[item](value); err == nil && it.formed() {
			if o := r.outboxOf(b, parts[3]); o != nil {
				o.insert(&it)
				r.lastItem = max(r.lastItem, it.ID)
			}
		}
	case "run":
		if o := r.outboxOf(b, parts[3]); o != nil {
			r.restoreRun(b, o, value)
		}
	case "unseal":
		if sample, ok := parseID[oplog.SampleID](parts[3]); ok {
			b.intentions = append(b.intentions, sample)
		}
	}
}

// formed says whether a stored item can be worked with.
func (it *item) formed() bool {
	switch {
	case it.Kind == oplog.Part:
		return len(it.Keys) == 1 || len(it.Keys) == 2 && it.Sample != nil
	case it.Kind == oplog.Sample:
		return len(it.Keys) == 2 && it.Sample != nil
	}
	return it.Kind.Known()
}

// outboxOf finds or makes the outbox of an author that the phone can sign as.
func (r *Replica) outboxOf(b *book, author string) *outbox {
	device, ok := parseID[oplog.DeviceID](author)
	if !ok {
		return nil
	}
	if device == b.out.author {
		return b.out
	}
	if _, ok := r.identity(device); !ok {
		return nil
	}
	if b.guest == nil {
		b.guest = newOutbox(device)
	}
	return b.guest
}

func (r *Replica) restoreRun(b *book, o *outbox, value []byte) {
	record, err := decodeRecord[runRecord](value)
	if err != nil {
		return
	}
	run, err := record.Run.Unpack()
	if err != nil || len(run.Ops) != len(record.Items) || run.Ops[0].Device != o.author || run.Ops[0].BookOf() != b.id {
		return
	}
	f := &frozen{run: run, kept: true}
	for i := range record.Items {
		it := record.Items[i]
		it.Body = run.Ops[i].Body
		if it.Kind != run.Ops[i].Kind || !it.formed() {
			return
		}
		f.items = append(f.items, &it)
		r.lastItem = max(r.lastItem, it.ID)
	}
	o.run = f
}

// tidy forgets what waits although it is ordered already: a write that would have said so was lost.
func (r *Replica) tidy(b *book) {
	for _, o := range []*outbox{b.out, b.guest} {
		if o == nil || o.run == nil {
			continue
		}
		head := b.log.state.Head(o.author)
		last := o.run.last()
		switch {
		case head.Seq < o.run.run.Ops[0].Seq:
		case head.Seq >= last.Seq && b.log.holds(o.run):
			o.run = nil
			r.disk.del(runKey(b.id, o.author))
		default:
			r.thaw(b, o)
		}
	}
	b.intentions = slices.DeleteFunc(b.intentions, func(id oplog.SampleID) bool {
		info, ok := b.log.state.Sample(id)
		return ok && info.UnsealedPos != 0
	})
	if b.removed { // what a failed write brought back will not be ordered either
		r.giveUp(b, "not-a-member", "this device was taken out of the book")
	}
}

// holds says whether a run is the one that stands in the order, as far as this phone can tell: among the last own ones, and
// those after the snapshot. Nothing older can be left in the outbox, since a run leaves it in the transaction that folds it.
func (l *ledger) holds(f *frozen) bool {
	hash := f.last().Hash()
	if l.state.Head(f.last().Device).Hash == hash || slices.Contains(l.mine, hash) {
		return true
	}
	for i := range l.tail {
		placed, err := decodeRecord[oplog.Placed](l.tail[i].value)
		if err != nil || len(placed.Run.Ops) == 0 {
			continue
		}
		op, err := oplog.Parse(placed.Run.Ops[len(placed.Run.Ops)-1].Raw, nil)
		if err == nil && op.Hash() == hash {
			return true
		}
	}
	return false
}

// Start makes identity and notebook when there is none yet, and connects to host ("" stays offline). It must follow Load.
func (r *Replica) Start(now int64, host string) (Ticket, error) {
	r.now = now
	switch {
	case !r.loaded:
		return 0, refuse("not-loaded", "Load comes first")
	case r.fault != nil:
		return 0, r.fault
	case r.me == nil:
		if err := r.begin(host); err != nil {
			return 0, err
		}
	}
	r.adoptHost(host)
	r.started, r.startHost = true, host
	r.wantAll()
	return r.ticket(), nil
}

// wantAll connects to every host that a book or a job lives at.
func (r *Replica) wantAll() {
	r.want(r.startHost)
	for _, b := range r.order {
		r.want(b.record.Host)
	}
	for _, j := range r.jobs {
		r.want(j.Host)
	}
}

// adoptHost gives a host to books that were made without one.
func (r *Replica) adoptHost(host string) {
	if host == "" {
		return
	}
	if r.phone.Host == "" {
		r.phone.Host = host
		r.putOwn(keyPhone, &r.phone)
	}
	for _, b := range r.order {
		if b.record.Host == "" {
			b.record.Host = host
			r.saveBook(b)
		}
	}
}

func (r *Replica) begin(host string) error {
	identity, err := seal.NewIdentity(r.rand)
	if err != nil {
		return fromSeal(err)
	}
	r.me, r.device = &identity, oplog.DeviceID(identity.Public().Sign)
	b, err := r.create(club.Notebook, host, []club.Enrolment{r.enrolment()})
	if err != nil {
		r.me, r.device = nil, oplog.DeviceID{}
		return err
	}
	r.phone = phoneRecord{Sign: identity.SignSeed, Box: identity.BoxSeed, Notebook: b.id, Host: host}
	r.putOwn(keyPhone, &r.phone)
	r.changed(zeroBook, ChangedSync)
	return nil
}

func (r *Replica) enrolment() club.Enrolment {
	public := r.me.Public()
	return club.Enrolment{Sign: public.Sign, Box: public.Box}
}

// create makes a book whose first op is frozen at once: its hash is the book's name. Its time is zero, since a clock that was
// wrong must not have it refused.
func (r *Replica) create(kind club.BookKind, host string, devices []club.Enrolment) (*book, error) {
	key, err := seal.NewKey(r.rand)
	if err != nil {
		return nil, fromSeal(err)
	}
	body := club.CreateBody{Rules: club.RulesVersion, Kind: kind, Devices: devices, Epoch: club.Grant{ID: oplog.KeyID(key.ID())}}
	if err := r.draw(body.Nonce[:]); err != nil {
		return nil, err
	}
	if err := r.draw(body.Member[:]); err != nil {
		return nil, err
	}
	// The wraps are bound to the book, whose name is the hash of the op that holds them; so those of `create` are bound to a
	// book of zeros.
	for i := range devices {
		w, err := r.wrapEpoch(zeroBook, body.Member, &devices[i], key)
		if err != nil {
			return nil, err
		}
		body.Epoch.Wraps = append(body.Epoch.Wraps, w)
	}
	op := oplog.New(oplog.Header{Device: r.device, Seq: 1, Kind: oplog.Create}, codec.MustMarshal(&body))
	b := newBook(op.BookOf(), bookRecord{Kind: kind, Member: body.Member, Host: host}, r.device)
	r.addBook(b)
	r.saveBook(b)
	r.addKey(b, key)
	r.lastItem++
	it := &item{ID: r.lastItem, Kind: oplog.Create, Body: op.Body, Wall: r.now}
	r.keepRun(b, b.out, &frozen{items: []*item{it}, run: oplog.Sign([]oplog.Op{op}, r.me.Sign)})
	r.changed(b.id, ChangedState|ChangedSync)
	return b, nil
}

func (r *Replica) draw(into []byte) error {
	if n, err := r.rand.Read(into); err != nil || n != len(into) {
		return refuse("no-randomness", "the source of randomness ended: %v", fmt.Sprint(err))
	}
	return nil
}
