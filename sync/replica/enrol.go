package replica

import (
	"slices"

	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/wire"
)

// wantIn asks this person's other devices to let this one into clubs that it is not in.
func (r *Replica) wantIn(list []listing) {
	w := wanted{Device: r.enrolment()}
	for i := range list {
		l := &list[i]
		b := r.books[l.Book]
		if b == nil || r.joining(b.id) != nil || b.removed || (b.record.Member != oplog.MemberID{}) {
			continue
		}
		sig := r.me.Sign(club.DeviceMessage(l.Book, l.Member, w.Device))
		w.Proofs = append(w.Proofs, wantedProof{Book: l.Book, Member: l.Member, Sig: sig[:]})
	}
	if len(w.Proofs) > 0 {
		slices.SortFunc(w.Proofs, func(a, b wantedProof) int { return slices.Compare(a.Book[:], b.Book[:]) })
		r.writeOwn(wantedDoc(r.device), partWanted, &w)
	}
}

// letIn enrols other devices of this person in a club that this one is in.
func (r *Replica) letIn(b *book) {
	if !b.current() || b.removed || (b.record.Member == oplog.MemberID{}) {
		return
	}
	notebook := r.notebook()
	if notebook == nil {
		return
	}
	r.eachOwn(partWanted, func(d DocPart, plain []byte) {
		var w wanted
		if codec.UnmarshalOpen(plain, &w) != nil {
			return
		}
		for i := range w.Proofs {
			if p := &w.Proofs[i]; p.Book == b.id && p.Member == b.record.Member {
				r.letDeviceIn(b, notebook, &w.Device, p.Sig)
			}
		}
	})
}

func (r *Replica) letDeviceIn(b, notebook *book, device *club.Enrolment, proof []byte) {
	if _, known := memberWith(r.stateAhead(b), device.Sign); known || device.Sign == r.device {
		return
	}
	if _, in := notebook.log.state.MemberOf(device.Sign); !in { // removed meanwhile
		return
	}
	r.enrol(b, *device, proof, true)
}

// enrol writes the op that brings a further device of this person into a book.
func (r *Replica) enrol(b *book, device club.Enrolment, proof []byte, auto bool) error {
	body := club.DeviceBody{Device: device, Proof: proof}
	var err error
	if body.EpochID, body.Wraps, err = r.wrapCurrent(b, r.stateAhead(b), b.record.Member, []club.Enrolment{device}); err != nil {
		return err
	}
	return r.propose(b, item{Kind: oplog.Device, Body: codec.MustMarshal(&body), Auto: auto})
}

// askBooksSoon asks the host after a while which books this device is in by now.
func (r *Replica) askBooksSoon(host string) {
	s := r.session(host)
	if s.phase != phaseOpen || s.asked {
		return
	}
	s.asked = true
	s.asking++
	r.do(SetTimer{Name: timerBooks + host, After: backoff(s.asking, 500, mostWait)})
}

func (r *Replica) askBooks(host string) {
	s := r.session(host)
	s.asked = false
	if s.phase == phaseOpen {
		r.say(host, &wire.BooksAsk{})
	}
}
