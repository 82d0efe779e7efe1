package replica

import (
	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// Start makes identity and notebook when there is none yet, and connects to host ("" stays offline). It must follow Load.
func (r *Replica) Start(now int64, host string) (Ticket, error) {
	r.now = now
	switch {
	case !r.loaded:
		return 0, refuse("not-loaded", "Load comes first")
	case r.fault != nil:
		return 0, r.fault
	case r.me == nil:
		if err := r.begin(host); err != nil {
			return 0, err
		}
	}
	r.adoptHost(host)
	r.started, r.startHost = true, host
	r.wantAll()
	for _, b := range r.order {
		r.restSoon(b)
	}
	return r.ticket(), nil
}

// wantAll connects to every host that a book or a job lives at.
func (r *Replica) wantAll() {
	r.want(r.startHost)
	for _, b := range r.order {
		r.want(b.record.Host)
	}
	for _, j := range r.jobs {
		r.want(j.Host)
	}
}

// adoptHost gives a host to books that were made without one.
func (r *Replica) adoptHost(host string) {
	if host == "" {
		return
	}
	if r.phone.Host == "" {
		r.phone.Host = host
		r.putOwn(keyPhone, &r.phone)
	}
	for _, b := range r.order {
		if b.record.Host == "" {
			b.record.Host = host
			r.saveBook(b)
		}
	}
}

func (r *Replica) begin(host string) error {
	identity, err := seal.NewIdentity(r.rand)
	if err != nil {
		return fromSeal(err)
	}
	r.become(identity, oplog.DeviceID(identity.Public().Sign))
	b, err := r.create(club.Notebook, host, []club.Enrolment{r.enrolment()})
	if err != nil {
		r.me, r.device = nil, oplog.DeviceID{}
		return err
	}
	r.phone = phoneRecord{Sign: identity.SignSeed, Box: identity.BoxSeed, Notebook: b.id, Host: host, Device: r.device}
	r.putOwn(keyPhone, &r.phone)
	r.changed(zeroBook, ChangedSync)
	return nil
}

func (r *Replica) enrolment() club.Enrolment {
	public := r.me.Public()
	return club.Enrolment{Sign: public.Sign, Box: public.Box}
}

// create makes a book whose first op is frozen at once: its hash is the book's name. Its time is zero, since a clock that was
// wrong must not have it refused.
func (r *Replica) create(kind club.BookKind, host string, devices []club.Enrolment) (*book, error) {
	key, err := seal.NewKey(r.rand)
	if err != nil {
		return nil, fromSeal(err)
	}
	body := club.CreateBody{Rules: club.RulesVersion, Kind: kind, Devices: devices, Epoch: club.Grant{ID: oplog.KeyID(key.ID())}}
	if err := r.draw(body.Nonce[:]); err != nil {
		return nil, err
	}
	if err := r.draw(body.Member[:]); err != nil {
		return nil, err
	}
	// The wraps are bound to the book, whose name is the hash of the op that holds them; so those of `create` are bound to a
	// book of zeros.
	for i := range devices {
		w, err := r.wrapEpoch(zeroBook, body.Member, &devices[i], key)
		if err != nil {
			return nil, err
		}
		body.Epoch.Wraps = append(body.Epoch.Wraps, w)
	}
	op := oplog.New(oplog.Header{Device: r.device, Seq: 1, Kind: oplog.Create}, codec.MustMarshal(&body))
	b := r.newBook(op.BookOf(), bookRecord{Kind: kind, Member: body.Member, Host: host}, r.device)
	r.addBook(b)
	r.saveBook(b)
	r.addKey(b, key)
	r.lastItem++
	it := &item{ID: r.lastItem, Kind: oplog.Create, Body: op.Body, Wall: r.now}
	r.keepRun(b, b.out, &frozen{items: []*item{it}, run: oplog.Sign([]oplog.Op{op}, r.me.Sign)})
	r.changed(b.id, ChangedState|ChangedSync)
	return b, nil
}

func (r *Replica) draw(into []byte) error {
	if n, err := r.rand.Read(into); err != nil || n != len(into) {
		return refuse("no-randomness", "the source of randomness ended: %v", err)
	}
	return nil
}
