package replica

import (
	"slices"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// addKey keeps an epoch key of a book.
func (r *Replica) addKey(b *book, key seal.Key) {
	id := oplog.KeyID(key.ID())
	if _, known := b.log.keys[id]; known {
		return
	}
	b.log.keys[id] = key
	r.disk.put(keysKey(b.id), b.log.saveKeys())
}

// learnKeys takes every epoch key that the book hands to this device: by its wraps, and from a newer epoch to the one before
// it. A key that is not the one that was named to everybody is not taken.
func (r *Replica) learnKeys(b *book) {
	epochs := b.log.state.Epochs()
	for i := len(epochs) - 1; i >= 0; i-- {
		e := &epochs[i]
		if _, known := b.log.keys[e.ID]; !known {
			r.unwrapEpoch(b, e)
		}
		if i > 0 {
			r.unsealBefore(b, e, epochs[i-1].ID)
		}
	}
}

func (r *Replica) unwrapEpoch(b *book, e *club.EpochInfo) {
	for w := range e.Wraps {
		identity, ok := r.identity(e.Wraps[w].Device)
		if !ok {
			continue
		}
		m, ok := memberWith(b.log.state, e.Wraps[w].Device)
		if !ok {
			continue
		}
		wrapped, err := seal.ParseWrapped(e.Wraps[w].Enc[:], e.Wraps[w].Box)
		if err != nil {
			continue
		}
		book := b.id
		if e.Pos == 1 && slices.ContainsFunc(firstDevices(b.log.state), func(d oplog.DeviceID) bool { return d == e.Wraps[w].Device }) {
			book = zeroBook // see create
		}
		info := seal.Info(seal.PurposeEpoch, book, e.ID[:], m.ID, seal.KeyID(e.ID))
		if key, err := seal.Unwrap(identity.BoxSeed, info, wrapped, seal.KeyID(e.ID)); err == nil {
			r.addKey(b, key)
			return
		}
	}
}

func (r *Replica) unsealBefore(b *book, e *club.EpochInfo, before oplog.KeyID) {
	key, ok := b.log.keys[e.ID]
	if _, known := b.log.keys[before]; known || !ok || e.Before == nil {
		return
	}
	info := seal.Info(seal.PurposeBefore, b.id, e.ID[:], [16]byte{}, seal.KeyID(before))
	if key, err := seal.OpenKey(key, info, e.Before.Box, seal.KeyID(before)); err == nil {
		r.addKey(b, key)
	}
}

// firstDevices are those that came with `create`.
func firstDevices(state *club.State) (devices []oplog.DeviceID) {
	for _, m := range state.Members() {
		for i := range m.Devices {
			if m.Devices[i].FromPos == 1 {
				devices = append(devices, m.Devices[i].Sign)
			}
		}
	}
	return devices
}

// memberWith finds whose a device is or was.
func memberWith(state *club.State, device oplog.DeviceID) (*club.Member, bool) {
	for _, m := range state.Members() {
		for i := range m.Devices {
			if m.Devices[i].Sign == device {
				return m, true
			}
		}
	}
	return nil, false
}

// epochNow is the epoch key for what is written now.
func (r *Replica) epochNow(b *book) (seal.Key, oplog.KeyID, error) {
	id := r.stateAhead(b).Epoch().ID
	key, ok := b.log.keys[id]
	if !ok {
		return seal.Key{}, id, refuse("no-epoch-key", "this phone does not have the book's key")
	}
	return key, id, nil
}

// notebookKey finds an epoch key of a notebook of this phone, former ones included.
func (r *Replica) notebookKey(epoch oplog.KeyID) (seal.Key, bool) {
	for _, b := range r.order {
		if b.record.Kind != club.Notebook {
			continue
		}
		if key, ok := b.log.keys[epoch]; ok {
			return key, true
		}
	}
	return seal.Key{}, false
}

// ownEnvelope is this person's envelope for a sample, from an epoch of their notebook.
func (r *Replica) ownEnvelope(b *book, sample oplog.SampleID, epoch oplog.KeyID) (seal.Key, error) {
	key, ok := r.notebookKey(epoch)
	if !ok {
		return seal.Key{}, refuse("no-notebook-key", "this phone does not have the notebook's key of that time")
	}
	return seal.Envelope(key, b.id, sample), nil
}

// envelopeNow is the envelope for what is written now about a sample: the one that was used first, so that there is one as
// long as the notebook keeps its epoch, or else one from the newest epoch.
func (r *Replica) envelopeNow(b *book, sample oplog.SampleID) (key seal.Key, epoch oplog.KeyID, err error) {
	for _, w := range b.log.state.Wraps(sample) {
		if w.Member == b.record.Member {
			if _, ok := r.notebookKey(w.NotebookEpoch); ok {
				epoch = w.NotebookEpoch
			}
		}
	}
	b.out.pending(func(it *item, _ bool) {
		if epoch == (oplog.KeyID{}) && it.Sample != nil && *it.Sample == sample {
			epoch = it.Epoch
		}
	})
	if epoch == (oplog.KeyID{}) {
		notebook := r.books[r.phone.Notebook]
		if notebook == nil {
			return seal.Key{}, epoch, refuse("no-notebook", "there is no notebook yet")
		}
		epoch = r.stateAhead(notebook).Epoch().ID
	}
	key, err = r.ownEnvelope(b, sample, epoch)
	return key, epoch, err
}

// samplePrivate finds the private half of a sample: published, derived as its keeper, or handed over as a holder.
func (r *Replica) samplePrivate(b *book, info *club.SampleInfo) (private [32]byte, ok bool) {
	if info.Private != nil {
		return *info.Private, true
	}
	if info.Keeper == b.record.Member {
		key, ok := r.notebookKey(info.Wrap.Epoch)
		if !ok {
			return private, false
		}
		s := seal.SampleFor(key, b.id, info.Body.ID)
		return s.Private, s.Public == info.Body.Key
	}
	return r.heldPrivate(b, info)
}

func (r *Replica) heldPrivate(b *book, info *club.SampleInfo) (private [32]byte, ok bool) {
	for h := range info.Body.Holders {
		hold := &info.Body.Holders[h]
		if hold.Member != b.record.Member {
			continue
		}
		for w := range hold.Wraps {
			wrapped, err := seal.ParseWrapped(hold.Wraps[w].Enc[:], hold.Wraps[w].Box)
			if err != nil || hold.Wraps[w].Device != r.device {
				continue
			}
			context := seal.HoldInfo(b.id, info.Body.ID, hold.Member, info.Body.Key)
			if s, err := seal.UnwrapSample(r.me.BoxSeed, context, wrapped, info.Body.Key); err == nil {
				return s.Private, true
			}
		}
	}
	return private, false
}

// envelope finds a member's envelope by its id: derived if it is one's own, or unwrapped with the sample's key.
func (r *Replica) envelope(b *book, member oplog.MemberID, id oplog.KeyID) (key seal.Key, sealed bool, ok bool) {
	w, known := b.log.state.WrapOf(member, id)
	if !known {
		return key, false, false
	}
	if key, ok := b.opened[envelopeRef{member, id}]; ok {
		return key, false, true
	}
	key, sealed, ok = r.openEnvelope(b, &w)
	if ok {
		b.opened[envelopeRef{member, id}] = key
	}
	return key, sealed, ok
}

// envelopeRef names an opened envelope.
type envelopeRef struct {
	member oplog.MemberID
	id     oplog.KeyID
}

func (r *Replica) openEnvelope(b *book, w *club.WrapInfo) (key seal.Key, sealed bool, ok bool) {
	if w.Member == b.record.Member {
		if key, err := r.ownEnvelope(b, w.Wrap.Sample, w.NotebookEpoch); err == nil && key.Is(seal.KeyID(w.Envelope)) {
			return key, false, true
		}
	}
	info, known := b.log.state.Sample(w.Wrap.Sample)
	if !known {
		return key, false, false
	}
	private, have := r.samplePrivate(b, &info)
	if !have {
		return key, info.Private == nil, false
	}
	wrapped, err := seal.ParseWrapped(w.Wrap.Enc[:], w.Wrap.Box)
	if err != nil {
		return key, false, false
	}
	context := seal.Info(seal.PurposeEnvelope, b.id, w.Wrap.Sample[:], w.Member, seal.KeyID(w.Envelope))
	key, err = seal.Unwrap(private, context, wrapped, seal.KeyID(w.Envelope))
	return key, false, err == nil
}

func fromSeal(err error) error {
	if e, ok := err.(*seal.Error); ok {
		return &Error{Code: e.Code, Text: e.Text}
	}
	return err
}

func codeOf(err error) string {
	switch e := err.(type) {
	case *Error:
		return e.Code
	case *seal.Error:
		return e.Code
	case *club.Refusal:
		return e.Code
	}
	return "fault"
}
