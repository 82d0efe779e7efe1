package replica

import (
	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// Invite opens an invitation to a club. The text is what seal.ParseInvite reads; the app makes a link of it. Expires is in
// server time.
func (r *Replica) Invite(now int64, book oplog.BookID, role club.Role, uses uint16, expires int64) (string, Ticket, error) {
	r.now = now
	b, err := r.organiser(book)
	if err != nil {
		return "", 0, err
	}
	text, err := r.invite(b, seal.KindJoin, club.InviteBody{Uses: uses, Expires: expires, Role: role})
	if err != nil {
		return "", 0, err
	}
	return text, r.ticket(), nil
}

// pairTime is how long a link for one's own further device is good.
const pairTime = 15 * 60_000

// Pair opens an invitation for one further device of this person.
func (r *Replica) Pair(now int64) (string, Ticket, error) {
	r.now = now
	b, err := r.writable(r.phone.Notebook)
	if err != nil {
		return "", 0, err
	}
	member := b.record.Member
	body := club.InviteBody{Uses: 1, Expires: r.serverTime(b) + pairTime, Role: club.Organiser, Member: &member}
	text, err := r.invite(b, seal.KindDevice, body)
	if err != nil {
		return "", 0, err
	}
	return text, r.ticket(), nil
}

func (r *Replica) invite(b *book, kind seal.Kind, body club.InviteBody) (string, error) {
	invite, err := seal.NewInvite(r.rand, kind, b.id)
	if err != nil {
		return "", fromSeal(err)
	}
	if err := r.fillInvite(b, &body, invite, r.stateAhead(b).Epoch().ID); err != nil {
		return "", err
	}
	text := invite.String()
	return text, r.propose(b, item{Kind: oplog.Invite, Body: codec.MustMarshal(&body), Secret: text})
}

// fillInvite seals an epoch for whoever has the invitation.
func (r *Replica) fillInvite(b *book, body *club.InviteBody, invite seal.Invite, epoch oplog.KeyID) error {
	key, ok := b.log.keys[epoch]
	if !ok {
		return refuse("no-epoch-key", "this phone does not have the book's key")
	}
	public := invite.Public()
	info := seal.Info(seal.PurposeInvite, b.id, public[:], [16]byte{}, seal.KeyID(epoch))
	box, err := seal.SealKey(r.rand, invite.Key(), info, key)
	if err != nil {
		return fromSeal(err)
	}
	body.Key, body.EpochID = public, epoch
	body.Epoch = club.Sealed{Keys: []oplog.KeyID{oplog.KeyID(invite.Key().ID())}, Box: box}
	return nil
}

// Revoke ends an invitation.
func (r *Replica) Revoke(now int64, book oplog.BookID, key oplog.DeviceID) (Ticket, error) {
	r.now = now
	b, err := r.writable(book)
	if err != nil {
		return 0, err
	}
	if err := r.propose(b, item{Kind: oplog.Revoke, Body: codec.MustMarshal(&club.RevokeBody{Key: key})}); err != nil {
		return 0, err
	}
	return r.ticket(), nil
}

// Join comes in by an invitation, to a club or (pairing) to a notebook. It goes on by itself, over restarts, until
// Joining shows it failed, or the book has a member.
func (r *Replica) Join(now int64, link, host string) (oplog.BookID, Ticket, error) {
	r.now = now
	invite, err := seal.ParseInvite(link)
	if err != nil {
		return zeroBook, 0, fromSeal(err)
	}
	if r.me == nil {
		return zeroBook, 0, refuse("not-started", "Start comes first")
	}
	id := oplog.BookID(invite.Book)
	if b := r.books[id]; b != nil && (b.record.Member != oplog.MemberID{}) {
		return id, 0, refuse("already-in", "this phone is in that book already")
	}
	if old := r.joinOf(id); old != nil {
		r.dropJob(old)
	}
	j := &job{Kind: jobClub, Book: id, Host: host, Secret: invite.String(), State: JoinWaiting}
	kind := club.Club
	if invite.Kind == seal.KindDevice {
		j.Kind, kind = jobDevice, club.Notebook
	}
	if r.books[id] == nil {
		b := r.newBook(id, bookRecord{Kind: kind, Host: host}, r.device)
		r.addBook(b)
		r.saveBook(b)
	}
	r.jobs = append(r.jobs, j)
	r.saveJob(j)
	r.changed(id, ChangedSync)
	r.want(host)
	if r.session(host).phase == phaseOpen {
		r.subscribe(r.books[id])
	}
	return id, r.ticket(), nil
}

// advanceJoin writes the op that brings this device in, once the book is verified up to its head.
func (r *Replica) advanceJoin(b *book) {
	j := r.joining(b.id)
	if j == nil || !b.born() {
		return
	}
	if m, in := b.log.state.MemberOf(r.device); in {
		r.joined(b, j, m.ID)
		return
	}
	if b.out.waiting() > 0 { // the join is on its way
		r.setJob(j, JoinAsking, "")
		return
	}
	r.setJob(j, JoinReading, "")
	if err := r.writeJoin(b, j); err != nil {
		r.failJoin(b, j, codeOf(err))
	}
}

func (r *Replica) writeJoin(b *book, j *job) error {
	invite, err := seal.ParseInvite(j.Secret)
	if err != nil {
		return fromSeal(err)
	}
	key := oplog.DeviceID(invite.Public())
	if err := b.log.state.InviteOpen(key, r.serverTime(b)); err != nil {
		return fromVoid(err)
	}
	info, _ := b.log.state.Invite(key)
	if err := r.readInvite(b, invite, &info.Body); err != nil {
		return err
	}
	body := club.JoinBody{Invite: key, Devices: r.ownDevices()}
	if info.Body.Member != nil {
		body.Member, body.Devices = *info.Body.Member, []club.Enrolment{r.enrolment()}
	} else if err := r.draw(body.Member[:]); err != nil {
		return err
	}
	proof := invite.Sign(club.JoinMessage(b.id, body.Member, body.Devices))
	body.Proof = proof[:]
	if body.EpochID, body.Wraps, err = r.wrapCurrent(b, b.log.state, body.Member, body.Devices); err != nil {
		return err
	}
	j.Member = body.Member
	r.saveJob(j)
	r.setJob(j, JoinAsking, "")
	return r.propose(b, item{Kind: oplog.Join, Body: codec.MustMarshal(&body), Auto: true})
}

// readInvite takes the epoch that an invitation hands out.
func (r *Replica) readInvite(b *book, invite seal.Invite, body *club.InviteBody) error {
	public := invite.Public()
	info := seal.Info(seal.PurposeInvite, b.id, public[:], [16]byte{}, seal.KeyID(body.EpochID))
	key, err := seal.OpenKey(invite.Key(), info, body.Epoch.Box, seal.KeyID(body.EpochID))
	if err != nil {
		return fromSeal(err)
	}
	r.addKey(b, key)
	r.learnKeys(b)
	return nil
}

// ownDevices are all devices of this person, as their notebook has them, the recovery device included.
func (r *Replica) ownDevices() []club.Enrolment {
	devices := []club.Enrolment{r.enrolment()}
	notebook := r.books[r.phone.Notebook]
	if notebook == nil {
		return devices
	}
	m, ok := r.member(notebook)
	if !ok {
		return devices
	}
	for i := range m.Devices {
		if d := &m.Devices[i]; d.In() && d.Sign != r.device {
			devices = append(devices, d.Enrolment)
		}
	}
	return devices
}

// joined ends a join: the book has this person now.
func (r *Replica) joined(b *book, j *job, member oplog.MemberID) {
	b.record.Member, b.record.Kind = member, b.log.state.Kind()
	r.saveBook(b)
	r.dropJob(j)
	r.subscribe(b) // from now on as a member, not by the invitation
	if b.record.Kind == club.Notebook {
		r.moveInto(b)
	} else {
		r.listClub(b)
	}
	r.changed(b.id, ChangedState|ChangedSync|ChangedDocs)
	r.changed(zeroBook, ChangedSync)
}

// welcomeAgain subscribes anew without the invitation, as a member that the join may have made this device.
func (r *Replica) welcomeAgain(b *book) {
	b.calls++
	if j := r.joining(b.id); j != nil && b.calls > 6 {
		r.failJoin(b, j, "invite-spent")
		return
	}
	r.askBooks(b.record.Host)
	r.do(SetTimer{Name: timerRetry + b.id.String(), After: backoff(b.calls, 500, mostWait)})
}
