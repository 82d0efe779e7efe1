package replica

import (
	"encoding/binary"
	"slices"

	"hushcup/sync/oplog"
	"hushcup/sync/wire"
)

// Names of timers; those that end with a slash are followed by a book or a host.
const (
	timerStorage = "storage"
	timerFreeze  = "freeze/"
	timerPush    = "push/"
	timerChores  = "chores/"
	timerRest    = "rest/"
	timerDoubt   = "doubt/"
	timerRetry   = "subscribe/"
	timerDial    = "dial/"
	timerAnswer  = "answer/"
	timerBooks   = "books/"
	timerBeat    = "beat/"
)

const (
	handshakeTime = 10_000
	answerTime    = 25_000
	beatTime      = 60_000
	leastWait     = 100
	mostWait      = 30_000
	ancientWait   = 10 * 60_000 // after a good-bye that only a new version mends
)

// session is the conversation with one host.
type session struct {
	host      string
	phase     phase
	wanted    bool           // the app said Start with this host, or a book lives there
	device    oplog.DeviceID // who this connection proved to be
	attempt   uint
	challenge [32]byte
	heads     map[oplog.BookID]wire.BookHead
	helloTime int64
	helloAt   int64 // this phone's clock at the hello
	offset    int64
	code      string // of the last good-bye
	expecting bool   // an answer is due
	beating   bool   // the list of books was asked for, to hear whether anybody is there
	asked     bool   // a timer will ask for the list of books again
	asking    uint   // how often it was asked for
}

type phase uint8

const (
	phaseOff phase = iota
	phaseWaiting
	phaseDialling
	phaseGreeting // the socket is open, Hello is due
	phaseProving  // Welcome is due
	phaseOpen
)

func (r *Replica) session(host string) *session {
	for _, s := range r.sessions {
		if s.host == host {
			return s
		}
	}
	s := &session{host: host}
	r.sessions = append(r.sessions, s)
	slices.SortFunc(r.sessions, func(a, b *session) int {
		if a.host < b.host {
			return -1
		}
		return 1
	})
	return s
}

// offset is the host's clock minus this phone's.
func (r *Replica) offset(host string) int64 {
	for _, s := range r.sessions {
		if s.host == host {
			return s.offset
		}
	}
	return 0
}

// trustHello corrects the offset after the server refused an op as ahead of its time: this phone's clock jumped since.
func (r *Replica) trustHello(host string) {
	s := r.session(host)
	s.offset = s.helloTime - r.now
}

// connected says whether a book's host can be talked to as an author.
func (r *Replica) connected(b *book, o *outbox) bool {
	s := r.session(b.record.Host)
	return s.phase == phaseOpen && s.device == o.author
}

func (r *Replica) say(host string, f wire.Frame) {
	if s := r.session(host); s.phase >= phaseGreeting {
		r.do(Send{Host: host, Bytes: wire.Encode(f)})
	}
}

func pushOf(run *oplog.Run) *wire.Push { return &wire.Push{Run: run.Pack()} }

// want dials a host if that is not under way.
func (r *Replica) want(host string) {
	if host == "" || r.me == nil {
		return
	}
	s := r.session(host)
	s.wanted = true
	if s.phase == phaseOff {
		r.dial(s)
	}
}

func (r *Replica) dial(s *session) {
	if r.disk.fault != "" {
		s.phase = phaseOff
		return
	}
	s.phase = phaseDialling
	r.do(Dial{Host: s.host})
	r.do(SetTimer{Name: timerAnswer + s.host, After: handshakeTime})
	s.expecting = true
}

func (r *Replica) dialAll() {
	for _, s := range r.sessions {
		if s.wanted && s.phase == phaseOff {
			r.dial(s)
		}
	}
}

func (r *Replica) hangUpAll() {
	for _, s := range r.sessions {
		if s.phase != phaseOff {
			r.do(HangUp{Host: s.host})
			r.gone(s)
			s.phase = phaseOff
		}
	}
}

// replace closes a socket that is not trusted any more and opens another at once.
func (r *Replica) replace(s *session) {
	if s.phase != phaseOff {
		r.do(HangUp{Host: s.host})
	}
	r.gone(s)
	s.phase = phaseOff
	if s.wanted {
		r.dial(s)
	}
}

// gone forgets what belonged to a connection.
func (r *Replica) gone(s *session) {
	open := s.phase == phaseOpen
	s.heads, s.expecting, s.beating, s.asked = nil, false, false, false
	for _, b := range r.order {
		if b.record.Host != s.host {
			continue
		}
		b.answered, b.asked, b.slowed, b.restored, b.told, b.offer = false, false, false, false, 0, nil
		b.doubt = trusting
		for _, o := range []*outbox{b.out, b.guest} {
			if o != nil && o.run != nil {
				o.run.sent = false
			}
		}
	}
	if open {
		r.changed(zeroBook, ChangedSync)
	}
}

// retryLater waits with full jitter before the next attempt.
func (r *Replica) retryLater(s *session) {
	r.gone(s)
	s.phase = phaseWaiting
	if !s.wanted {
		s.phase = phaseOff
		return
	}
	s.attempt++
	after := leastWait + r.below(backoff(s.attempt, 2*leastWait, mostWait)-leastWait+1)
	if s.code == "app-too-old" {
		after = ancientWait
	}
	r.do(SetTimer{Name: timerDial + s.host, After: after})
}

// below draws a number under a bound.
func (r *Replica) below(bound int64) int64 {
	var b [8]byte
	if _, err := r.rand.Read(b[:]); err != nil || bound <= 0 {
		return 0
	}
	return int64(binary.BigEndian.Uint64(b[:]) >> 1 % uint64(bound))
}

func (r *Replica) onConnected(host string) {
	s := r.session(host)
	if s.phase != phaseDialling {
		return
	}
	s.phase = phaseGreeting
}

func (r *Replica) onDisconnected(host string) {
	s := r.session(host)
	if s.phase == phaseOff || s.phase == phaseWaiting {
		return
	}
	r.retryLater(s)
}

// onForeground replaces every socket: one that slept with the phone may look open and be dead.
func (r *Replica) onForeground() {
	for _, s := range r.sessions {
		s.attempt, s.code = 0, ""
		if s.wanted {
			r.replace(s)
		}
	}
	r.retryStorage()
}

func (r *Replica) expectAnswer(host string) {
	s := r.session(host)
	if !s.expecting {
		s.expecting = true
		r.do(SetTimer{Name: timerAnswer + host, After: answerTime})
	}
}

// onAnswerTimer replaces a connection that owes an answer.
func (r *Replica) onAnswerTimer(host string) {
	s := r.session(host)
	if !s.expecting || s.phase == phaseOff || s.phase == phaseWaiting {
		return
	}
	if s.phase == phaseOpen && !r.owed(host) {
		s.expecting = false
		return
	}
	r.do(HangUp{Host: host})
	r.retryLater(s)
}

// beat asks for the list of books now and then: a phone cannot see that a line is dead in any other way, and what has happened
// to a book without an entry of its own, as that its server lost its tail, is told there.
func (r *Replica) beat(host string) {
	s := r.session(host)
	if s.phase != phaseOpen {
		return
	}
	s.beating = true
	r.say(host, &wire.BooksAsk{})
	r.expectAnswer(host)
}

// owed says whether the host has not answered a push or a subscription.
func (r *Replica) owed(host string) bool {
	if r.session(host).beating {
		return true
	}
	for _, b := range r.order {
		if b.record.Host != host || b.halted || b.removed {
			continue
		}
		if b.asked && !b.answered {
			return true
		}
		for _, o := range []*outbox{b.out, b.guest} {
			if o != nil && o.run != nil && o.run.sent && o.run.first == 0 {
				return true
			}
		}
	}
	return false
}
