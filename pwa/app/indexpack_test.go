package app

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"hushcup/sync/codec"
	"pgregory.net/rapid"
)

// packedPhone is a phone with a disk that can lose its last writes, and timers that fire when a test lets them.
type packedPhone struct {
	t      *rapid.T
	app    *App
	disk   map[string][]byte
	timers map[string]bool
	done   int // writes that stood on the disk
	now    int64
	result any               // of the last command
	notes  map[string]string // what each brew says, by its id: what a search must find
}

const packedStart = 1_790_000_000_000

func newPackedPhone(t *rapid.T) *packedPhone {
	p := &packedPhone{t: t, disk: map[string][]byte{}, now: packedStart, notes: map[string]string{}}
	p.start()
	return p
}

// start opens the app on what the disk holds, as after a crash.
func (p *packedPhone) start() {
	p.app, p.timers = New(rand.NewChaCha8([32]byte{1, byte(len(p.notes)), byte(p.done)})), map[string]bool{}
	records := p.read(func(key string) bool { return !strings.HasPrefix(key, "cold/") })
	p.step(Input{Kind: InStart, Origin: "https://hushcup.test", Records: records}, -1)
}

func (p *packedPhone) read(wanted func(string) bool) (found []StoredRecord) {
	for key, value := range p.disk {
		if wanted(key) {
			found = append(found, StoredRecord{Key: key, Value: value})
		}
	}
	slices.SortFunc(found, func(a, b StoredRecord) int { return strings.Compare(a.Key, b.Key) })
	return found
}

// step carries out what follows from an input; after so many writes the phone loses its power, and nothing more reaches the disk.
func (p *packedPhone) step(in Input, power int) (answer *Error, powered bool) {
	inputs := []Input{in}
	for len(inputs) > 0 {
		in, inputs = inputs[0], inputs[1:]
		p.now++
		in.Now = p.now
		for _, effect := range p.app.Step(in) {
			switch e := effect.(type) {
			case PersistEffect:
				if power == 0 {
					return nil, false
				}
				power--
				p.done++
				for _, put := range e.Puts {
					p.disk[put.Key] = put.Value
				}
				for _, key := range e.Deletes {
					delete(p.disk, key)
				}
				inputs = append(inputs, Input{Kind: InPersisted, Tx: e.Tx})
			case ReadEffect:
				found := p.read(func(key string) bool {
					return e.Prefix != "" && strings.HasPrefix(key, e.Prefix) || slices.Contains(e.Keys, key)
				})
				inputs = append(inputs, Input{Kind: InGot, ID: e.ID, Records: found})
			case TimerEffect:
				p.timers[e.Name] = e.After >= 0
			case DoneEffect:
				answer, p.result = e.Error, e.Result
			}
		}
	}
	return answer, true
}

func (p *packedPhone) command(name string, args any, power int) bool {
	err, powered := p.step(Input{Kind: InCommand, ID: 9, Name: name, Args: codec.MustMarshal(args)}, power)
	if err != nil {
		p.t.Fatalf("%s: %v", name, err)
	}
	return powered
}

// rest lets what waits for a quiet moment happen.
func (p *packedPhone) rest(power int) (powered bool) {
	for again := true; again; {
		again = false
		for _, name := range []string{timerIndex, timerSave, timerPack} {
			if p.timers[name] {
				p.timers[name], again = false, true
				if _, powered := p.step(Input{Kind: InTimer, Name: name}, power); !powered {
					return false
				}
			}
		}
	}
	return true
}

// found is what a search lists, of all pages.
func (p *packedPhone) found(s BrewSearch) (brews []string) {
	for range 3 { // until what it must read has come
		p.step(Input{Kind: InWatch, Watch: 1, View: ViewBrews, Args: codec.MustMarshal(BrewsParams{Limit: 40, Search: s})}, -1)
		p.step(Input{Kind: InTimer, Name: timerIndex}, -1)
	}
	for skip := 0; ; skip += 40 {
		v, err := p.app.lookBrews(BrewsParams{Limit: 40, Skip: skip, Search: s})
		if err != nil || !v.Ready {
			p.t.Fatalf("%+v: %v, ready %v", s, err, v.Ready)
		}
		for _, b := range v.Brews {
			brews = append(brews, b.Brew)
		}
		if len(brews) == v.Found {
			return brews
		}
	}
}

func (p *packedPhone) packedRecords() (count int) {
	for key := range p.disk {
		if strings.HasSuffix(key, packedName) {
			count++
		}
	}
	return count
}

var packedWords = []string{"bergamot", "dry", "jasmine", "sweet"}

// act does something to the notebook, at a moment of the last months.
func (p *packedPhone) act() {
	ids := make([]string, 0, len(p.notes))
	for id := range p.notes {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	pick := func() (BrewParams, bool) {
		if len(ids) == 0 {
			return BrewParams{}, false
		}
		return BrewParams{Book: p.app.notebook().String(), Brew: rapid.SampledFrom(ids).Draw(p.t, "brew")}, true
	}
	words := rapid.SampledFrom(packedWords).Draw(p.t, "words")
	power := rapid.SampledFrom([]int{-1, -1, -1, 0, 1, 2}).Draw(p.t, "power")
	switch rapid.SampledFrom([]string{"brew", "brew", "brew", "edit", "throw", "rest", "crash", "damage", "later"}).Draw(p.t, "act") {
	case "brew":
		for range rapid.IntRange(1, 6).Draw(p.t, "brews") {
			p.now += 3_600_000
			p.brew(words)
		}
	case "edit":
		if b, any := pick(); any {
			p.command(CmdBrewEdit, BrewEdit{Book: b.Book, Brew: b.Brew, Outcome: &BrewOutcome{Notes: words}}, -1)
			p.notes[b.Brew] = words
		}
	case "throw":
		if b, any := pick(); any {
			p.command(CmdBrewDiscard, BrewDiscard(b), -1)
			delete(p.notes, b.Brew)
		}
	case "rest":
		if !p.rest(power) {
			p.start()
		}
	case "crash":
		p.start()
	case "damage":
		p.damage()
	case "later":
		p.now += 12 * day
	}
}

func (p *packedPhone) brew(words string) {
	setup := BrewSetup{Coffee: "from the valley shop", Method: "drip", Brewer: "cone", Dose: 15, Ratio: 16, Kettle: 91}
	p.command(CmdBrewStart, BrewStart{Setup: setup}, -1)
	b := p.result.(BrewStarted)
	p.command(CmdBrewEdit, BrewEdit{Book: b.Book, Brew: b.Brew, Outcome: &BrewOutcome{Notes: words}}, -1)
	p.notes[b.Brew] = words
}

// damage hurts a packed record as no disk should.
func (p *packedPhone) damage() {
	for _, record := range p.read(func(key string) bool { return strings.HasSuffix(key, packedName) }) {
		p.disk[record.Key] = record.Value[:len(record.Value)*rapid.IntRange(0, 99).Draw(p.t, "hundredths")/100]
		break
	}
	p.start()
}

// A notebook that is packed, edited, thrown away from and crashed at any write answers every search as its brews say.
func TestPackedAnswersAsItsBrewsSay(t *testing.T) {
	packed := 0
	rapid.Check(t, func(t *rapid.T) {
		p := newPackedPhone(t)
		for range rapid.IntRange(5, 40).Draw(t, "acts") {
			p.act()
		}
		packed += p.packedRecords()
		for range 2 {
			p.found(BrewSearch{Words: "x"}) // what is missing is found to be
			p.rest(-1)
			for _, words := range append(packedWords, "") {
				var want []string
				for id, notes := range p.notes {
					if strings.HasPrefix(notes, words) {
						want = append(want, id)
					}
				}
				got := p.found(BrewSearch{Words: words})
				slices.Sort(want)
				slices.Sort(got)
				if fmt.Sprint(got) != fmt.Sprint(want) {
					t.Fatalf("%q finds %d, not %d", words, len(got), len(want))
				}
			}
			p.start()
		}
	})
	if packed == 0 {
		t.Error("nothing was ever packed")
	}
}

// An index of an older version is made anew, whatever lies beside it, and a month that was thrown away from on another device
// lists no more than is left.
func TestAnOlderIndexIsMadeAnew(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := newPackedPhone(t)
		for range 40 {
			p.now += 3_600_000
			p.brew("dry")
		}
		p.now += 60 * day
		p.found(BrewSearch{Words: "dry"})
		p.rest(-1)
		if p.packedRecords() == 0 {
			t.Fatal("nothing is packed")
		}
		older := byte(rapid.IntRange(0, indexVersion-1).Draw(t, "version"))
		p.now++
		for key, value := range p.disk {
			if strings.HasPrefix(key, brewKeys) {
				p.disk[key] = append([]byte{older}, value...)
			}
		}
		var bench benchRecord
		if err := codec.UnmarshalOpen(p.disk[benchKey], &bench); err != nil {
			t.Fatal(err)
		}
		bench.Version = older
		p.disk[benchKey] = codec.MustMarshal(bench)
		p.start()
		p.rest(-1)
		if got := p.found(BrewSearch{Words: "dry"}); len(got) != 40 {
			t.Fatalf("%d of 40 are found", len(got))
		}
	})
}

func TestABrewThrownAwayElsewhereLeavesItsMonth(t *testing.T) {
	a, records := storedBrews(300, true)
	bucket := a.index.bench.Buckets[1]
	a.index.pages = nil
	var found []StoredRecord
	for _, r := range records {
		if strings.HasPrefix(r.Key, bucketKeys(bucket)) {
			found = append(found, r)
		}
	}
	all := a.index.readPage(found)
	delete(a.index.known, all[3].ref)
	if left := a.index.readPage(found); len(left) != len(all)-1 || left[3].ref != all[4].ref {
		t.Errorf("%d of %d are left", len(left), len(all))
	}
	gone := StoredRecord{Key: all[5].key(), Value: []byte{indexVersion}}
	changed := *all[7].entry()
	changed.Facts.Text = " changed"
	found = []StoredRecord{{Key: all[7].key(), Value: changed.encode()}, gone, found[0]}
	if left := a.index.readPage(found); len(left) != len(all)-2 || left[5].text != " changed" {
		t.Errorf("%d of %d are left, with the words %q", len(left), len(all), left[5].text)
	}
}

func FuzzPacked(f *testing.F) {
	whole := page{filledEntry().line(), (&entry{}).line(), filledEntry().line()}.pack()
	for _, length := range []int{0, 1, 2, len(whole) / 2, len(whole) - 1, len(whole)} {
		f.Add(whole[:length])
	}
	f.Fuzz(func(t *testing.T, packed []byte) {
		p := unpack(packed)
		if again := unpack(p.pack()); len(again) != len(p) {
			t.Fatalf("%x reads as %d brews, and those as %d", packed, len(p), len(again))
		}
		for _, l := range p {
			l.head(new(entry))
			if e := l.entry(); e != nil && (e.ref() != l.ref || e.Created != l.created || e.Facts.Text != l.text) {
				t.Fatalf("%x is %+v and %+v", packed, l, e)
			}
		}
	})
}

// What a damaged record does not give any more is digested again.
func TestADamagedMonthHeals(t *testing.T) {
	a, records := storedBrews(300, true)
	a.index.pages = nil
	for i, r := range records {
		if i == 0 {
			r.Value = r.Value[:len(r.Value)/2]
		}
		for _, bucket := range a.index.bench.Buckets {
			if strings.HasPrefix(r.Key, bucketKeys(bucket)) {
				a.index.takePage(bucket, []StoredRecord{r})
			}
		}
	}
	a.index.heal()
	left := 0
	for _, p := range a.index.pages {
		left += len(p)
	}
	if missing := len(a.index.order); missing == 0 || left+missing != 300 {
		t.Errorf("%d brews are left, %d are digested again", left, missing)
	}
}
