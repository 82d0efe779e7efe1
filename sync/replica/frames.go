package replica

import (
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
	"hushcup/sync/wire"
)

// onFrame takes one frame. One that cannot be read ends the connection, not the app.
func (r *Replica) onFrame(host string, bytes []byte) {
	s := r.session(host)
	if s.phase < phaseGreeting {
		return
	}
	f, err := wire.Decode(bytes)
	if err != nil {
		r.do(HangUp{Host: host})
		r.retryLater(s)
		return
	}
	switch f := f.(type) {
	case *wire.Hello:
		r.onHello(s, f)
	case *wire.Welcome:
		r.onWelcome(s, f)
	case *wire.Bye:
		r.onBye(s, f)
	default:
		if s.phase == phaseOpen {
			r.onBookFrame(s, f)
		}
	}
}

func (r *Replica) onHello(s *session, f *wire.Hello) {
	if s.phase != phaseGreeting {
		return
	}
	if f.Oldest > wire.Version {
		r.onBye(s, &wire.Bye{Code: "app-too-old"})
		return
	}
	s.challenge, s.helloTime, s.helloAt, s.offset = f.Challenge, f.Time, r.now, f.Time-r.now
	s.device = r.device
	sign := r.sign
	if j := r.recovering(); j != nil && j.Host == s.host {
		identity := j.identity()
		s.device, sign = oplog.DeviceID(identity.Public().Sign), identity.Sign
	}
	s.phase = phaseProving
	sig := sign(wire.ProofMessage(f.Challenge, s.host, nil))
	r.say(s.host, &wire.Proof{Version: wire.Version, Device: s.device, Host: s.host, Sig: sig[:]})
}

// onWelcome begins, or goes on with, the books that the host knows this device to be in.
func (r *Replica) onWelcome(s *session, f *wire.Welcome) {
	if s.phase != phaseProving && s.phase != phaseOpen {
		return
	}
	first := s.phase == phaseProving
	s.phase, s.attempt, s.code, s.beating = phaseOpen, 0, "", false
	r.do(SetTimer{Name: timerBeat + s.host, After: beatTime})
	s.heads = map[oplog.BookID]wire.BookHead{}
	for _, head := range f.Books {
		s.heads[head.Book] = head
	}
	if first {
		s.expecting, s.asking = false, 0
		r.changed(zeroBook, ChangedSync)
	}
	r.welcomeRecovery(s, f)
	r.welcomeListed(s)
	for _, b := range r.order {
		if b.record.Host == s.host {
			r.greet(s, b)
		}
	}
	r.awaitEntry()
	r.chores()
}

// greet subscribes to a book, or pushes the create of one that the host does not know yet. One that stopped at its very first
// entry is read once more although the host does not list it: this person may have been taken out of it since.
func (r *Replica) greet(s *session, b *book) {
	head, listed := s.heads[b.id]
	if listed {
		b.restored = head.Restored
		b.head = max(b.head, head.Pos)
	}
	if b.asked || b.halted || b.removed && !listed && !r.unaware(b) {
		return
	}
	if !listed && !b.born() && b.code == "" && r.joining(b.id) == nil && b.guest == nil {
		r.send(b) // its create, if there is one
		return
	}
	r.subscribe(b)
}

// unaware says that this phone has not seen for itself how it was taken out of a book; the server shows it until there.
func (r *Replica) unaware(b *book) bool {
	_, in := b.log.state.MemberOf(r.device)
	return in
}

// subscribe asks for a book from the cursor on. A recovery device asks only for what its code opens: of this phone's other
// books the server would say that it is not in them.
func (r *Replica) subscribe(b *book) {
	s := r.session(b.record.Host)
	if s.phase != phaseOpen || b.halted || s.device != r.device && b.guest == nil {
		return
	}
	if b.removed && !b.born() {
		return
	}
	if !b.log.chain.whole() {
		r.wantChain(b)
		return
	}
	b.asked, b.answered, b.offer = true, false, nil
	pos, chain := b.log.cursor(b.code == codeBodyMissing || b.doubt == asking)
	b.seenTo = pos
	ask := &wire.Subscribe{Book: b.id, Pos: pos, Chain: chain}
	if j := r.joining(b.id); j != nil {
		if invite, err := seal.ParseInvite(j.Secret); err == nil {
			key := oplog.DeviceID(invite.Public())
			sig := invite.Sign(wire.ProofMessage(s.challenge, s.host, &b.id))
			ask.Invite, ask.InviteSig = &key, sig[:]
		}
	}
	r.say(s.host, ask)
	r.expectAnswer(s.host)
}

// cursor is where to read on from: before the first body that was held back, if that is what stopped the book.
func (l *ledger) cursor(refill bool) (uint64, oplog.Hash) {
	if missing := l.docs.Missing(); refill && len(missing) > 0 {
		before := l.chain.first(missing[0]) - 1
		chain, _ := l.chain.at(before)
		return before, chain
	}
	return l.order.Pos, l.order.Chain
}

func (r *Replica) onBookFrame(s *session, f wire.Frame) {
	find := func(id oplog.BookID) *book {
		if b := r.books[id]; b != nil && b.record.Host == s.host {
			return b
		}
		return nil
	}
	switch f := f.(type) {
	case *wire.Entries:
		if b := find(f.Book); b != nil && b.asked {
			r.onEntries(b, f)
		}
	case *wire.Ack:
		if b := find(f.Book); b != nil {
			r.onAck(b, f)
		}
	case *wire.Refuse:
		if b := find(f.Book); b != nil {
			r.onRefuse(b, f)
		}
	case *wire.Slow:
		if f.Book == zeroBook && s.beating { // its store does not answer, but somebody is there
			s.beating = false
			r.do(SetTimer{Name: timerBeat + s.host, After: beatTime})
		}
		if b := find(f.Book); b != nil {
			r.onSlow(b, f)
		}
	case *wire.Closed:
		if b := find(f.Book); b != nil && b.asked {
			r.onClosed(b, f)
		}
	case *wire.Behind:
		if b := find(f.Book); b != nil && b.asked {
			r.onBehind(b, f)
		}
	}
}

// onSlow waits: with pushing if a run was not taken, and otherwise the server asks for patience with the subscription.
func (r *Replica) onSlow(b *book, f *wire.Slow) {
	waits := false
	for _, o := range []*outbox{b.out, b.guest} {
		if o != nil && o.run != nil && o.run.sent && o.run.first == 0 {
			o.run.sent, waits = false, true
		}
	}
	if waits {
		r.pause(b, f.Code, max(int64(f.After), leastWait))
	}
	if f.Code == "server-behind" {
		r.subscribe(b)
	}
}

// onClosed learns why a book may not be read.
func (r *Replica) onClosed(b *book, f *wire.Closed) {
	b.asked, b.answered = false, false
	if b.halted {
		return
	}
	if f.Code == "offer-refused" { // another phone was faster
		b.restored = false
	}
	if r.joinClosed(b, f) {
		return
	}
	switch f.Code {
	case "chain-differs":
		r.halt(b, contradiction(f.Code, "the server's history of this book is another than this phone's"))
	case "not-a-member":
		if j := r.recovering(); j != nil && b.guest != nil {
			b.removed = true
			r.finishRecovery(j)
			return
		}
		if b.guest == nil && !b.removed && b.record.Member != (oplog.MemberID{}) && b.born() {
			r.leaveBook(b, f.Code, "the server says that this device is not in the book")
		}
	default: // no-such-book, offer-refused, server-too-old, ...: another time
		b.troubled = f.Code
		b.calls++
		r.do(SetTimer{Name: timerRetry + b.id.String(), After: backoff(b.calls, 1000, mostWait)})
	}
	r.changed(b.id, ChangedSync)
}

// onBye ends a connection with the reason that the host gave.
func (r *Replica) onBye(s *session, f *wire.Bye) {
	s.code = f.Code
	r.do(HangUp{Host: s.host})
	r.retryLater(s)
	r.changed(zeroBook, ChangedSync)
}

// durable is told when a transaction was kept: what was in it may leave.
func (r *Replica) durable(b *book, tx uint64) {
	for _, o := range []*outbox{b.out, b.guest} {
		if o != nil && o.run != nil && o.run.tx <= tx {
			o.run.kept = true
		}
	}
	b.written = max(b.written, b.writing)
	if b.answered && b.written > b.told && r.session(b.record.Host).phase == phaseOpen {
		b.told = b.written
		r.say(b.record.Host, &wire.Received{Book: b.id, Pos: b.written})
	}
	r.send(b)
	r.freezeNow(b)
}
