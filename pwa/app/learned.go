package app

import (
	"cmp"
	"slices"

	"hushcup/pwa/core/atlas"
	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

// learned keeps what one's own scored guesses came to, so that Practice opens without opening and scoring all of them anew:
// after an unsealing neither the answer nor the guess that scores can change. On the disk it is one record, read when it is
// first asked for:
//
//	cold/app/learned    learnedRecord
//
// What it says counts only under the same atlas, and for the very guess that it names; losing it loses nothing.
type learned struct {
	state   learnedState
	results map[sampleRef]learnedResult
	unsaved bool
	writing bool
}

type learnedState uint8

const (
	learnedUnread learnedState = iota
	learnedReading
	learnedReady
)

const (
	learnedVersion = 1
	learnedKey     = ownColdKeys + "learned"
)

type learnedRecord struct {
	Version uint8           `cbor:"1,keyasint"`
	Atlas   oplog.Hash      `cbor:"2,keyasint"`
	Results []learnedResult `cbor:"3,keyasint"`
}

// learnedResult is what a guess of one's own came to. Bits are thousandths.
type learnedResult struct {
	_       struct{} `cbor:",toarray"`
	Book    oplog.BookID
	Sample  oplog.SampleID
	Guess   oplog.Time // of the guess that scores
	FirstAt oplog.Time // of the ten-second guess, 0 for none
	Status  string
	Placed  bool // it has a total
	Total   int
	Both    bool // the ten-second guess has one, too
	First   int
	Was     []TopNode
	Said    []TopNode
}

// ready reads the record, the first time; until it came nothing is computed that may stand in it.
func (l *learned) ready(a *App) bool {
	switch l.state {
	case learnedUnread:
		l.state = learnedReading
		a.readOwn(learnedKey, "", func(found []StoredRecord) { l.load(found) })
		a.watches.reading = true
	case learnedReading:
		a.watches.reading = true
	}
	return l.state == learnedReady
}

func (l *learned) load(found []StoredRecord) {
	l.state, l.results = learnedReady, map[sampleRef]learnedResult{}
	for _, stored := range found {
		var record learnedRecord
		if codec.UnmarshalOpen(stored.Value, &record) != nil || record.Version != learnedVersion ||
			record.Atlas != oplog.Hash(atlas.Builtin().Hash()) {
			continue
		}
		for _, r := range record.Results {
			l.results[sampleRef{r.Book, r.Sample}] = r
		}
	}
}

// save writes what is new. A write that fails is tried with the next result.
func (l *learned) save(a *App) {
	if !l.unsaved || l.writing {
		return
	}
	record := learnedRecord{Version: learnedVersion, Atlas: oplog.Hash(atlas.Builtin().Hash())}
	for _, r := range l.results {
		record.Results = append(record.Results, r)
	}
	slices.SortFunc(record.Results, func(x, y learnedResult) int {
		return cmp.Or(slices.Compare(x.Book[:], y.Book[:]), slices.Compare(x.Sample[:], y.Sample[:]))
	})
	l.unsaved, l.writing = false, true
	a.persistOwn([]StoredRecord{{Key: learnedKey, Value: codec.MustMarshal(&record)}}, nil, func(bool) { l.writing = false })
}

// learn is what this person's guess at an opened sample came to; false while something of it is still being read.
func (a *App) learn(c *clubBook, f club.FlightInfo, s club.SampleInfo) (learnedResult, bool) {
	ref := sampleRef{c.ID, s.Body.ID}
	fresh := learnedResult{Book: c.ID, Sample: s.Body.ID}
	if g, guessed := c.Ordered.Guess(s.Body.ID, c.Member); guessed && g.Scoring != nil {
		fresh.Guess = g.Scoring.Time
	}
	if dry, ok := a.replica.Doc(c.ID, a.mine(c.ID, oplog.GuessDoc(s.Body.ID, c.Member), partFirstGuess)); ok {
		fresh.FirstAt = dry.Time
	}
	if r, ok := a.learned.results[ref]; ok && r.Guess == fresh.Guess && r.FirstAt == fresh.FirstAt {
		return r, true
	}
	if !a.compute(&fresh, c, f, s) {
		return fresh, false
	}
	if fresh.Status == "scored" {
		a.learned.results[ref] = fresh
		a.learned.unsaved = true
	}
	return fresh, true
}

func (a *App) compute(r *learnedResult, c *clubBook, f club.FlightInfo, s club.SampleInfo) bool {
	o := a.opening(c, f, s)
	if o.status == "reading" {
		return false
	}
	me := a.person(&o, c.Member)
	r.Status, r.Was = me.Status, wasNodes(&o.answer)
	if me.Joint != nil {
		r.Placed, r.Total, r.Said = true, int(me.Result.Total), topNodes(&o, &me)
	}
	if r.FirstAt == 0 || me.Status != "scored" {
		return true
	}
	dry, ok := a.firstImpression(&o, c.Member)
	r.Both, r.First = ok, int(dry.Result.Total)
	return ok || !a.loading(c, s)
}

// loading says whether the ten-second guess is still being read.
func (a *App) loading(c *clubBook, s club.SampleInfo) bool {
	_, status := a.readPlain(c.ID, a.mine(c.ID, oplog.GuessDoc(s.Body.ID, c.Member), partFirstGuess))
	return status == replica.BodyLoading
}
