package replica

import (
	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// refresh makes a waiting op fit for the state in which it will be ordered: what lies under an older epoch is sealed under
// the current one, and what hands out keys hands out the current ones to the devices that are in.
func (r *Replica) refresh(p *press, it *item) (item, error) {
	fresh := *it
	var err error
	switch it.Kind {
	case oplog.Part:
		err = r.refreshPart(p, &fresh)
	case oplog.Sample:
		err = r.refreshSample(p, &fresh)
	case oplog.Invite:
		err = r.refreshInvite(p, &fresh)
	case oplog.Device:
		err = r.refreshDevice(p, &fresh)
	case oplog.Join:
		err = r.refreshJoin(p, &fresh)
	case oplog.Remove:
		err = refreshBody(&fresh, func(body *club.RemoveBody) error {
			return r.refreshGrant(p, &body.Epoch, leavingWith(p.state, body))
		})
	case oplog.Epoch:
		err = refreshBody(&fresh, func(body *club.EpochBody) error { return r.refreshGrant(p, &body.Epoch, nil) })
	}
	return fresh, err
}

// refreshBody decodes a body, changes it, and encodes it.
func refreshBody[T any](it *item, change func(*T) error) error {
	var body T
	if err := codec.Unmarshal(it.Body, &body); err != nil {
		return refuse("malformed", "the waiting op does not decode: %v", err)
	}
	if err := change(&body); err != nil {
		return err
	}
	it.Body = codec.MustMarshal(&body)
	return nil
}

func (r *Replica) refreshPart(p *press, it *item) error {
	current := p.state.Epoch().ID
	last := len(it.Keys) - 1
	if it.Keys[last] == current {
		return nil
	}
	epoch, ok := p.b.log.keys[current]
	if !ok {
		return nil // an older epoch is still good
	}
	plain, status := r.openItem(p.b, p.o.author, it)
	if status != BodyReady {
		return nil
	}
	it.Keys = append(append([]oplog.KeyID{}, it.Keys[:last]...), current)
	keys, ok := r.itemKeys(p.b, it)
	if !ok {
		return nil
	}
	keys[len(keys)-1] = epoch
	body, err := r.sealPart(p.b, p.o.author, it, keys, plain)
	it.Body = body
	return err
}

func (r *Replica) refreshInvite(p *press, it *item) error {
	return refreshBody(it, func(body *club.InviteBody) error {
		current := p.state.Epoch().ID
		if body.EpochID == current {
			return nil
		}
		invite, err := seal.ParseInvite(it.Secret)
		if err != nil {
			return fromSeal(err)
		}
		return r.fillInvite(p.b, body, invite, current)
	})
}

func (r *Replica) refreshDevice(p *press, it *item) error {
	return refreshBody(it, func(body *club.DeviceBody) error {
		m, ok := p.state.MemberOf(p.o.author)
		if !ok {
			return nil
		}
		var err error
		body.EpochID, body.Wraps, err = r.wrapCurrent(p.b, p.state, m.ID, []club.Enrolment{body.Device})
		return err
	})
}

func (r *Replica) refreshJoin(p *press, it *item) error {
	return refreshBody(it, func(body *club.JoinBody) error {
		if body.EpochID == p.state.Epoch().ID {
			return nil
		}
		var err error
		body.EpochID, body.Wraps, err = r.wrapCurrent(p.b, p.state, body.Member, body.Devices)
		return err
	})
}

// wrapCurrent hands the current epoch to devices.
func (r *Replica) wrapCurrent(b *book, state *club.State, member oplog.MemberID, devices []club.Enrolment) (oplog.KeyID, []club.Wrapped, error) {
	id := state.Epoch().ID
	key, ok := b.log.keys[id]
	if !ok {
		return id, nil, refuse("no-epoch-key", "this phone does not have the book's key")
	}
	wraps := make([]club.Wrapped, 0, len(devices))
	for i := range devices {
		w, err := r.wrapEpoch(b.id, member, &devices[i], key)
		if err != nil {
			return id, nil, err
		}
		wraps = append(wraps, w)
	}
	return id, wraps, nil
}

func (r *Replica) wrapEpoch(book oplog.BookID, member oplog.MemberID, device *club.Enrolment, key seal.Key) (club.Wrapped, error) {
	id := key.ID()
	w, err := seal.Wrap(r.rand, device.Box, seal.Info(seal.PurposeEpoch, book, id[:], member, id), key)
	if err != nil {
		return club.Wrapped{}, fromSeal(err)
	}
	return club.Wrapped{Device: device.Sign, Enc: w.Enc, Box: w.Box[:]}, nil
}

// leavingWith are the devices that a removal takes out.
func leavingWith(state *club.State, body *club.RemoveBody) map[oplog.DeviceID]bool {
	leaving := map[oplog.DeviceID]bool{}
	for _, id := range body.Devices {
		leaving[id] = true
	}
	if body.Member != nil {
		if m, ok := state.Member(*body.Member); ok {
			for i := range m.Devices {
				leaving[m.Devices[i].Sign] = true
			}
		}
	}
	return leaving
}

// refreshGrant hands a new epoch to exactly those who stay, and the current one down under it.
func (r *Replica) refreshGrant(p *press, grant *club.Grant, leaving map[oplog.DeviceID]bool) error {
	made, err := r.grant(p.b, p.state, grant.ID, leaving)
	if err == nil {
		*grant = made
	}
	return err
}

// grant makes a new epoch of a key that this phone has already.
func (r *Replica) grant(b *book, state *club.State, id oplog.KeyID, leaving map[oplog.DeviceID]bool) (club.Grant, error) {
	key, ok := b.log.keys[id]
	before := state.Epoch().ID
	current, ok2 := b.log.keys[before]
	if !ok || !ok2 {
		return club.Grant{}, refuse("no-epoch-key", "this phone does not have the book's key")
	}
	g := club.Grant{ID: id}
	for _, m := range state.Members() {
		for i := range m.Devices {
			d := &m.Devices[i]
			if !d.In() || leaving[d.Sign] {
				continue
			}
			w, err := r.wrapEpoch(b.id, m.ID, &d.Enrolment, key)
			if err != nil {
				return g, err
			}
			g.Wraps = append(g.Wraps, w)
		}
	}
	info := seal.Info(seal.PurposeBefore, b.id, id[:], [16]byte{}, seal.KeyID(before))
	box, err := seal.SealKey(r.rand, key, info, current)
	if err != nil {
		return g, fromSeal(err)
	}
	g.Before = &club.Sealed{Keys: []oplog.KeyID{id}, Box: box}
	return g, nil
}

// newGrant draws a new epoch's key and keeps it: what is written before the epoch is ordered already lies under it.
func (r *Replica) newGrant(b *book, leaving map[oplog.DeviceID]bool) (club.Grant, error) {
	key, err := seal.NewKey(r.rand)
	if err != nil {
		return club.Grant{}, fromSeal(err)
	}
	r.addKey(b, key)
	return r.grant(b, r.stateAhead(b), oplog.KeyID(key.ID()), leaving)
}
