package e2e

import (
	"database/sql"
	"encoding/base64"
	"encoding/hex"
	"path/filepath"
	"strings"
	"testing"

	_ "github.com/lib/pq"
	_ "modernc.org/sqlite"

	"hushcup/e2e/browser"
	"hushcup/e2e/canary"
	"hushcup/e2e/postgres"
	"hushcup/e2e/proc"
	"hushcup/sync/codec"
	"hushcup/sync/seal"
)

// TestTheServerHoldsNoSecret plays a sealed flight with real phones, and then looks for everything that the server must
// not know in all that it has: its database as rows and as files, a dump, its log, and every frame that it was sent. Once
// before the unsealing, and once after it.
func TestTheServerHoldsNoSecret(t *testing.T) {
	t.Run("SQLite", func(t *testing.T) {
		server := proc.Start(t)
		holdsNoSecret(t, server, func(search *search) {
			search.rows("sqlite", server.SQLite(), canary.TablesOfSQLite)
			search.folder(server.Folder(), nil)
		})
	})
	t.Run("PostgreSQL", func(t *testing.T) {
		cluster := postgres.Shared(t)
		dsn := cluster.Fresh(t)
		holdsNoSecret(t, proc.Start(t, "-database", dsn), func(search *search) {
			search.rows("postgres", dsn, canary.TablesOfPostgreSQL)
			search.data("the dump", cluster.Dump(t, dsn))
			cluster.Checkpoint(t)
			search.folder(cluster.Folder(), func(path string) bool { return strings.HasSuffix(path, ".pid") })
		})
	})
}

// search looks through what the server has, with two nets: secrets that must not be there, and a key that must, or the
// search looks in the wrong place.
type search struct {
	t               *testing.T
	secret, planted *canary.Net
	sawPlanted      bool
}

func (s *search) report(where string, found []canary.Finding, err error) {
	s.t.Helper()
	if err != nil {
		s.t.Fatalf("search %s: %v", where, err)
	}
	for _, f := range found {
		s.t.Errorf("the server holds a secret: %s", f)
	}
}

func (s *search) data(where string, data []byte) {
	s.report(where, s.secret.Search(where, data), nil)
	s.sawPlanted = s.sawPlanted || len(s.planted.Search(where, data)) > 0
}

func (s *search) rows(driver, source, tables string) {
	db, err := sql.Open(driver, source)
	if err != nil {
		s.t.Fatal(err)
	}
	defer db.Close()
	found, _, err := s.secret.SearchRows(db, tables)
	s.report("rows", found, err)
	planted, _, err := s.planted.SearchRows(db, tables)
	s.report("rows", nil, err)
	if len(planted) == 0 {
		s.t.Error("the rows do not even hold a device's public key: the search looks in the wrong place")
	}
}

func (s *search) folder(folder string, leave func(string) bool) {
	found, searched, err := s.secret.SearchFolder(folder, leave)
	s.report(folder, found, err)
	if searched == 0 {
		s.t.Errorf("nothing was read below %s", folder)
	}
	planted, _, err := s.planted.SearchFolder(folder, leave)
	s.report(folder, nil, err)
	if len(planted) == 0 {
		s.t.Errorf("the files of %s do not even hold a device's public key", filepath.Base(folder))
	}
}

func holdsNoSecret(t *testing.T, server *proc.Server, look func(*search)) {
	e := newEvening(t, server)
	altair, deneb := e.phone("altair"), e.phone("deneb")
	phones := []*browser.Phone{altair, deneb}
	for _, p := range phones {
		p.Line.Record()
		p.Reload() // what the first connection carried was not recorded; the second one is
	}
	club := beginClub(altair, "Zodiacal light table", "Altair of the dome")
	link, _ := invite(altair, club)
	join(deneb, link, "Deneb of the road")
	flight := beginFlight(altair, club, "Perihelion flight")
	code := sealSample(altair, flight, firstLot)
	sample := openSample(deneb, flight, code)
	brewQuickly(deneb, code)
	deneb.Open(sample)
	deneb.Open(sample + "/guess")
	question(deneb, "Where from")
	say(deneb, "75", "Africa and Arabia", "Ethiopia")
	deneb.Tap("Seal this guess")
	deneb.See("in before the close")

	s := &search{t: t, secret: canary.New(), planted: canary.New()}
	addTexts(s, "Zodiacal light table", "Altair of the dome", "Deneb of the road", "Perihelion flight",
		firstLot.name, firstLot.producer, firstLot.note, "ethiopia", "washed", "tastes of cold starlight")
	addKeys(s, altair, deneb, sample, link)
	lookAround(s, server, phones, look)

	altair.Open(flight)
	altair.Tap("Close now")
	altair.In("Close now").Tap("Close now")
	altair.See("closed, not yet unsealed")
	altair.Tap("Unseal all that you can")
	altair.In("Unseal all that you can").Tap("Unseal all that you can")
	altair.See("Ethiopia, Guji")
	deneb.Open(sample + "/open")
	deneb.See("The table")
	after := &search{t: t, secret: s.secret.Without("a sample's private key"), planted: s.planted}
	lookAround(after, server, phones, look)
}

// brewQuickly brews the sample that is open, and writes a note.
func brewQuickly(p *browser.Phone, code string) {
	p.Tap("Look, smell, and guess in ten seconds")
	p.See(code + ", by eye and nose")
	say(p, "70", "Washed")
	p.Tap("Keep this first look")
	p.Tap("Brew it")
	p.Tap("I have read this")
	p.Fill("Dose", "12")
	p.Fill("Water", "200")
	p.Tap("To the clock")
	p.Hold("Hold to start the clock", held)
	p.Hold("The bed is dry: stop", held)
	p.Fill("Drawdown", "2:30")
	p.Fill("What you noticed", "tastes of cold starlight")
	p.Tap("Save the brew")
	p.See("tastes of cold starlight")
	p.See("shared")
}

func addTexts(s *search, texts ...string) {
	for _, text := range texts {
		if err := s.secret.AddText(text, text); err != nil {
			s.t.Fatal(err)
		}
	}
}

// addKeys takes the keys out of the phones' own storage, and derives from them what the phones derive.
func addKeys(s *search, keeper, taster *browser.Phone, samplePath, link string) {
	add := func(name string, secret []byte) {
		if err := s.secret.Add(name, secret); err != nil {
			s.t.Fatal(err)
		}
	}
	invitation, err := seal.ParseInvite(link)
	if err != nil {
		s.t.Fatal(err)
	}
	add("an invitation's secret", invitation.Secret[:])
	at := strings.Split(samplePath, "/") // /sample/CLUB/SAMPLE
	club, sample := [32]byte(unhex(s.t, at[2])), [16]byte(unhex(s.t, at[3]))
	for _, p := range []*browser.Phone{keeper, taster} {
		epochs := 0
		for key, value := range records(s.t, p) {
			switch {
			case key == "own/phone":
				identity := identityOf(s.t, value)
				add("a device's signing seed", identity.SignSeed[:])
				add("a device's X25519 key", identity.BoxSeed[:])
				public := identity.Public()
				if err := s.planted.Add("a device's public key", public.Sign[:]); err != nil {
					s.t.Fatal(err)
				}
			case strings.HasPrefix(key, "log/") && strings.HasSuffix(key, "/keys"):
				var keys []seal.Key
				if err := codec.Unmarshal(value, &keys); err != nil {
					s.t.Fatal(err)
				}
				for _, epoch := range keys {
					epochs++
					add("an epoch key", epoch[:])
					envelope, pair := seal.Envelope(epoch, club, sample), seal.SampleFor(epoch, club, sample)
					add("an envelope", envelope[:])
					add("a sample's private key", pair.Private[:])
				}
			}
		}
		if epochs < 2 {
			s.t.Fatalf("%s: %d epoch keys were found, of its notebook and its club", p.Name(), epochs)
		}
	}
}

func identityOf(t *testing.T, value []byte) seal.Identity {
	t.Helper()
	var fields []codec.Raw // the two seeds come first, whatever follows them
	if err := codec.Unmarshal(value, &fields); err != nil || len(fields) < 2 {
		t.Fatalf("the phone's own record does not decode: %v", err)
	}
	var identity seal.Identity
	for i, seed := range []*[32]byte{&identity.SignSeed, &identity.BoxSeed} {
		if err := codec.Unmarshal(fields[i], seed); err != nil {
			t.Fatalf("field %d of the phone's own record is no seed: %v", i, err)
		}
	}
	return identity
}

// records reads a phone's storage, as somebody could who has the phone.
func records(t *testing.T, p *browser.Phone) map[string][]byte {
	t.Helper()
	var stored map[string]string
	err := p.Eval(`new Promise((resolve, reject) => {
		const open = indexedDB.open("hushcup");
		open.onerror = () => reject(open.error);
		open.onsuccess = () => {
			const found = {}, cursor = open.result.transaction("records").objectStore("records").openCursor();
			cursor.onsuccess = () => {
				const at = cursor.result;
				if (!at) { open.result.close(); resolve(found); return; }
				found[at.key] = btoa(String.fromCharCode(...at.value));
				at.continue();
			};
		};
	})`, &stored)
	if err != nil {
		t.Fatal(err)
	}
	values := map[string][]byte{}
	for key, text := range stored {
		value, err := base64.StdEncoding.DecodeString(text)
		if err != nil {
			t.Fatal(err)
		}
		values[key] = value
	}
	return values
}

// lookAround searches everything that the server has or was sent.
func lookAround(s *search, server *proc.Server, phones []*browser.Phone, look func(*search)) {
	s.data("the server's log", []byte(server.Log()))
	s.sawPlanted = false
	for _, p := range phones {
		frames, err := p.Line.Sent()
		if err != nil || len(frames) == 0 {
			s.t.Fatalf("%s: %d frames were recorded: %v", p.Name(), len(frames), err)
		}
		for _, frame := range frames {
			s.data("a frame of "+p.Name(), frame)
		}
	}
	if !s.sawPlanted {
		s.t.Error("the frames do not even hold a device's public key: nothing was recorded")
	}
	look(s)
}

func unhex(t *testing.T, text string) []byte {
	t.Helper()
	b, err := hex.DecodeString(text)
	if err != nil {
		t.Fatal(err)
	}
	return b
}
