package replica

import (
	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
)

// What a phone does of itself while it is awake. Several phones may do the same at once: the first that is ordered counts,
// and what is refused to the others is dropped in silence.

// jitter spreads the organisers' phones.
const jitter = 2000

func (r *Replica) chores() {
	for _, b := range r.order {
		if b.current() {
			r.choresOf(b)
		}
	}
}

func (r *Replica) choresOf(b *book) {
	if !b.current() || b.removed || (b.record.Member == oplog.MemberID{}) || !r.connected(b, b.out) {
		return
	}
	r.unsealIntended(b)
	r.letIn(b)
	if m, ok := b.log.state.Member(b.record.Member); ok && m.Role == club.Organiser && b.record.Kind == club.Club {
		r.renewEpoch(b)
		r.closeDue(b)
	}
	r.freezeNow(b)
}

// renewEpoch makes the epoch that is due after somebody left.
func (r *Replica) renewEpoch(b *book) {
	if !b.log.state.EpochDue() || b.out.waits(oplog.Epoch) {
		b.epochAt = 0
		return
	}
	if b.epochAt == 0 {
		b.epochAt = r.now + r.below(jitter)
		r.do(SetTimer{Name: timerChores + b.id.String(), After: b.epochAt - r.now})
		return
	}
	if r.now < b.epochAt {
		return
	}
	b.epochAt = 0
	grant, err := r.newGrant(b, nil)
	if err == nil {
		_ = r.propose(b, item{Kind: oplog.Epoch, Body: codec.MustMarshal(&club.EpochBody{Epoch: grant}), Auto: true})
	}
}

// waits says whether an op of a kind is on its way.
func (o *outbox) waits(kind oplog.Kind) (found bool) {
	o.pending(func(it *item, _ bool) { found = found || it.Kind == kind })
	return found
}

// closeDue writes the lock of flights whose closing time has come: the server closes at the first entry from then on, and
// somebody has to write one.
func (r *Replica) closeDue(b *book) {
	now, next := r.serverTime(b), int64(0)
	for _, f := range b.log.state.Flights() {
		if f.Closes == 0 || f.ClosedPos != 0 {
			continue
		}
		if now < f.Closes {
			if next == 0 || f.Closes < next {
				next = f.Closes
			}
			continue
		}
		var open []oplog.SampleID
		for _, s := range b.log.state.Samples(f.ID) {
			if s.ClosedPos == 0 {
				open = append(open, s.Body.ID)
			}
		}
		if len(open) > 0 && !b.out.waits(oplog.Lock) {
			body := codec.MustMarshal(&club.LockBody{Flight: f.ID, Samples: open})
			_ = r.propose(b, item{Kind: oplog.Lock, Body: body, Auto: true})
		}
	}
	if next != 0 {
		r.do(SetTimer{Name: timerChores + b.id.String(), After: next - now + 50 + r.below(500)})
	}
}
