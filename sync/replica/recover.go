package replica

import (
	"slices"

	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
	"hushcup/sync/wire"
)

// RecoveryCode makes a recovery code and replaces the one before it. The code is kept nowhere on this phone.
func (r *Replica) RecoveryCode(now int64) (string, Ticket, error) {
	r.now = now
	notebook, err := r.writable(r.phone.Notebook)
	if err != nil {
		return "", 0, err
	}
	code, err := seal.NewRecovery(r.rand)
	if err != nil {
		return "", 0, fromSeal(err)
	}
	identity := code.Identity()
	if err := r.replaceCode(notebook, identity); err != nil {
		return "", 0, err
	}
	for _, b := range r.order {
		if _, err := r.writable(b.id); b != notebook && err == nil {
			_ = r.replaceCode(b, identity) // a club that has no room for it must not leave the others without
		}
	}
	return code.String(), r.ticket(), nil
}

// replaceCode enrols a new recovery device and takes out those before it.
func (r *Replica) replaceCode(b *book, identity seal.Identity) error {
	m, ok := r.member(b)
	if !ok {
		return nil
	}
	var old []oplog.DeviceID
	for i := range m.Devices {
		if d := &m.Devices[i]; d.In() && d.Recovery {
			old = append(old, d.Sign)
		}
	}
	if len(old) > 0 {
		if err := r.removeDevices(b, old); err != nil {
			return err
		}
	}
	public := identity.Public()
	device := club.Enrolment{Sign: public.Sign, Box: public.Box, Recovery: true}
	proof := identity.Sign(club.DeviceMessage(b.id, b.record.Member, device))
	return r.enrol(b, device, proof[:], false)
}

// Recover brings this device into all books that a recovery code opens. It goes on by itself, like Join. The code stays good
// until RecoveryCode replaces it.
func (r *Replica) Recover(now int64, code, host string) (Ticket, error) {
	r.now = now
	recovery, err := seal.ParseRecovery(code)
	if err != nil {
		return 0, fromSeal(err)
	}
	if r.me == nil {
		return 0, refuse("not-started", "Start comes first")
	}
	for _, j := range append([]*job{}, r.jobs...) {
		if j.Kind == jobRecovery {
			r.dropJob(j)
		}
	}
	j := &job{Kind: jobRecovery, Host: host, Secret: recovery.String(), State: JoinWaiting}
	r.jobs = append(r.jobs, j)
	r.saveJob(j)
	r.changed(zeroBook, ChangedSync)
	s := r.session(host)
	s.wanted = true
	r.replace(s) // to connect as the recovery device
	return r.ticket(), nil
}

// welcomeRecovery begins the books that a code opens.
func (r *Replica) welcomeRecovery(s *session, f *wire.Welcome) {
	j := r.recovering()
	if j == nil || j.Host != s.host {
		return
	}
	author := oplog.DeviceID(j.identity().Public().Sign)
	if s.device != author {
		return
	}
	if len(f.Books) == 0 {
		r.endRecovery(j, "no-such-code")
		return
	}
	r.setJob(j, JoinReading, "")
	for _, head := range f.Books {
		b := r.books[head.Book]
		if b == nil {
			b = r.newBook(head.Book, bookRecord{Host: s.host}, r.device)
			r.addBook(b)
			r.saveBook(b)
		}
		if b.guest == nil {
			b.guest = newOutbox(author)
		}
	}
}

// advanceRecovery writes, as the recovery device, the op that brings this device into a book.
func (r *Replica) advanceRecovery(b *book) {
	j := r.recovering()
	if j == nil || b.guest == nil {
		return
	}
	if m, in := b.log.state.MemberOf(r.device); in {
		b.record.Member, b.record.Kind = m.ID, b.log.state.Kind()
		r.saveBook(b)
		r.finishRecovery(j)
		return
	}
	m, in := b.log.state.MemberOf(b.guest.author)
	if _, was := memberWith(b.log.state, r.device); was || !in { // this device or the code was taken out meanwhile
		r.finishRecovery(j)
		return
	}
	if r.resumeAsGuest(b, m) || b.guest.waiting() > 0 {
		return
	}
	r.learnKeys(b)
	device := r.enrolment()
	proof := r.me.Sign(club.DeviceMessage(b.id, m.ID, device))
	body := club.DeviceBody{Device: device, Proof: proof[:]}
	var err error
	if body.EpochID, body.Wraps, err = r.wrapCurrent(b, b.log.state, m.ID, []club.Enrolment{device}); err != nil {
		r.endRecovery(j, codeOf(err))
		return
	}
	r.setJob(j, JoinAsking, "")
	r.enqueue(b, b.guest, &item{Kind: oplog.Device, Body: codec.MustMarshal(&body)})
}

// resumeAsGuest says resume in a restored book as the recovery device: there may be no other device left that could. While
// only others can say it, the recovery waits for them.
func (r *Replica) resumeAsGuest(b *book, m *club.Member) (waits bool) {
	if !b.restored {
		return false
	}
	if m.Role != club.Organiser || b.guest.waits(oplog.Resume) {
		return true
	}
	if b.guest.run != nil {
		r.thaw(b, b.guest)
	}
	r.enqueue(b, b.guest, &item{Kind: oplog.Resume, Body: codec.MustMarshal(&club.ResumeBody{}), Auto: true})
	return true
}

// finishRecovery is done when this device is in every book that the code opens, but for those whose history does not hold
// together: for them the recovery has failed, and is listed with the reason.
func (r *Replica) finishRecovery(j *job) {
	s := r.session(j.Host)
	var notebook *book
	failed := ""
	for id := range s.heads {
		b := r.books[id]
		if b == nil {
			continue
		}
		_, in := b.log.state.MemberOf(r.device)
		_, was := memberWith(b.log.state, r.device)
		_, open := b.log.state.MemberOf(oplog.DeviceID(j.identity().Public().Sign))
		switch {
		case b.halted:
			failed = max(failed, b.code)
		case !in && (b.removed || was || !open && b.current()): // the code, or this device, opens it no more
		case !in:
			return
		case b.log.state.Kind() == club.Notebook:
			notebook = b
		}
	}
	r.endRecovery(j, failed)
	if notebook != nil {
		r.moveInto(notebook)
	}
}

// endRecovery goes on as this device. Books that it did not get into are not on this phone.
func (r *Replica) endRecovery(j *job, failed string) {
	if failed == "" {
		r.dropJob(j)
	} else {
		r.setJob(j, JoinFailed, failed)
	}
	for _, b := range slices.Clone(r.order) {
		b.guest = nil
		if b.record.Member == (oplog.MemberID{}) && r.joining(b.id) == nil {
			r.forgetBook(b)
		}
	}
	r.changed(zeroBook, ChangedSync|ChangedState|ChangedDocs)
	r.replace(r.session(j.Host))
}
