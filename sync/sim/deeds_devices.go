package sim

import (
	"hushcup/sync/replica"
)

// What people do with their devices.

func (w *World) pair(p *Phone) {
	if p.person.link == "" {
		_ = p.command("shows a link for another device", func(now int64) (replica.Ticket, error) {
			link, t, err := p.replica.Pair(now)
			p.person.link = link
			w.secrets.link(link)
			return t, err
		}, nil)
		return
	}
	if len(p.person.phones) > 2 {
		return
	}
	link := p.person.link
	p.person.link = ""
	second := w.addPhone(p.person)
	second.start()
	_ = second.command("comes in as a further device of "+p.person.name, func(now int64) (replica.Ticket, error) {
		_, t, err := second.replica.Join(now, link, Host)
		return t, err
	}, nil)
}

func (w *World) removeDevice(p *Phone) {
	if len(p.person.phones) < 2 {
		return
	}
	other := pick(&w.rng, p.person.phones)
	if other == p || !other.up() {
		return
	}
	_ = p.command("removes "+other.name, func(now int64) (replica.Ticket, error) {
		return p.replica.RemoveDevice(now, other.device())
	}, nil)
}

func (w *World) recoveryCode(p *Phone) {
	_ = p.command("writes down a recovery code", func(now int64) (replica.Ticket, error) {
		code, t, err := p.replica.RecoveryCode(now)
		if err == nil {
			p.person.code = code
			w.secrets.code(code)
		}
		return t, err
	}, nil)
}

func (w *World) recover(p *Phone) {
	if p.person.code == "" || len(p.person.phones) > 2 {
		return
	}
	if w.rng.oneIn(2) {
		w.say("%s falls into the sink", p.name)
		p.crash()
		p.gone, p.online = true, false
	}
	fresh := w.addPhone(p.person)
	fresh.start()
	code := p.person.code
	_ = fresh.command("recovers "+p.person.name, func(now int64) (replica.Ticket, error) {
		return fresh.replica.Recover(now, code, Host)
	}, nil)
}
