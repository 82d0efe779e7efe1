package replica

import (
	"slices"

	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
)

// Unseal means to publish the keys of samples. It is an intention until this phone has verified their ordered close.
func (r *Replica) Unseal(now int64, book oplog.BookID, samples []oplog.SampleID) (Ticket, error) {
	r.now = now
	b, err := r.writable(book)
	if err != nil {
		return 0, err
	}
	for _, id := range samples {
		info, ok := r.stateAhead(b).Sample(id)
		switch {
		case !ok:
			return 0, refuse("no-such-sample", "there is no such sample")
		case info.UnsealedPos != 0:
			return 0, refuse("already-open", "the sample is open already")
		case !info.Holds(b.record.Member):
			return 0, refuse("not-a-holder", "only the keeper and the named holders may unseal a sample")
		}
	}
	for _, id := range samples {
		if !slices.Contains(b.intentions, id) {
			b.intentions = append(b.intentions, id)
			r.disk.put(unsealKey(b.id, id), []byte{1})
		}
	}
	r.changed(b.id, ChangedSync)
	r.unsealIntended(b)
	return r.ticket(), nil
}

// unsealIntended writes the keys of samples whose close is verified: a key that was signed earlier could be ordered before
// guesses that its author has never heard of.
func (r *Replica) unsealIntended(b *book) {
	var body club.UnsealBody
	for _, id := range slices.Clone(b.intentions) {
		info, ok := b.log.state.Sample(id)
		if ok && info.UnsealedPos != 0 {
			r.forgetIntention(b, id)
			continue
		}
		if !ok || info.ClosedPos == 0 || b.removed {
			continue
		}
		if private, have := r.samplePrivate(b, &info); have {
			body.Keys = append(body.Keys, club.SampleKey{Sample: id, Private: private})
		}
	}
	if len(body.Keys) == 0 || b.out.waits(oplog.Unseal) {
		return
	}
	if err := r.propose(b, item{Kind: oplog.Unseal, Body: codec.MustMarshal(&body), Auto: true}); err == nil {
		r.changed(b.id, ChangedSync)
	}
}

func (r *Replica) forgetIntention(b *book, id oplog.SampleID) {
	b.intentions = slices.DeleteFunc(b.intentions, func(other oplog.SampleID) bool { return other == id })
	r.disk.del(unsealKey(b.id, id))
	r.changed(b.id, ChangedSync)
}
