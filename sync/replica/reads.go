package replica

import (
	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// Status is how a book stands with its server.
type Status string

// The statuses.
const (
	StatusOffline  Status = "offline"       // no connection
	StatusCatching Status = "catching-up"   // connected, and not yet at the server's head
	StatusCurrent  Status = "current"       // connected, and at the server's head
	StatusJoining  Status = "joining"       // not a member yet
	StatusRemoved  Status = "removed"       // no longer a member; what was read stays readable
	StatusRestored Status = "restored"      // the server lost its tail; an organiser must say resume
	StatusStopped  Status = "stopped"       // tampering, or a newer version is needed: see Code
	StatusUnknown  Status = "not-connected" // never connected yet
)

// BookInfo is one line in the list of books.
type BookInfo struct {
	ID       oplog.BookID
	Kind     club.BookKind
	Member   oplog.MemberID // this person, in this book
	Host     string
	Status   Status
	Code     string // why stopped
	Verified uint64 // position up to which this phone has verified
	Head     uint64 // the server's newest position, as last heard
	Waiting  int    // ops on this phone that are not ordered yet
	Former   bool   // a notebook of this phone from before it was paired or recovered
	Unshown  bool   // removed, by the word of the server alone: no entry that was verified says so
}

// Share says how far an op has come.
type Share uint8

// How far.
const (
	OnDevice Share = iota + 1 // durable on this phone
	OnItsWay                  // frozen in a signed run
	Shared                    // has its position in the book
	Refused                   // listed by Refused, with the reason
)

// DocPart is the newest revision of one part of one member's document, this phone's own pending ones included.
type DocPart struct {
	DocKey
	Author oplog.MemberID // who wrote this revision; in a shared document DocKey.Member is zero
	Time   oplog.Time
	Device oplog.DeviceID
	Pos    uint64 // 0 when not ordered yet
	Share  Share
	Sample *oplog.SampleID // under whose envelope, when that is known
	Erased bool
	Item   uint64 // with Pos 0, names the revision in its book; a number comes again when its write failed
}

// BodyStatus says why there is a body, or none.
type BodyStatus uint8

// What there is.
const (
	BodyReady      BodyStatus = iota + 1
	BodyLoading               // asked from storage; Changed follows
	BodySealed                // under a sealed sample that this phone cannot open yet
	BodyUnreadable            // does not open with the keys that it names
	BodyDropped               // superseded or erased
	BodyMissing               // there is no such part
)

// Timing says whether an own guess counts.
type Timing uint8

// The timings.
const (
	TimingOpen Timing = iota + 1 // the sample is not closed
	TimingIn                     // ordered before the close
	TimingLate                   // ordered after the close: shown, not scored
)

// GuessStatus is how this person's guess about a sample stands.
type GuessStatus struct {
	Share  Share // of the newest revision; 0 when there is none
	Timing Timing
}

// RefusedOp is an op that the server did not take and that waits for the person's decision.
type RefusedOp struct {
	ID   uint64
	Book oplog.BookID
	Kind oplog.Kind
	Doc  oplog.DocID
	Part uint32
	Time oplog.Time
	Code string
	Text string
}

// SyncStatus is the whole phone at a glance.
type SyncStatus struct {
	Hosts    []HostStatus
	Waiting  int // ops not ordered yet, in all books
	OnItsWay int // of them, frozen in a signed run
	Refused  int
	Storage  string // code of the last failed write, "" when writes succeed
	Unsaved  int    // commands that are not durable yet
	Identity bool   // Start has been done
}

// HostStatus is one connection.
type HostStatus struct {
	Host   string
	Open   bool
	Code   string // why the host said good-bye, when it did
	Offset int64  // server's clock minus this phone's, milliseconds
}

// JoinState is how far a join, a pairing or a recovery is.
type JoinState string

// The states.
const (
	JoinWaiting JoinState = "waiting" // for a connection, or for the book to appear
	JoinReading JoinState = "reading" // verifying the book up to its head
	JoinAsking  JoinState = "asking"  // the op that brings this device in is on its way
	JoinDone    JoinState = "done"
	JoinFailed  JoinState = "failed"
)

// JoinInfo is one join, pairing or recovery. Book is zero for a recovery.
type JoinInfo struct {
	Kind  string // `club`, `device` or `recovery`
	Book  oplog.BookID
	Host  string
	State JoinState
	Code  string // why it failed
}

// Intention is an unseal that waits for its close.
type Intention struct {
	Book   oplog.BookID
	Sample oplog.SampleID
}

// Books lists all books, the notebook first.
func (r *Replica) Books() []BookInfo {
	var list []BookInfo
	if b := r.notebook(); b != nil {
		list = append(list, r.info(b))
	}
	for _, b := range r.order {
		if b.id != r.phone.Notebook {
			list = append(list, r.info(b))
		}
	}
	return list
}

func (r *Replica) info(b *book) BookInfo {
	info := BookInfo{
		ID: b.id, Kind: b.record.Kind, Member: b.record.Member, Host: b.record.Host, Status: r.status(b), Code: b.code,
		Verified: b.log.order.Pos, Head: max(b.head, b.log.order.Pos), Waiting: b.out.waiting(), Former: b.record.Former,
		Unshown: b.removed && r.unaware(b),
	}
	if info.Code == "" {
		info.Code = b.troubled
	}
	return info
}

func (r *Replica) status(b *book) Status {
	open := r.session(b.record.Host).phase == phaseOpen
	switch {
	case b.code != "":
		return StatusStopped
	case b.removed:
		return StatusRemoved
	case b.record.Member == oplog.MemberID{}:
		return StatusJoining
	case b.restored:
		return StatusRestored
	case !open && !b.born():
		return StatusUnknown
	case !open:
		return StatusOffline
	case b.current():
		return StatusCurrent
	}
	return StatusCatching
}

// Club is the verified state of a book, of ordered ops only. It is not to be changed. It is nil for a book that is not here.
func (r *Replica) Club(book oplog.BookID) *club.State {
	if b := r.books[book]; b != nil {
		return b.log.state
	}
	return nil
}

// Ahead is the state of a book as if this phone's own pending control ops were ordered now. It is not to be changed, nor kept
// over the next Step or command.
func (r *Replica) Ahead(book oplog.BookID) *club.State {
	if b := r.books[book]; b != nil {
		return r.stateAhead(b)
	}
	return nil
}

// Refused lists what the server did not take.
func (r *Replica) Refused() []RefusedOp {
	var list []RefusedOp
	for i := range r.refused {
		it := &r.refused[i].Item
		list = append(list, RefusedOp{
			ID: it.ID, Book: r.refused[i].Book, Kind: it.Kind, Doc: it.Doc, Part: it.Part, Time: it.provisional(),
			Code: r.refused[i].Code, Text: r.refused[i].Text,
		})
	}
	return list
}

// Sync is the whole phone at a glance.
func (r *Replica) Sync() SyncStatus {
	status := SyncStatus{Refused: len(r.refused), Storage: r.disk.fault, Identity: r.me != nil}
	for _, s := range r.sessions {
		status.Hosts = append(status.Hosts, HostStatus{Host: s.host, Open: s.phase == phaseOpen, Code: s.code, Offset: s.offset})
	}
	for _, b := range r.order {
		status.Waiting += b.out.waiting()
		if b.out.run != nil {
			status.OnItsWay += len(b.out.run.items)
		}
	}
	status.Unsaved = len(r.disk.waiting.tickets)
	if r.disk.flying != nil {
		status.Unsaved += len(r.disk.flying.tickets)
	}
	return status
}

// Device is this installation; zero before Start.
func (r *Replica) Device() seal.Public {
	if r.me == nil {
		return seal.Public{}
	}
	return r.me.Public()
}

// Notebook is this person's notebook; zero before Start.
func (r *Replica) Notebook() oplog.BookID { return r.phone.Notebook }

// Joining lists joins, pairings and recoveries that are not done.
func (r *Replica) Joining() []JoinInfo {
	var list []JoinInfo
	for _, j := range r.jobs {
		if j.Kind != jobMove {
			list = append(list, JoinInfo{Kind: j.Kind, Book: j.Book, Host: j.Host, State: j.State, Code: j.Code})
		}
	}
	return list
}

// Intentions lists the unseals that wait for their close, or are on their way.
func (r *Replica) Intentions() []Intention {
	var list []Intention
	for _, b := range r.order {
		for _, sample := range b.intentions {
			list = append(list, Intention{Book: b.id, Sample: sample})
		}
	}
	return list
}

// ServerOffset is a host's clock minus this phone's, in milliseconds; 0 before the first hello.
func (r *Replica) ServerOffset(host string) int64 { return r.offset(host) }
