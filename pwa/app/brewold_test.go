package app

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

// oldPhone is a phone in whose notebook a brew stands as a part of these bytes, written by another version.
type oldPhone struct {
	*App
	t    *testing.T
	disk map[string][]byte
	brew BrewParams

	refusals bool // a command may be refused
}

func phoneWith(t *testing.T, plain []byte) *oldPhone {
	t.Helper()
	p := &oldPhone{App: New(rand.NewChaCha8([32]byte{1})), t: t, disk: map[string][]byte{}}
	p.step(Input{Kind: InStart, Origin: "https://hushcup.test", Now: 1_790_000_000_000})
	doc := oplog.DocID{7}
	if _, err := p.replica.Put(p.now, replica.PutArgs{Book: p.notebook(), Doc: doc, Part: partBrew, Under: replica.UnderEpoch, Plain: plain}); err != nil {
		t.Fatal(err)
	}
	p.brew = BrewParams{Book: p.notebook().String(), Brew: doc.String()}
	p.step(Input{Kind: InTimer, Name: timerIndex})
	return p
}

// step gives the App an input and carries out what follows on the disk.
func (p *oldPhone) step(in Input) {
	p.t.Helper()
	inputs := []Input{in}
	for len(inputs) > 0 {
		in, inputs = inputs[0], inputs[1:]
		in.Now = max(in.Now, p.now)
		for _, effect := range p.Step(in) {
			switch e := effect.(type) {
			case PersistEffect:
				for _, put := range e.Puts {
					p.disk[put.Key] = put.Value
				}
				inputs = append(inputs, Input{Kind: InPersisted, Tx: e.Tx})
			case ReadEffect:
				inputs = append(inputs, Input{Kind: InGot, ID: e.ID, Records: p.read(e)})
			case DoneEffect:
				if e.Error != nil && !p.refusals {
					p.t.Fatal(e.Error)
				}
			}
		}
	}
}

func (p *oldPhone) read(e ReadEffect) (found []StoredRecord) {
	for key, value := range p.disk {
		if e.Prefix != "" && strings.HasPrefix(key, e.Prefix) || slices.Contains(e.Keys, key) {
			found = append(found, StoredRecord{Key: key, Value: value})
		}
	}
	slices.SortFunc(found, func(a, b StoredRecord) int { return strings.Compare(a.Key, b.Key) })
	return found
}

// oldBrew has the fields that a brew had before it named what of the Cupboard it used.
func oldBrew() map[int64]any {
	return map[int64]any{
		1: int64(1_780_000_000_000), 2: brewDone, 4: int64(1_780_000_000_000), 5: int64(1_780_000_150_000), 9: true,
		3: map[int64]any{1: "from the valley shop", 2: "drip", 3: "cone", 4: 15.0, 5: 240.0, 6: 16.0, 7: 91.0, 8: "conical", 9: "24", 10: "paper"},
		6: []any{[]any{"start", int64(0), 0.0}, []any{"pour", int64(30_000), 150.0}, []any{"end", int64(150_000), 0.0}},
		7: map[int64]any{1: []any{}, 2: 0.0, 3: 208.0, 4: 1.35, 5: ""},
		8: map[int64]any{1: int64(0), 2: int64(0), 3: uint64(0), 4: int64(150_000), 5: false},
	}
}

func TestAnOldBrewStillReads(t *testing.T) {
	a := phoneWith(t, codec.MustMarshal(oldBrew()))
	v, err := a.lookBrew(a.brew)
	if err != nil || v.State != "done" || v.Setup.Brewer != "cone" || v.Drawdown != 150 || !v.Counts || len(v.Marks) != 3 || v.Marks[1].Step != 0 {
		t.Fatalf("%v %+v", err, v)
	}
	if v.Yield == nil || v.Yield.Value < 18.6 || v.Yield.Value > 18.8 { // 1.35 % of 208 g to 15 g
		t.Errorf("the yield is %+v", v.Yield)
	}
	if v.Plan != nil || v.Parent != nil || v.Used.Brewer != nil || v.Held != 0 || v.Abandoned || v.Cooling != nil {
		t.Errorf("it has what it never had: %+v", v)
	}
	search := BrewsParams{Limit: 10, Search: BrewSearch{Words: "valley", Measured: true}}
	a.step(Input{Kind: InWatch, Watch: 1, View: ViewBrews, Args: codec.MustMarshal(search)})
	log, err := a.lookBrews(search)
	if err != nil || len(log.Brews) != 1 || !log.Ready {
		t.Errorf("the search: %v %+v", err, log)
	}
}

// What a later version wrote stays through every change that this one makes.
func TestFieldsOfALaterVersionStay(t *testing.T) {
	later := oldBrew()
	later[99] = "a word of a later version"
	a := phoneWith(t, codec.MustMarshal(later))
	b := a.brew
	v, _ := a.lookBrew(b)
	changed := v.Setup
	changed.Grind = "22"
	for name, command := range map[string]any{
		CmdBrewEdit:    BrewEdit{Book: b.Book, Brew: b.Brew, Setup: &changed, Outcome: &BrewOutcome{Notes: "dry"}},
		CmdBrewCount:   BrewCount{Book: b.Book, Brew: b.Brew},
		CmdBrewReading: BrewReading{Book: b.Book, Brew: b.Brew, Celsius: 60},
	} {
		a.step(Input{Kind: InCommand, ID: 9, Name: name, Args: codec.MustMarshal(command)})
		doc, _ := docID(b.Brew)
		part, _ := a.replica.Doc(a.notebook(), a.mine(a.notebook(), doc, partBrew))
		plain, _ := a.body(a.notebook(), part)
		var fields map[int64]codec.Raw
		if err := codec.UnmarshalOpen(plain, &fields); err != nil || string(fields[99]) != string(codec.MustMarshal(later[99])) {
			t.Errorf("after %s: %v %x", name, err, fields[99])
		}
	}
	if v, _ := a.lookBrew(b); v.Setup.Grind != "22" || v.Counts || len(v.Readings) != 1 {
		t.Errorf("the changes: %+v", v)
	}
}
