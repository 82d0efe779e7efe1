package sim

import "hushcup/sync/oplog"

// What fate does, beside what people do.

func (w *World) toggleLine(*Phone) {
	p := pick(&w.rng, w.phones)
	p.online = !p.online && !p.gone
	w.say("%s on line: %v", p.name, p.online)
	if !p.online && p.line != nil {
		p.line.cut()
	}
	if !p.online && !p.gone {
		w.mostly(90_000, func() { p.online = true })
	}
}

// mostly undoes an ill after a while, in most cases.
func (w *World) mostly(within int64, undo func()) {
	if !w.rng.oneIn(4) {
		w.after(w.rng.between(100, within), func() {
			if !w.healed {
				undo()
			}
		})
	}
}

func (w *World) toggleLife(*Phone) {
	p := pick(&w.rng, w.phones)
	switch {
	case p.gone:
	case p.up():
		w.say("%s crashes", p.name)
		p.crash()
		w.mostly(30_000, p.revive)
	default:
		w.say("%s starts", p.name)
		p.start()
	}
}

// revive starts a phone again that lies there.
func (p *Phone) revive() {
	if !p.up() && !p.gone {
		p.w.say("%s starts", p.name)
		p.start()
	}
}

func (w *World) foreground(p *Phone) { p.step(foreground) }

func (w *World) toggleRoom(p *Phone) {
	p.full = !p.full
	w.say("%s has a full disk: %v", p.name, p.full)
	w.mostly(30_000, func() { p.full = false })
}

func (w *World) jump(p *Phone) {
	p.drawClock()
	w.say("the clock of %s jumps to %d", p.name, p.wall())
}

func (w *World) toggleServer(*Phone) {
	s := pick(&w.rng, w.servers)
	if s.up {
		w.say("server %d dies", s.name)
		w.count("server died")
		s.stop()
		w.mostly(30_000, func() {
			if !s.up {
				w.say("server %d starts", s.name)
				s.start()
			}
		})
		return
	}
	w.say("server %d starts", s.name)
	s.start()
}

// rollBack gives a phone the storage it had some time ago, as a browser's profile that is played back from a backup.
func (w *World) rollBack(p *Phone) {
	if !w.ills.rollBack {
		return
	}
	old, owed := p.disk.copy(), p.debts.copy()
	w.after(w.rng.between(1000, 60_000), func() {
		if p.gone || w.healed {
			return
		}
		w.say("%s comes back with the storage it had a while ago", p.name)
		w.count("storage rolled back")
		p.crash()
		w.keysOfYore = append(w.keysOfYore, p.keysOnDisk()...)
		p.disk = old
		p.rolled, p.debts = true, owed
		p.start()
	})
}

// loseTail takes the end of one book from the store; the servers were down meanwhile, or notice only later.
func (w *World) loseTail(*Phone) {
	b, pos := w.somePast()
	if !w.ills.tornStore || b == nil || pos == b.order.Pos {
		return
	}
	w.say("the store of %.4s comes back from a backup at %d of %d", b.id, pos, b.order.Pos)
	w.count("store lost its tail")
	w.torn[b.id] = true
	restart := w.rng.oneIn(2)
	for _, s := range w.servers {
		if s.up && restart {
			s.stop()
			defer s.start()
		}
	}
	w.playBack(b, pos)
}

// playBack makes the store what a backup held that was taken at a position: nothing after it, and what was forgotten since.
func (w *World) playBack(b *watched, pos uint64) {
	if pos == 0 {
		w.store.LoseTail(b.id, 0, nil)
		w.observers[0].forgetTail(b.id, 0)
		return
	}
	then := b.upTo(pos)
	w.store.LoseTail(b.id, pos, then.state.Enrolled())
	for i := range then.entries {
		if op := &then.entries[i].Op; op.Body != nil && !then.dropped[uint64(i)+1] {
			w.store.Forge(b.id, uint64(i)+1, func(header []byte, _ *[]byte, _ *oplog.Order) ([]byte, *[]byte) {
				return header, &op.Body
			})
		}
	}
	w.observers[0].forgetTail(b.id, pos)
}
