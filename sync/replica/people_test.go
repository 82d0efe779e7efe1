package replica_test

import (
	"testing"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
	"hushcup/sync/wire"
)

// A further device comes in by a link, gets every club, and reads what was written before.
func TestPairing_REPLICA_16(t *testing.T) {
	w := newWorld(t)
	vega, mira := w.phone("vega"), w.phone("mira")
	book := w.found(vega, mira)
	flight, ticket, err := vega.r.Flight(vega.clock(), book, replica.FlightArgs{})
	vega.must(ticket, err)
	sample, ticket, err := vega.r.SealSample(vega.clock(), book, replica.SampleArgs{Flight: flight, Code: 300, Answer: []byte("a")})
	vega.must(ticket, err)
	w.pass(1000)
	mira.guess(book, sample, "first thought")
	mira.put(mira.r.Notebook(), 9, 1, replica.UnderEpoch, "my own coffee")
	w.pass(1000)

	tablet := w.phone("tablet")
	tablet.put(tablet.r.Notebook(), 8, 1, replica.UnderEpoch, "typed before pairing")
	w.pass(1000)
	link, ticket, err := mira.r.Pair(mira.clock())
	mira.must(ticket, err)
	_, ticket, err = tablet.r.Join(tablet.clock(), link, host)
	tablet.must(ticket, err)
	w.pass(60_000)
	if tablet.r.Notebook() != mira.r.Notebook() {
		t.Fatalf("the tablet has another notebook: %+v", tablet.r.Joining())
	}
	if got := tablet.me(book); got != mira.me(book) {
		t.Fatalf("the tablet is %v in the club", got)
	}
	if got, status, _ := tablet.body(tablet.r.Notebook(), tablet.me(tablet.r.Notebook()), oplog.DocID{9}, 1); got != "my own coffee" {
		t.Fatalf("the tablet reads %q %v", got, status)
	}
	if got, status, _ := mira.body(mira.r.Notebook(), mira.me(mira.r.Notebook()), oplog.DocID{8}, 1); got != "typed before pairing" {
		t.Fatalf("what was typed before pairing: %q %v", got, status)
	}
	if got, status := tablet.readGuess(book, sample, mira.me(book)); got != "first thought" {
		t.Fatalf("the tablet reads its person's guess as %q %v", got, status)
	}
	tablet.guess(book, sample, "second thought")
	w.pass(1000)
	if got, status := mira.readGuess(book, sample, mira.me(book)); got != "second thought" {
		t.Fatalf("mira reads the tablet's guess as %q %v", got, status)
	}
	w.same(book, vega, mira, tablet)
	w.quiet(vega, mira, tablet)

	// A club that one device joins later reaches the other by itself.
	lyra := w.phone("lyra")
	second := w.found(lyra, tablet)
	w.pass(60_000)
	if got := mira.me(second); got != tablet.me(second) || got == (oplog.MemberID{}) {
		t.Fatalf("mira is %v in the second club", got)
	}
	w.same(second, lyra, mira, tablet)

	// And a lost device is taken out of everything, with new keys.
	before := vega.r.Club(book).Epoch().ID
	mira.must(mira.r.RemoveDevice(mira.clock(), tablet.r.Device().Sign))
	w.pass(5000)
	for _, id := range []oplog.BookID{book, second, mira.r.Notebook()} {
		if _, in := mira.r.Club(id).MemberOf(tablet.r.Device().Sign); in {
			t.Fatal("the lost device is still in")
		}
		if s := tablet.info(id).Status; s != replica.StatusRemoved {
			t.Fatalf("the lost device thinks: %v", s)
		}
	}
	if vega.r.Club(book).Epoch().ID == before {
		t.Fatal("no new epoch after a device was taken out")
	}
	vega.put(book, 5, 1, replica.UnderEpoch, "after")
	w.pass(1000)
	if got, status, _ := mira.body(book, vega.me(book), oplog.DocID{5}, 1); got != "after" {
		t.Fatalf("mira reads %q %v", got, status)
	}
}

// A lost phone is replaced with the code from the drawer.
func TestRecovery_REPLICA_17(t *testing.T) {
	w := newWorld(t)
	vega, mira := w.phone("vega"), w.phone("mira")
	code, ticket, err := mira.r.RecoveryCode(mira.clock())
	mira.must(ticket, err)
	book := w.found(vega, mira)
	mira.put(mira.r.Notebook(), 9, 1, replica.UnderEpoch, "my own coffee")
	mira.put(book, 3, 1, replica.UnderEpoch, "for the club")
	w.pass(1000)
	member := mira.me(book)
	mira.goOffline()

	fresh := w.phone("fresh")
	w.pass(500)
	fresh.must(fresh.r.Recover(fresh.clock(), code, host))
	w.pass(1)
	fresh.crash(99)
	w.pass(30_000)
	if len(fresh.r.Joining()) != 0 || fresh.r.Notebook() != mira.r.Notebook() || fresh.me(book) != member {
		t.Fatalf("not recovered: %+v, %v", fresh.r.Joining(), fresh.me(book))
	}
	if got, status, _ := fresh.body(fresh.r.Notebook(), fresh.me(fresh.r.Notebook()), oplog.DocID{9}, 1); got != "my own coffee" {
		t.Fatalf("the notebook reads %q %v", got, status)
	}
	if got, status, _ := fresh.body(book, member, oplog.DocID{3}, 1); got != "for the club" {
		t.Fatalf("the club reads %q %v", got, status)
	}
	next, ticket, err := fresh.r.RecoveryCode(fresh.clock())
	fresh.must(ticket, err)
	fresh.must(fresh.r.RemoveDevice(fresh.clock(), mira.r.Device().Sign))
	w.pass(5000)
	w.quiet(vega, fresh)
	w.same(book, vega, fresh)

	thief := w.phone("thief")
	thief.must(thief.r.Recover(thief.clock(), code, host))
	w.pass(30_000)
	if jobs := thief.r.Joining(); len(jobs) != 1 || jobs[0].Code != "no-such-code" {
		t.Fatalf("an old code: %+v", jobs)
	}
	last := w.phone("last")
	last.must(last.r.Recover(last.clock(), next, host))
	w.pass(30_000)
	if last.me(book) != member {
		t.Fatalf("the new code does not work: %+v", last.r.Joining())
	}
}

// A phone that recovers stays in the books that it has: while it speaks as the recovery device it is in none of them, and does
// not take the server's word for it. What it writes in them meanwhile goes out afterwards.
func TestARecoveringPhoneStaysInItsOwnBooks_REPLICA_17(t *testing.T) {
	w := newWorld(t)
	mira, fresh, lyra := w.phone("mira"), w.phone("fresh"), w.phone("lyra")
	code, ticket, err := mira.r.RecoveryCode(mira.clock())
	mira.must(ticket, err)
	book := w.found(fresh, lyra)
	mira.goOffline()
	fresh.goOffline()
	fresh.must(fresh.r.Recover(fresh.clock(), code, host))
	fresh.put(book, 6, 1, replica.UnderEpoch, "meanwhile")
	w.filter = func(p *phone, f wire.Frame) wire.Frame { // the server does not get to what the code opens
		if _, entries := f.(*wire.Entries); entries && p == fresh && len(fresh.r.Joining()) > 0 {
			return nil
		}
		return f
	}
	fresh.goOnline()
	w.pass(20_000)
	if len(fresh.r.Joining()) != 1 || len(fresh.r.Refused()) != 0 {
		t.Fatalf("while it recovers: %+v, refused %+v", fresh.r.Joining(), fresh.r.Refused())
	}
	w.filter = nil
	fresh.goOffline()
	fresh.goOnline()
	w.pass(60_000)
	if len(fresh.r.Joining()) != 0 || fresh.r.Notebook() != mira.r.Notebook() || len(fresh.r.Refused()) != 0 {
		t.Fatalf("not recovered: %+v, refused %+v", fresh.r.Joining(), fresh.r.Refused())
	}
	w.quiet(fresh, lyra)
	w.same(book, fresh, lyra)
	if got, status, _ := lyra.body(book, fresh.me(book), oplog.DocID{6}, 1); got != "meanwhile" {
		t.Fatalf("what was written meanwhile reads %q %v", got, status)
	}
}

// A removed member learns it, keeps what they could read, and what they still had to say is listed.
func TestRemoval_REPLICA_18(t *testing.T) {
	w := newWorld(t)
	vega, mira, lyra := w.phone("vega"), w.phone("mira"), w.phone("lyra")
	book := w.found(vega, mira, lyra)
	vega.put(book, 5, 1, replica.UnderEpoch, "before")
	w.pass(1000)
	mira.goOffline()
	mira.put(book, 6, 1, replica.UnderEpoch, "never shared")
	lyra.goOffline()
	lyra.put(book, 7, 1, replica.UnderEpoch, "written under the old key")
	vega.must(vega.r.RemoveMember(vega.clock(), book, mira.me(book)))
	vega.put(book, 5, 2, replica.UnderEpoch, "after")
	w.pass(2000)
	lyra.goOnline()
	mira.goOnline()
	w.pass(5000)
	if s := mira.info(book); s.Status != replica.StatusRemoved {
		t.Fatalf("mira thinks %+v", s)
	}
	if refused := mira.r.Refused(); len(refused) != 1 || refused[0].Code != "not-a-member" {
		t.Fatalf("mira's op is not listed: %+v", refused)
	}
	if got, status, _ := mira.body(book, vega.me(book), oplog.DocID{5}, 1); got != "before" {
		t.Fatalf("mira reads %q %v", got, status)
	}
	if got, status, d := mira.body(book, mira.me(book), oplog.DocID{6}, 1); got != "never shared" || d.Share != replica.Refused {
		t.Fatalf("mira's own: %q %v %v", got, status, d.Share)
	}
	if got, status, _ := lyra.body(book, vega.me(book), oplog.DocID{5}, 2); got != "after" {
		t.Fatalf("lyra reads %q %v", got, status)
	}
	if got, status, _ := vega.body(book, lyra.me(book), oplog.DocID{7}, 1); got != "written under the old key" {
		t.Fatalf("vega reads %q %v", got, status)
	}
	w.same(book, vega, lyra)
	mira.must(mira.r.Discard(mira.clock(), mira.r.Refused()[0].ID))
	w.pass(100)
	if len(mira.r.Refused()) != 0 {
		t.Fatal("discarded, and still there")
	}
	if _, err := mira.r.Put(mira.clock(), replica.PutArgs{Book: book}); code(err) != "not-a-member" {
		t.Fatalf("a removed member writes: %v", err)
	}
}

// After somebody left, an organiser's phone makes a new epoch of itself.
func TestLeaving_REPLICA_19(t *testing.T) {
	w := newWorld(t)
	vega, mira := w.phone("vega"), w.phone("mira")
	book := w.found(vega, mira)
	before := vega.r.Club(book).Epoch().ID
	if _, err := vega.r.Leave(vega.clock(), book); code(err) != "last-organiser" {
		t.Fatalf("the last organiser leaves: %v", err)
	}
	mira.must(mira.r.Leave(mira.clock(), book))
	w.pass(5000)
	if vega.r.Club(book).Epoch().ID == before || vega.r.Club(book).EpochDue() {
		t.Fatal("no new epoch")
	}
	if s := mira.info(book).Status; s != replica.StatusRemoved {
		t.Fatalf("mira thinks %v", s)
	}
	w.quiet(vega)
}

// A flight closes at its time although nobody says anything.
func TestClosingTime_REPLICA_19(t *testing.T) {
	w := newWorld(t)
	vega, mira := w.phone("vega"), w.phone("mira")
	book := w.found(vega, mira)
	flight, ticket, err := vega.r.Flight(vega.clock(), book, replica.FlightArgs{Closes: w.now + 60_000})
	vega.must(ticket, err)
	sample, ticket, err := vega.r.SealSample(vega.clock(), book, replica.SampleArgs{Flight: flight, Code: 300, Answer: []byte("a")})
	vega.must(ticket, err)
	vega.must(vega.r.Unseal(vega.clock(), book, []oplog.SampleID{sample}))
	w.pass(59_000)
	if info, _ := mira.r.Club(book).Sample(sample); info.ClosedPos != 0 {
		t.Fatal("closed too early")
	}
	w.pass(5_000)
	info, _ := mira.r.Club(book).Sample(sample)
	if info.ClosedHow != club.ClosedByTime || info.Private == nil {
		t.Fatalf("closed how: %v, unsealed at %d", info.ClosedHow, info.UnsealedPos)
	}
	w.quiet(vega, mira)
}

// Spent, expired and revoked invitations, and a link that makes no sense, are told apart.
func TestJoinThatFails_REPLICA_15(t *testing.T) {
	w := newWorld(t)
	vega, mira, lyra := w.phone("vega"), w.phone("mira"), w.phone("lyra")
	book := w.found(vega)
	invite := func(uses uint16, expires int64) string {
		link, ticket, err := vega.r.Invite(vega.clock(), book, club.Taster, uses, expires)
		vega.must(ticket, err)
		w.pass(1000)
		return link
	}
	try := func(p *phone, link string) string {
		id, ticket, err := p.r.Join(p.clock(), link, host)
		p.must(ticket, err)
		w.pass(5000)
		for _, j := range p.r.Joining() {
			if j.Book == id {
				return j.Code
			}
		}
		return ""
	}
	if _, _, err := mira.r.Join(mira.clock(), "no link", host); code(err) != "link-damaged" {
		t.Fatal(err)
	}
	once := invite(1, w.now+1e9)
	if got := try(mira, once); got != "" {
		t.Fatalf("mira: %s", got)
	}
	if got := try(lyra, once); got != "invite-spent" {
		t.Fatalf("spent: %q", got)
	}
	short := invite(5, w.now+5_000)
	w.pass(10_000)
	if got := try(lyra, short); got != "invite-expired" {
		t.Fatalf("expired: %q", got)
	}
	gone := invite(5, w.now+1e9)
	invites := vega.r.Club(book).Invites()
	vega.must(vega.r.Revoke(vega.clock(), book, invites[len(invites)-1].Body.Key))
	w.pass(1000)
	if got := try(lyra, gone); got != "invite-revoked" {
		t.Fatalf("revoked: %q", got)
	}
	if got := try(lyra, invite(5, w.now+1e9)); got != "" {
		t.Fatalf("a good one after all: %q", got)
	}
	w.same(book, vega, mira, lyra)
}

// A join whose club is not on the server yet waits for it.
func TestJoinBeforeTheClubIsThere_REPLICA_15(t *testing.T) {
	w := newWorld(t)
	vega, mira := w.phone("vega"), w.phone("mira")
	w.pass(1000)
	vega.goOffline()
	book, ticket, err := vega.r.CreateClub(vega.clock(), host)
	vega.must(ticket, err)
	link, ticket, err := vega.r.Invite(vega.clock(), book, club.Taster, 5, w.now+1e9)
	vega.must(ticket, err)
	_, ticket, err = mira.r.Join(mira.clock(), link, host)
	mira.must(ticket, err)
	w.pass(5000)
	if j := mira.r.Joining(); len(j) != 1 || j[0].State != replica.JoinWaiting {
		t.Fatalf("mira: %+v", j)
	}
	mira.crash(99)
	vega.goOnline()
	w.pass(60_000)
	if mira.me(book) == (oplog.MemberID{}) {
		t.Fatalf("mira is not in: %+v", mira.r.Joining())
	}
	w.same(book, vega, mira)
}
