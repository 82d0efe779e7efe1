package e2e

import (
	"encoding/hex"
	"strconv"
	"testing"

	"hushcup/e2e/browser"
	"hushcup/e2e/handmade"
	"hushcup/e2e/native"
	"hushcup/e2e/proc"
	"hushcup/pwa/app"
	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/wire"
)

// A keeper's phone that does not wait for the close publishes the sample's key while
// guesses still come in. That closes the sample for everybody, and all other phones say
// that it was opened early: a guess that was in scores, one that comes after is late.
func TestASampleThatItsKeeperOpensEarly(t *testing.T) {
	server := proc.Start(t)
	e := newEvening(t, server)
	k := keepersPhone(t, server)
	mira, lyra := e.phone("mira"), e.phone("lyra")
	join(mira, k.link, "Mira")
	join(lyra, k.link, "Lyra")
	path := "/sample/" + k.club + "/" + k.sample
	guess(mira, path, "Washed", "60")
	lyra.Open(path)
	lyra.See("Say what you think")
	guessesIn(t, k, 1)

	k.lies(t, server)

	mira.Follow(path + "/open")
	mira.See("opened early, which closed it")
	mira.See("Its keeper opened it before the close.")
	mira.See("Guji")
	mira.Shot("opened early")
	mira.Axe()
	scored(t, mira, "you")
	lyra.Follow(path + "/open")
	lyra.See("Keep " + k.code + " closed for me?")
	lyra.See("Its keeper opened it before the close.")
	if lyra.Sees("Guji") {
		t.Errorf("the answer shows to who has not guessed: %s", lyra.Text())
	}
	lyra.Shot("opened early, and asked")
	lateAfterEarly(lyra)
	mira.Follow("/flights/" + k.club + "/" + k.flight)
	mira.See("opened early")
	seeCells(t, mira, "Who has guessed", "Lyra", "late")
	mira.Shot("flight with one opened early")
}

// lateAfterEarly guesses on what was opened early: late, like any guess after a close.
func lateAfterEarly(p *browser.Phone) {
	p.Tap("Keep it closed")
	p.See("Say what you think")
	p.Tap("Say what you think")
	say(p, "40", "Natural")
	p.Tap("Seal this guess")
	p.See("Change your guess")
	p.See("late")
	p.See("opened early, which closed it")
}

// keeper is the phone of an organiser who keeps a sample. It is no browser, so that
// its secrets can be taken out of it.
type keeper struct {
	*native.Phone
	disk                 *native.Disk
	club, flight, sample string
	code                 string
	link                 string
}

func keepersPhone(t *testing.T, server *proc.Server) *keeper {
	t.Helper()
	k := &keeper{disk: native.NewDisk()}
	k.Phone = native.Open(server.URL(""), k.disk)
	t.Cleanup(k.Close)
	must[app.Nothing](t, k.Phone, app.CmdNotebookName, app.NotebookName{Name: "Vega"})
	k.club = must[app.ClubCreated](t, k.Phone, app.CmdClubCreate, app.ClubCreate{Name: "Observatory"}).Club
	k.flight = must[app.FlightCreated](t, k.Phone, app.CmdFlightCreate, app.FlightCreate{Club: k.club, Title: "First light"}).Flight
	sealed := must[app.SampleSealed](t, k.Phone, app.CmdSampleSeal, app.SampleSeal{
		Club: k.club, Flight: k.flight, Grams: 60, Declared: app.Declared{Choice: "nothing"},
		Answer: app.Answer{Lot: "Comet Ridge",
			Origin:  &app.Known{Nodes: []string{"origin/africa/ethiopia/guji"}, Source: "label"},
			Process: &app.Known{Nodes: []string{"process/washed"}, Source: "label"},
		},
	})
	k.sample, k.code = sealed.Sample, strconv.Itoa(sealed.Code)
	k.link = must[app.ClubInvited](t, k.Phone, app.CmdClubInvite, app.ClubInvite{Club: k.club, Role: "taster", Uses: 6, Days: 7}).Link
	if _, err := native.See(k.Phone, app.ViewSync, nil, func(v app.SyncView) bool { return v.Mark == "shared" }); err != nil {
		t.Fatal(err)
	}
	return k
}

// lies writes the unseal in the keeper's name, without a close before it.
func (k *keeper) lies(t *testing.T, server *proc.Server) {
	t.Helper()
	k.Close()
	stored := map[string][]byte{}
	for _, record := range k.disk.Records() {
		stored[record.Key] = record.Value
	}
	stolen, err := handmade.Steal(stored)
	if err != nil {
		t.Fatal(err)
	}
	conn := connect(t, server, stolen.Device)
	id := bookNamed(t, k.club)
	book, ops, err := stolen.Book(conn, id)
	if err != nil {
		t.Fatal(err)
	}
	body := club.UnsealBody{Keys: []club.SampleKey{k.key(t, stolen, id, ops)}}
	unseal := book.Op(now(), oplog.Unseal, oplog.DocID{}, 0, nil, codec.MustMarshal(&body))
	answer := push(t, conn, book.Sign(unseal))
	if _, taken := answer.(*wire.Ack); !taken {
		t.Fatalf("the server answers an unseal before the close with %T: %+v", answer, answer)
	}
}

func bookNamed(t *testing.T, name string) (id oplog.BookID) {
	t.Helper()
	if n, err := hex.Decode(id[:], []byte(name)); err != nil || n != len(id) {
		t.Fatalf("%q names no book: %v", name, err)
	}
	return id
}

// must carries out a command that is to succeed.
func must[R any](t *testing.T, p *native.Phone, name string, args any) R {
	t.Helper()
	result, err := native.Do[R](p, name, args)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return result
}

// key finds the sample among what was ordered, and the private half of its key.
func (k *keeper) key(t *testing.T, stolen handmade.Stolen, book oplog.BookID, ops []oplog.Op) club.SampleKey {
	t.Helper()
	for i := range ops {
		var sealed club.SampleBody
		if ops[i].Kind != oplog.Sample || codec.Unmarshal(ops[i].Body, &sealed) != nil {
			continue
		}
		private, err := stolen.Private(book, sealed.ID, sealed.Key)
		if err != nil {
			t.Fatal(err)
		}
		return club.SampleKey{Sample: sealed.ID, Private: private}
	}
	t.Fatal("no sample was ordered")
	return club.SampleKey{}
}

// guessesIn waits until the keeper's phone knows of so many guesses: no more than that
// was ordered before the unseal.
func guessesIn(t *testing.T, k *keeper, count int) {
	t.Helper()
	params := app.SampleParams{Club: k.club, Sample: k.sample}
	if _, err := native.See(k.Phone, app.ViewSample, params, func(v app.SampleView) bool { return v.Guessed == count }); err != nil {
		t.Fatal(err)
	}
}
