package replica

import (
	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
)

// CreateClub begins a club, with this person as its organiser.
func (r *Replica) CreateClub(now int64, host string) (oplog.BookID, Ticket, error) {
	r.now = now
	if r.me == nil {
		return zeroBook, 0, refuse("not-started", "Start comes first")
	}
	b, err := r.create(club.Club, host, r.ownDevices())
	if err != nil {
		return zeroBook, 0, err
	}
	r.listClub(b)
	r.want(host)
	return b.id, r.ticket(), nil
}

// FlightArgs opens a flight.
type FlightArgs struct {
	Closes int64 // server time in milliseconds, 0 for none
	Pins   club.Pins
}

// Flight opens a flight.
func (r *Replica) Flight(now int64, book oplog.BookID, a FlightArgs) (oplog.FlightID, Ticket, error) {
	r.now = now
	var id oplog.FlightID
	b, err := r.organiser(book)
	if err != nil {
		return id, 0, err
	}
	if err := r.draw(id[:]); err != nil {
		return id, 0, err
	}
	body := codec.MustMarshal(&club.FlightBody{ID: id, Closes: a.Closes, Pins: a.Pins})
	if err := r.propose(b, item{Kind: oplog.Flight, Body: body}); err != nil {
		return id, 0, err
	}
	return id, r.ticket(), nil
}

// Closing moves a flight's closing time.
func (r *Replica) Closing(now int64, book oplog.BookID, flight oplog.FlightID, closes int64) (Ticket, error) {
	return r.command(now, book, oplog.Closing, &club.ClosingBody{Flight: flight, Closes: closes})
}

// Lock closes samples of a flight; all that are open when samples is empty.
func (r *Replica) Lock(now int64, book oplog.BookID, flight oplog.FlightID, samples []oplog.SampleID) (Ticket, error) {
	r.now = now
	b, err := r.writable(book)
	if err != nil {
		return 0, err
	}
	if len(samples) == 0 {
		for _, s := range r.stateAhead(b).Samples(flight) {
			if s.ClosedPos == 0 {
				samples = append(samples, s.Body.ID)
			}
		}
	}
	if len(samples) == 0 {
		return 0, refuse("sample-closed", "no sample of the flight is open")
	}
	return r.command(now, book, oplog.Lock, &club.LockBody{Flight: flight, Samples: samples})
}

// Role changes a member's role.
func (r *Replica) Role(now int64, book oplog.BookID, member oplog.MemberID, role club.Role) (Ticket, error) {
	return r.command(now, book, oplog.Role, &club.RoleBody{Member: member, Role: role})
}

// Leave takes this person out of a club.
func (r *Replica) Leave(now int64, book oplog.BookID) (Ticket, error) {
	return r.command(now, book, oplog.Leave, &club.LeaveBody{})
}

// Erase has the bodies of this person's own documents forgotten.
func (r *Replica) Erase(now int64, book oplog.BookID, docs []oplog.DocID) (Ticket, error) {
	r.now = now
	b, err := r.writable(book)
	if err != nil {
		return 0, err
	}
	if err := r.propose(b, item{Kind: oplog.Erase, Body: codec.MustMarshal(&club.EraseBody{Docs: docs})}); err != nil {
		return 0, err
	}
	for _, it := range append([]*item{}, b.out.items...) { // what has not left need not leave
		if it != nil && it.Kind == oplog.Part && containsDoc(docs, it.Doc) {
			b.out.remove(it)
			r.disk.del(outKey(b.id, b.out.author, it.ID))
			r.moved(b, it)
		}
	}
	return r.ticket(), nil
}

func containsDoc(docs []oplog.DocID, doc oplog.DocID) bool {
	for _, d := range docs {
		if d == doc {
			return true
		}
	}
	return false
}

// Resume lets a restored book order new ops again. It goes before everything that waits.
func (r *Replica) Resume(now int64, book oplog.BookID) (Ticket, error) {
	r.now = now
	b, err := r.writable(book)
	if err != nil {
		return 0, err
	}
	if m, ok := b.log.state.Member(b.record.Member); !ok || m.Role != club.Organiser { // whatever waits comes after it
		return 0, refuse("not-an-organiser", "only an organiser does this")
	}
	if !b.restored || !b.born() {
		return 0, refuse("not-restored", "the book goes on by itself")
	}
	if b.out.run != nil && !b.out.run.resumes() {
		r.thaw(b, b.out)
	}
	it := item{Kind: oplog.Resume, Body: codec.MustMarshal(&club.ResumeBody{})}
	r.enqueue(b, b.out, &it)
	return r.ticket(), nil
}

// command proposes a control op with a plain body.
func (r *Replica) command(now int64, book oplog.BookID, kind oplog.Kind, body any) (Ticket, error) {
	r.now = now
	b, err := r.writable(book)
	if err != nil {
		return 0, err
	}
	if err := r.propose(b, item{Kind: kind, Body: codec.MustMarshal(body)}); err != nil {
		return 0, err
	}
	return r.ticket(), nil
}
