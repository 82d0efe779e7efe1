package app

import (
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

// mostTaken is how many records are taken at a time.
const mostTaken = 100

// taking is one record of a file on its way in. All of a batch are checked before the first is written, since a command that
// still has to read something must not have written anything.
type taking struct {
	write   func() *Error // nil: nothing is to be written
	known   bool
	gone    bool
	history bool
	less    bool
}

// dataTake checks records as if they were typed, and keeps those that are not here yet.
func (a *App) dataTake(args DataTake) (out DataTaken, err *Error) {
	if err := tooMany("records", len(args.Records), mostTaken); err != nil {
		return out, err
	}
	batch := make([]taking, len(args.Records))
	seen := map[string]bool{}
	for i, raw := range args.Records {
		taken, err := a.takeRecord(raw, seen)
		if err != nil && err != errReading {
			out.Refused = append(out.Refused, DataRefused{Index: i, Error: err})
		}
		batch[i] = taken
	}
	if a.watches.reading {
		return DataTaken{}, errReading
	}
	for i, taken := range batch {
		if taken.write != nil {
			if err := taken.write(); err != nil {
				out.Refused = append(out.Refused, DataRefused{Index: i, Error: err})
				continue
			}
		}
		out.count(taken)
	}
	return out, nil
}

func (t *DataTaken) count(one taking) {
	add := func(to *int, yes bool) {
		if yes {
			*to++
		}
	}
	took := one.write != nil
	add(&t.Taken, took)
	add(&t.Known, one.known)
	add(&t.Gone, one.gone)
	add(&t.History, took && one.history)
	add(&t.Less, took && one.less)
}

// takeRecord looks at one record.
func (a *App) takeRecord(raw codec.Raw, seen map[string]bool) (taking, *Error) {
	record, less, err := decodeRecord(raw)
	if err != nil {
		return taking{}, err
	}
	key, taken, err := a.takeKind(&record)
	if err != nil {
		return taking{}, err
	}
	if seen[key] {
		return taking{known: true}, nil
	}
	seen[key], taken.less = true, less
	return taken, nil
}

// decodeRecord reads a record. Less says that it has fields which this version does not know.
func decodeRecord(raw codec.Raw) (record DataRecord, less bool, err *Error) {
	if codec.Unmarshal(raw, &record) == nil {
		return record, false, nil
	}
	record = DataRecord{}
	if codec.UnmarshalOpen(raw, &record) != nil {
		return record, false, refuse(CodeImpossible, "", "a field of it holds something that cannot stand there")
	}
	return record, true, nil
}

func (a *App) takeKind(record *DataRecord) (key string, taken taking, err *Error) {
	switch {
	case record.Kind == "brew" && record.Brew != nil:
		taken, err = a.takeBrew(record.Brew)
		return "brew " + record.Brew.ID, taken, err
	case record.Kind == "cup" && record.Cup != nil:
		taken, err = a.takeCup(record.Cup)
		return "cup " + record.Cup.Of.Club + record.Cup.Of.Sample, taken, err
	case record.Kind == "home" && record.Home != nil:
		taken, err = a.takeHome(record.Home)
		return "home", taken, err
	}
	return a.takeItem(record)
}

// takeCup keeps a cup as history, unless one is in its club: then it is there.
func (a *App) takeCup(cup *DataCup) (taken taking, err *Error) {
	book, err := id[oplog.BookID]("of.club", cup.Of.Club)
	sample, bad := id[oplog.SampleID]("of.sample", cup.Of.Sample)
	if err = first(err, bad, cup.check()); err != nil {
		return taken, err
	}
	if info, ok := a.bookInfo(book); ok {
		c := a.withState(info)
		if _, ok := c.State.Sample(sample); ok {
			return taking{known: true}, nil
		}
	}
	doc := historyDoc(book, sample)
	if part, ok := a.replica.Doc(a.notebook(), a.mine(a.notebook(), doc, partHistory)); ok {
		return taking{known: !part.Erased, gone: part.Erased}, nil
	}
	return taking{history: true, write: func() *Error {
		return a.write(a.notebook(), doc, partHistory, replica.UnderEpoch, historyContent{Cup: *cup})
	}}, nil
}

// check refuses what no cup could be. Nodes are not looked up: another version's atlas has others, and history is only shown.
func (cup *DataCup) check() *Error {
	err := first(text("clubName", &cup.ClubName, mostTitle, false), cup.Of.check(), oneOf("keeps", cup.Keeps, "DataKeeps"),
		within("grams", cup.Grams, 0, 2000), tooMany("first", len(cup.First), 20), tooMany("guess", len(cup.Guess), 20),
		checkTime("opened", cup.Opened), checkNotes(cup.Noticed))
	if err == nil && cup.Declared != nil && cup.Declared.Choice != "" {
		err = cup.Declared.check()
	}
	return err
}

func (of *DataOf) check() *Error {
	return first(text("of.title", &of.Title, mostTitle, false), within("of.code", of.Code, 0, 999))
}

func checkNotes(notes []DataNote) *Error {
	err := tooMany("noticed", len(notes), mostNoticed)
	for i, n := range notes {
		field := "noticed." + decimal(i)
		err = first(err, oneOf(field+".stage", n.Stage, "CupStage"), checkTime(field+".at", n.At), tooMany(field+".words", len(n.Words), mostNoticedWords))
	}
	return err
}

// checkTime refuses what is no moment between 1970 and 2200.
func checkTime(field string, millis int64) *Error {
	if millis < 0 || millis > 230*366*day {
		return refuse(CodeImpossible, field, "this is no time")
	}
	return nil
}
