package replica_test

import (
	"testing"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
	"hushcup/sync/seal"
	"hushcup/sync/wire"
)

// An evening in six steps: found, seal, brew, guess, close and unseal, everything equal on all phones.
func TestEvening_REPLICA_1_REPLICA_7(t *testing.T) {
	w := newWorld(t)
	vega, mira, lyra, altair := w.phone("vega"), w.phone("mira"), w.phone("lyra"), w.phone("altair")
	book := w.found(vega, mira, lyra, altair)
	w.same(book, vega, mira, lyra, altair)

	flight, ticket, err := vega.r.Flight(vega.clock(), book, replica.FlightArgs{})
	vega.must(ticket, err)
	sample, ticket, err := vega.r.SealSample(vega.clock(), book, replica.SampleArgs{
		Flight: flight, Code: 417, Centigrams: 3600, Declared: []byte("no allergens"), Answer: []byte("washed, 1900 m"),
	})
	vega.must(ticket, err)
	w.pass(2000)
	second, ticket, err := mira.r.SealSample(mira.clock(), book, replica.SampleArgs{
		Flight: flight, Code: 905, Centigrams: 3600, Declared: []byte("none"), Answer: []byte("natural"),
		Holders: []oplog.MemberID{vega.me(book)},
	})
	mira.must(ticket, err)
	w.pass(2000)

	lyra.goOffline()
	lyra.put(book, 1, 3, replica.UnderEnvelope(sample), "15.0 g, 250 g, 94 °C")
	lyra.guess(book, sample, "washed, probably")
	lyra.guess(book, sample, "washed, surely")
	if s := lyra.r.OwnGuess(book, sample); s.Share != replica.OnDevice || s.Timing != replica.TimingOpen {
		t.Fatalf("offline: %+v", s)
	}
	w.rest()
	lyra.crash(99)
	altair.guess(book, sample, "natural")
	mira.guess(book, sample, "honey")
	w.pass(2000)
	if got, status := mira.readGuess(book, sample, altair.me(book)); status != replica.BodySealed {
		t.Fatalf("mira reads altair's guess before the unseal: %q %v", got, status)
	}
	if _, status := mira.r.Answer(book, sample); status != replica.BodySealed {
		t.Fatalf("mira reads the answer: %v", status)
	}
	if got, status := vega.r.Answer(book, second); status != replica.BodyReady || string(got) != "natural" {
		t.Fatalf("a named holder reads %q %v", got, status)
	}
	if got, status := altair.r.Declared(book, sample); status != replica.BodyReady || string(got) != "no allergens" {
		t.Fatalf("declaration: %q %v", got, status)
	}
	lyra.goOnline()
	w.pass(2000)
	if s := lyra.r.OwnGuess(book, sample); s.Share != replica.Shared {
		t.Fatalf("online: %+v", s)
	}
	vega.must(vega.r.Unseal(vega.clock(), book, []oplog.SampleID{sample, second}))
	if len(vega.r.Intentions()) != 2 {
		t.Fatalf("intentions: %v", vega.r.Intentions())
	}
	w.pass(1000)
	if info, _ := mira.r.Club(book).Sample(sample); info.Private != nil {
		t.Fatal("the key was published before the close")
	}
	vega.must(vega.r.Lock(vega.clock(), book, flight, nil))
	altair.goOffline()
	altair.guess(book, sample, "changed my mind")
	w.pass(3000)
	altair.goOnline()
	w.pass(3000)
	phones := []*phone{vega, mira, lyra, altair}
	w.same(book, phones...)
	w.quiet(phones...)
	for _, p := range phones {
		if got, status := p.r.Answer(book, sample); status != replica.BodyReady || string(got) != "washed, 1900 m" {
			t.Fatalf("%s reads the answer as %q %v", p.name, got, status)
		}
		for _, c := range []struct {
			who  *phone
			want string
		}{{lyra, "washed, surely"}, {altair, "natural"}, {mira, "honey"}} {
			if got, status := p.readGuess(book, sample, c.who.me(book)); status != replica.BodyReady || got != c.want {
				t.Fatalf("%s reads %s's guess as %q %v", p.name, c.who.name, got, status)
			}
		}
		if got, status, _ := p.body(book, lyra.me(book), oplog.DocID{1}, 3); status != replica.BodyReady || got != "15.0 g, 250 g, 94 °C" {
			t.Fatalf("%s reads lyra's brew as %q %v", p.name, got, status)
		}
		g, _ := p.r.Club(book).Guess(sample, altair.me(book))
		if g.Late == nil {
			t.Fatalf("%s does not show the late guess", p.name)
		}
	}
	if s := altair.r.OwnGuess(book, sample); s.Timing != replica.TimingLate {
		t.Fatalf("altair's late guess: %+v", s)
	}
	if g, _ := vega.r.Club(book).Guess(second, vega.me(book)); g.Scoring != nil {
		t.Fatal("a holder scores")
	}
	if len(vega.r.Intentions()) != 0 {
		t.Fatalf("intentions are left: %v", vega.r.Intentions())
	}
	for _, p := range phones {
		before := p.r.Club(book).Encode()
		p.crash(99)
		if string(before) != string(p.r.Club(book).Encode()) {
			t.Fatalf("%s forgot something over a restart", p.name)
		}
	}
	_ = club.Club
}

// What an organiser makes is on this phone, then on its way, then shared.
func TestWhatAnOrganiserMakesSaysHowFarItHasCome_REPLICA_4(t *testing.T) {
	w := newWorld(t)
	vega := w.phone("vega")
	book := w.found(vega)
	vega.goOffline()
	flight, ticket, err := vega.r.Flight(vega.clock(), book, replica.FlightArgs{})
	vega.must(ticket, err)
	sample, ticket, err := vega.r.SealSample(vega.clock(), book, replica.SampleArgs{
		Flight: flight, Code: 417, Centigrams: 3600, Declared: []byte("none"), Answer: []byte("washed"),
	})
	vega.must(ticket, err)
	text, ticket, err := vega.r.Invite(vega.clock(), book, club.Taster, 6, vega.clock()+86_400_000)
	vega.must(ticket, err)
	invitation, err := seal.ParseInvite(text)
	if err != nil {
		t.Fatal(err)
	}
	invite := oplog.DeviceID(invitation.Public())
	far := func(want replica.Share) {
		t.Helper()
		f, s, i := vega.r.FlightShare(book, flight), vega.r.SampleShare(book, sample), vega.r.InviteShare(book, invite)
		if f != want || s != want || i != want {
			t.Errorf("the flight is at %v, the sample at %v, the invitation at %v, not %v", f, s, i, want)
		}
	}
	far(replica.OnDevice)
	w.filter = func(_ *phone, f wire.Frame) wire.Frame {
		if _, answer := f.(*wire.Ack); answer {
			return nil
		}
		if entries, ok := f.(*wire.Entries); ok && len(entries.Runs) > 0 {
			return nil
		}
		return f
	}
	vega.goOnline()
	w.pass(2000)
	far(replica.OnItsWay)
	w.filter = nil
	vega.goOffline()
	vega.goOnline()
	w.pass(2000)
	far(replica.Shared)
}
