package club

import (
	"slices"

	"hushcup/sync/oplog"
)

// Docs are the winners: for each part of each document, the op that says what it holds now. It is kept beside State by phones,
// and by servers that drop bodies. It holds no bodies, only where they stand, and is packed (rows.go), so that a notebook with
// thousands of brews is read back at a start without unpacking it.
type Docs struct {
	rows      rows
	members   names[oplog.MemberID]
	devices   names[oplog.DeviceID]
	epochs    names[oplog.KeyID]
	envelopes names[envelope]
	held      []heldBody // superseded, but kept until the sample is unsealed
	lost      []uint64   // scoring guesses that came without a body
	index     rowIndex
	scanned   int // rows that were looked for without it
}

type envelope struct {
	id     oplog.KeyID
	sample oplog.SampleID
}

type heldBody struct {
	sample oplog.SampleID
	member oplog.MemberID
	pos    uint64
}

// rowKey is what competes: a part of a document, within a member, or (shared) among all organisers.
type rowKey struct {
	doc    oplog.DocID
	part   uint32
	member uint32 // index, or noMember when shared
}

const noMember = 1<<32 - 1

// Winner is the newest revision of a part.
type Winner struct {
	Doc      oplog.DocID
	Part     uint32
	Shared   bool           // of a shared document: it competes among all organisers
	Member   oplog.MemberID // its author
	Device   oplog.DeviceID
	Pos      uint64
	Time     oplog.Time
	Epoch    oplog.KeyID
	Envelope oplog.KeyID     // zero when it lies under the epoch alone
	Sample   *oplog.SampleID // the sample whose envelope it is, nil without one
	Erased   bool            // its author asked to forget it
	Missing  bool            // its body was already dropped when it came
}

// NewDocs is the state before the first entry.
func NewDocs() *Docs { return &Docs{} }

// Fold takes an entry that State.Fold took (returned nil for), after it; of any kind, as an unseal matters too. It returns
// the positions whose bodies nobody needs any more: never one about a sealed sample, and never a scoring guess.
func (d *Docs) Fold(e oplog.Entry, s *State) (droppable []uint64) {
	switch e.Op.Kind {
	case oplog.Part:
		return d.foldPart(&e, s)
	case oplog.Erase:
		return d.foldErase(&e, s)
	case oplog.Unseal:
		return d.release(s)
	case oplog.Resume:
		d.forgive()
	}
	return nil
}

// forgive ends the search for bodies that are still missing when a book is resumed whose server lost its tail: what superseded
// them may have been lost with it, and nobody has them any more.
func (d *Docs) forgive() {
	d.lost = nil
	for i := range d.rows.len() {
		if r := d.rows.get(i); r.flags&rowMissing != 0 {
			r.flags &^= rowMissing
			d.rows.set(i, &r)
		}
	}
}

func (d *Docs) foldPart(e *oplog.Entry, s *State) []uint64 {
	added := d.rowOf(e, s)
	key := d.key(&added)
	at, known := d.at(&key)
	if !known {
		d.index.add(&d.rows, d.rows.add(&added))
		return nil
	}
	loser := d.rows.get(at)
	if oplog.Newer(added.time, e.Op.Device, loser.time, d.devices.list[loser.device]) {
		d.rows.set(at, &added)
	} else {
		loser = added
	}
	if loser.flags&rowErased != 0 {
		return nil
	}
	return d.drop(s, nil, &loser)
}

// rowOf packs what an entry says of its part.
func (d *Docs) rowOf(e *oplog.Entry, s *State) row {
	op := &e.Op
	author := s.seats[op.Device].member
	r := row{
		doc: op.Doc, part: op.Part, pos: e.Order.Pos, time: op.Time,
		member: d.members.of(author.ID), device: d.devices.of(op.Device), epoch: d.epochs.of(op.Keys[len(op.Keys)-1]),
	}
	if len(op.Keys) == 2 {
		w := s.envelopes[envelopeKey{author.ID, op.Keys[0]}]
		r.envelope = 1 + d.envelopes.of(envelope{op.Keys[0], w.Wrap.Sample})
	}
	if s.Shared(op.Doc) {
		r.flags |= rowShared
	}
	if op.Body == nil {
		r.flags |= rowMissing
	}
	return r
}

func (d *Docs) key(r *row) rowKey {
	if r.flags&rowShared != 0 {
		return rowKey{r.doc, r.part, noMember}
	}
	return rowKey{r.doc, r.part, r.member}
}

// drop decides about a body that lost: it goes, or waits for the unsealing, or, as a scoring guess, stays for good.
func (d *Docs) drop(s *State, droppable []uint64, loser *row) []uint64 {
	if loser.envelope == 0 {
		return append(droppable, loser.pos)
	}
	member := d.members.list[loser.member]
	about := s.bySample[d.envelopes.list[loser.envelope-1].sample]
	switch scores := scoringPos(about, member) == loser.pos; {
	case scores && about.ClosedPos != 0:
		if loser.flags&rowMissing != 0 {
			d.lost = append(d.lost, loser.pos)
		}
		return droppable
	case about.UnsealedPos == 0:
		d.held = append(d.held, heldBody{about.Body.ID, member, loser.pos})
		return droppable
	}
	return append(droppable, loser.pos)
}

// scoringPos is where a member's scoring guess stands, 0 if there is none.
func scoringPos(about *sample, member oplog.MemberID) uint64 {
	if g := about.guessOf(member); g != nil && g.Scoring != nil {
		return g.Scoring.Pos
	}
	return 0
}

// foldErase marks all parts of the documents that an author wants forgotten.
func (d *Docs) foldErase(e *oplog.Entry, s *State) (droppable []uint64) {
	var body EraseBody
	if !decode(e.Op.Body, &body) {
		return nil
	}
	author := d.members.of(s.seats[e.Op.Device].member.ID)
	for i := range d.rows.len() {
		r := d.rows.get(i)
		if r.member != author || r.flags&(rowShared|rowErased) != 0 || !slices.Contains(body.Docs, r.doc) {
			continue
		}
		droppable = d.drop(s, droppable, &r)
		r.flags |= rowErased
		d.rows.set(i, &r)
	}
	return droppable
}

// release lets go what waited for samples that are open by now.
func (d *Docs) release(s *State) (droppable []uint64) {
	waiting := d.held[:0:0]
	for _, h := range d.held {
		if s.bySample[h.sample].UnsealedPos == 0 {
			waiting = append(waiting, h)
		} else {
			droppable = append(droppable, h.pos)
		}
	}
	d.held = waiting
	return droppable
}

// Get finds a member's part.
func (d *Docs) Get(member oplog.MemberID, doc oplog.DocID, part uint32) (Winner, bool) {
	if m, ok := d.members.find(member); ok {
		return d.find(rowKey{doc, part, m})
	}
	return Winner{}, false
}

// Shared finds a part of a shared document.
func (d *Docs) Shared(doc oplog.DocID, part uint32) (Winner, bool) {
	return d.find(rowKey{doc, part, noMember})
}

func (d *Docs) find(key rowKey) (Winner, bool) {
	if at, ok := d.at(&key); ok {
		r := d.rows.get(at)
		return d.winner(&r), true
	}
	return Winner{}, false
}

// scans is how many rows are looked for one after the other before the index is made: a start looks for a few.
const scans = 16

// at finds the row of a key.
func (d *Docs) at(key *rowKey) (row uint32, ok bool) {
	is := func(i uint32) bool {
		r := d.rows.get(i)
		return d.key(&r) == *key
	}
	if d.index.slots == nil {
		if d.scanned < scans {
			d.scanned++
			return d.rows.scan(&key.doc, is)
		}
		d.index.rebuild(&d.rows)
	}
	return d.index.find(key, is)
}

// Each calls yield for every winner, in the order in which the parts first appeared, until it returns false.
func (d *Docs) Each(yield func(Winner) bool) {
	for i := range d.rows.len() {
		r := d.rows.get(i)
		if !yield(d.winner(&r)) {
			return
		}
	}
}

// EachOf is Each for the parts of one number that are a member's own, of whom there may be thousands among many more.
func (d *Docs) EachOf(member oplog.MemberID, part uint32, yield func(*Winner)) {
	m, ok := d.members.find(member)
	if !ok {
		return
	}
	for i := range d.rows.len() {
		if d.rows.part(i) != part {
			continue
		}
		if r := d.rows.get(i); r.member == m && r.flags&rowShared == 0 {
			w := d.winner(&r)
			yield(&w)
		}
	}
}

// EachFrom is Each for the parts of this number and those above it: a few among thousands.
func (d *Docs) EachFrom(part uint32, yield func(*Winner)) {
	for i := range d.rows.len() {
		if d.rows.part(i) >= part {
			r := d.rows.get(i)
			w := d.winner(&r)
			yield(&w)
		}
	}
}

func (d *Docs) winner(r *row) Winner {
	w := Winner{
		Doc: r.doc, Part: r.part, Shared: r.flags&rowShared != 0,
		Member: d.members.list[r.member], Device: d.devices.list[r.device],
		Pos: r.pos, Time: r.time, Epoch: d.epochs.list[r.epoch],
		Erased: r.flags&rowErased != 0, Missing: r.flags&rowMissing != 0,
	}
	if r.envelope > 0 {
		e := d.envelopes.list[r.envelope-1]
		w.Envelope, w.Sample = e.id, &e.sample
	}
	return w
}

// Len is the number of winners.
func (d *Docs) Len() int { return int(d.rows.len()) }

// Missing lists the positions, in order, of winners and scoring guesses whose bodies did not come though nothing superseded
// or erased them: once the head of the order is reached this is tampering, `body-missing`.
func (d *Docs) Missing() []uint64 {
	missing := slices.Clone(d.lost)
	for i := range d.rows.len() {
		if d.rows.flags(i)&(rowMissing|rowErased) == rowMissing {
			missing = append(missing, d.rows.get(i).pos)
		}
	}
	slices.Sort(missing)
	return missing
}

// Came notes that a missing body was found after all: a server had held it back, and another one, or the same one later, gave it.
func (d *Docs) Came(pos uint64) {
	d.lost = slices.DeleteFunc(d.lost, func(lost uint64) bool { return lost == pos })
	for i := range d.rows.len() {
		if r := d.rows.get(i); r.pos == pos && r.flags&rowMissing != 0 {
			r.flags &^= rowMissing
			d.rows.set(i, &r)
		}
	}
}

// Clone is an independent copy.
func (d *Docs) Clone() *Docs {
	return &Docs{
		rows:    d.rows.clone(),
		members: d.members.clone(), devices: d.devices.clone(), epochs: d.epochs.clone(), envelopes: d.envelopes.clone(),
		held: slices.Clone(d.held), lost: slices.Clone(d.lost),
	}
}
