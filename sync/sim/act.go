package sim

import (
	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

var foreground = replica.Foreground{}

// deed is one thing that people or fate do; weight says how often.
type deed struct {
	weight int
	name   string
	do     func(w *World, p *Phone)
}

var deeds = []deed{
	{2, "create a club", (*World).createClub},
	{4, "invite", (*World).invite},
	{8, "join", (*World).join},
	{6, "open a flight", (*World).openFlight},
	{14, "seal a sample", (*World).sealSample},
	{8, "write into the notebook", (*World).writeNotebook},
	{12, "write about a sample", (*World).writeCup},
	{6, "write for the club", (*World).writeShared},
	{40, "guess", (*World).guess},
	{9, "close", (*World).lock},
	{14, "unseal", (*World).unseal},
	{2, "move the closing time", (*World).closing},
	{4, "remove a member", (*World).removeMember},
	{4, "change a role", (*World).changeRole},
	{2, "leave", (*World).leave},
	{1, "revoke an invitation", (*World).revoke},
	{3, "pair a device", (*World).pair},
	{2, "remove a device", (*World).removeDevice},
	{3, "make a recovery code", (*World).recoveryCode},
	{2, "lose the phone and recover", (*World).recover},
	{2, "erase a document", (*World).erase},
	{3, "decide about what was refused", (*World).decide},
	{8, "go off or on line", (*World).toggleLine},
	{6, "crash or start", (*World).toggleLife},
	{4, "come to the foreground", (*World).foreground},
	{3, "a full disk, or room again", (*World).toggleRoom},
	{3, "a clock jumps", (*World).jump},
	{3, "a server dies or starts", (*World).toggleServer},
	{2, "a storage is rolled back", (*World).rollBack},
	{1, "a phone falls into wrong hands", (*World).steal},
	{4, "a server lies, or stops lying", (*World).toggleRogue},
	{2, "a server shows another history", (*World).fork},
	{3, "the store loses its tail", (*World).loseTail},
}

// act does one deed, and now and then lets a phone crash in the middle of what it set off.
func (w *World) act() {
	total := 0
	for _, d := range deeds {
		total += d.weight
	}
	at := w.rng.upTo(total)
	for _, d := range deeds {
		if at -= d.weight; at < 0 {
			w.doDeed(d)
			return
		}
	}
}

func (w *World) doDeed(d deed) {
	p := w.awake()
	if p == nil {
		p = pick(&w.rng, w.phones)
		if !p.gone {
			w.say("%s starts", p.name)
			p.start()
		}
		return
	}
	p.begin()
	d.do(w, p)
	if p.up() && w.rng.oneIn(w.rates.crash) {
		w.say("%s crashes at once", p.name)
		p.crash()
		w.mostly(10_000, p.revive)
	}
}

// member picks a club in which the phone's person is, with that club's state as the phone sees it.
func (w *World) member(p *Phone) (*clubhouse, *club.State, oplog.MemberID) {
	var in []*clubhouse
	for _, c := range w.clubs {
		if s := p.replica.Ahead(c.book); s != nil {
			if _, ok := s.MemberOf(p.device()); ok {
				in = append(in, c)
			}
		}
	}
	if len(in) == 0 {
		return nil, nil, oplog.MemberID{}
	}
	c := pick(&w.rng, in)
	s := p.replica.Ahead(c.book)
	m, _ := s.MemberOf(p.device())
	return c, s, m.ID
}

func (p *Phone) device() oplog.DeviceID { return oplog.DeviceID(p.replica.Device().Sign) }
