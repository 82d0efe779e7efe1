package replica

import (
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
	"hushcup/sync/wire"
)

// job is something that takes several round trips and goes on over restarts: a join, a pairing, a recovery, a move.
type job struct {
	_      struct{} `cbor:",toarray"`
	Kind   string   // `club`, `device`, `recovery`, `move`
	Book   oplog.BookID
	Host   string
	Secret string // the invitation's text, or the recovery code
	State  JoinState
	Code   string
	Member oplog.MemberID // chosen when the join was written
}

const (
	jobClub     = "club"
	jobDevice   = "device"
	jobRecovery = "recovery"
	jobMove     = "move"
)

func (j *job) name() string {
	if j.Kind == jobRecovery {
		return jobRecovery
	}
	if j.Kind == jobMove {
		return jobMove + "-" + j.Book.String()
	}
	return j.Book.String()
}

func (r *Replica) saveJob(j *job) { r.putOwn(jobKey(j.name()), j) }

func (r *Replica) dropJob(j *job) {
	r.disk.del(jobKey(j.name()))
	for i := range r.jobs {
		if r.jobs[i] == j {
			r.jobs = append(r.jobs[:i:i], r.jobs[i+1:]...)
			return
		}
	}
}

func (r *Replica) setJob(j *job, state JoinState, code string) {
	if j.State == state && j.Code == code {
		return
	}
	j.State, j.Code = state, code
	r.saveJob(j)
	r.changed(j.Book, ChangedSync)
}

func (r *Replica) restoreJob(name string, value []byte) {
	if j, err := decodeRecord[job](value); err == nil && j.name() == name {
		r.jobs = append(r.jobs, &j)
	}
}

// joinOf finds the join or pairing by which this phone comes into a book.
func (r *Replica) joinOf(book oplog.BookID) *job {
	for _, j := range r.jobs {
		if (j.Kind == jobClub || j.Kind == jobDevice) && j.Book == book {
			return j
		}
	}
	return nil
}

// joining finds a join that is not over.
func (r *Replica) joining(book oplog.BookID) *job {
	if j := r.joinOf(book); j != nil && j.State != JoinFailed {
		return j
	}
	return nil
}

// recovering finds the recovery that is under way.
func (r *Replica) recovering() *job {
	for _, j := range r.jobs {
		if j.Kind == jobRecovery && j.State != JoinFailed && j.State != JoinDone {
			return j
		}
	}
	return nil
}

func (j *job) identity() seal.Identity {
	code, err := seal.ParseRecovery(j.Secret)
	if err != nil {
		return seal.Identity{}
	}
	return code.Identity()
}

// advance is called after every stretch of a book's order: what was waiting for it goes on.
func (r *Replica) advance(b *book) {
	if b.current() && !b.halted {
		b.calls, b.troubled = 0, ""
		r.advanceJoin(b)
		r.advanceRecovery(b)
		r.advanceListed(b)
		r.choresOf(b)
	}
	r.freezeNow(b)
	r.send(b)
}

// jobRefused fails a join whose op was refused.
func (r *Replica) jobRefused(b *book, o *outbox, it *item, code, text string) {
	if j := r.joining(b.id); j != nil && it.Kind == oplog.Join {
		r.failJoin(b, j, code)
	}
	if j := r.recovering(); j != nil && o == b.guest && it.Kind == oplog.Device && code != "device-known" {
		r.endRecovery(j, code)
	}
}

// joinClosed takes the refusal of an invitation's subscription.
func (r *Replica) joinClosed(b *book, f *wire.Closed) bool {
	j := r.joining(b.id)
	if j == nil {
		return false
	}
	switch f.Code {
	case "no-such-book", "no-such-invite", "too-many-books", "server-too-old":
		// Whoever made the invitation may not have been connected since.
		r.setJob(j, JoinWaiting, f.Code)
		b.calls++
		r.do(SetTimer{Name: timerRetry + b.id.String(), After: backoff(b.calls, 1000, mostWait)})
	case "bad-proof": // the challenge of another connection
		r.do(SetTimer{Name: timerRetry + b.id.String(), After: 1000})
	default:
		if b.out.run != nil && b.out.run.items[0].Kind == oplog.Join {
			// The join may be the reason why the invitation is spent: as a member this phone may read on.
			r.welcomeAgain(b)
			return true
		}
		r.failJoin(b, j, f.Code)
	}
	return true
}

func (r *Replica) failJoin(b *book, j *job, code string) {
	r.setJob(j, JoinFailed, code)
	if _, in := b.log.state.MemberOf(r.device); !in && b.record.Member == (oplog.MemberID{}) {
		r.forgetBook(b)
	}
}

// forgetBook takes a book off the phone that this person never came into.
func (r *Replica) forgetBook(b *book) {
	if b.asked {
		r.say(b.record.Host, &wire.Unsubscribe{Book: b.id})
	}
	r.disk.del(bookKey(b.id))
	b.out.pending(func(it *item, _ bool) { r.disk.del(outKey(b.id, b.out.author, it.ID)) })
	r.disk.del(runKey(b.id, b.out.author))
	for _, key := range r.logKeysOf(b) {
		r.disk.del(key)
	}
	r.dropBook(b)
	r.own.seen = false // it may be listed in the notebook, and begin anew from there
	r.changed(b.id, ChangedSync|ChangedState)
}

// logKeysOf are the records that a start would read of a book. Cold ones stay behind: nothing leads to them any more, and the
// same entries come again if the person joins later.
func (r *Replica) logKeysOf(b *book) []string {
	keys := []string{headKey(b.id), keysKey(b.id), snapKey(b.id)}
	for _, run := range b.log.tail {
		keys = append(keys, tailKey(b.id, run.first))
	}
	c := &b.log.chain
	for n := c.cold; n*c.size < c.len(); n++ {
		keys = append(keys, chainKey(b.id, n))
	}
	return keys
}
