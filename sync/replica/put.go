package replica

import (
	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// Under says which keys seal a body.
type Under struct {
	envelope bool
	sample   oplog.SampleID
}

// UnderEpoch seals for every member of the book.
var UnderEpoch = Under{}

// UnderEnvelope seals under the author's envelope of a sample: for the author until the unseal, then for every member.
func UnderEnvelope(sample oplog.SampleID) Under { return Under{envelope: true, sample: sample} }

// PutArgs is a revision of one part of a document.
type PutArgs struct {
	Book    oplog.BookID
	Doc     oplog.DocID
	Part    uint32
	Under   Under
	Plain   []byte
	Uniform bool // pad to the one size of guesses and answers
}

// Put writes a revision of a part.
func (r *Replica) Put(now int64, a PutArgs) (Ticket, error) {
	r.now = now
	b, err := r.writable(a.Book)
	if err != nil {
		return 0, err
	}
	if err := r.mayPut(b, &a); err != nil {
		return 0, err
	}
	if err := r.put(b, &a); err != nil {
		return 0, err
	}
	return r.ticket(), nil
}

// firstOwnPart is the first of the part numbers that the replica keeps for itself in the notebook.
const firstOwnPart = 0xFFFF0000

func (r *Replica) mayPut(b *book, a *PutArgs) error {
	if a.Part >= firstOwnPart {
		return refuse("part-reserved", "part %d is not the app's", a.Part)
	}
	state := r.stateAhead(b)
	if state.Shared(a.Doc) {
		if m, ok := state.Member(b.record.Member); !ok || m.Role != club.Organiser {
			return refuse("not-an-organiser", "only an organiser writes this document")
		}
	}
	if !a.Under.envelope {
		return nil
	}
	if _, ok := state.Sample(a.Under.sample); !ok {
		return refuse("no-such-sample", "there is no such sample")
	}
	if a.Part == club.FirstPart && a.Doc == oplog.GuessDoc(a.Under.sample, b.record.Member) {
		if g, ok := state.Guess(a.Under.sample, b.record.Member); ok && g.First != nil {
			return refuse("written-once", "first impressions are written once")
		}
	}
	return nil
}

func (r *Replica) put(b *book, a *PutArgs) error {
	it := item{Kind: oplog.Part, Doc: a.Doc, Part: a.Part, Uniform: a.Uniform}
	epoch, epochID, err := r.epochNow(b)
	if err != nil {
		return err
	}
	keys := []seal.Key{epoch}
	it.Keys = []oplog.KeyID{epochID}
	if a.Under.envelope {
		sample := a.Under.sample
		envelope, notebook, err := r.envelopeNow(b, sample)
		if err != nil {
			return err
		}
		it.Sample, it.Epoch = &sample, notebook
		keys = []seal.Key{envelope, epoch}
		it.Keys = []oplog.KeyID{oplog.KeyID(envelope.ID()), epochID}
	}
	if it.Body, err = r.sealPart(b, b.out.author, &it, keys, a.Plain); err != nil {
		return err
	}
	r.enqueue(b, b.out, &it)
	return nil
}

func (r *Replica) sealPart(b *book, author oplog.DeviceID, it *item, keys []seal.Key, plain []byte) ([]byte, error) {
	padding := seal.Powers
	if it.Uniform {
		padding = seal.Uniform
	}
	body, err := seal.SealUnder(r.rand, keys, partAD(b.id, author, it), plain, padding)
	if err != nil {
		return nil, fromSeal(err)
	}
	return body, nil
}

func partAD(book oplog.BookID, author oplog.DeviceID, it *item) []byte {
	return oplog.AssociatedData(book, author, it.Kind, it.Doc, it.Part, it.Keys)
}

// itemKeys finds the keys that a waiting part lies under.
func (r *Replica) itemKeys(b *book, it *item) ([]seal.Key, bool) {
	epoch, ok := b.log.keys[it.Keys[len(it.Keys)-1]]
	if !ok {
		return nil, false
	}
	if len(it.Keys) == 1 {
		return []seal.Key{epoch}, true
	}
	envelope, err := r.ownEnvelope(b, *it.Sample, it.Epoch)
	if err != nil {
		return nil, false
	}
	return []seal.Key{envelope, epoch}, true
}

// openItem opens a waiting part.
func (r *Replica) openItem(b *book, author oplog.DeviceID, it *item) ([]byte, BodyStatus) {
	keys, ok := r.itemKeys(b, it)
	if !ok {
		return nil, BodyUnreadable
	}
	plain, err := seal.OpenUnder(keys, keyIDs(it.Keys), partAD(b.id, author, it), it.Body)
	if err != nil {
		return nil, BodyUnreadable
	}
	return plain, BodyReady
}

func keyIDs(ids []oplog.KeyID) []seal.KeyID {
	out := make([]seal.KeyID, len(ids))
	for i, id := range ids {
		out[i] = seal.KeyID(id)
	}
	return out
}
