package app

import (
	"slices"
	"strings"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

// exported is one thing that a file carries, found again on the next page by its key.
type exported struct {
	key  string
	read func() (DataRecord, leftOut)
}

// leftOut is why something is not in a file.
type leftOut uint8

const (
	isThere  leftOut = iota
	isGone           // thrown away, or there is nothing to tell
	isGoing          // its clock runs
	isUnread         // it does not open
)

func unless(there bool, why leftOut) leftOut {
	if there {
		return isThere
	}
	return why
}

// dataPage gives a page of everything, in the order of the keys. All of a page is asked for before anything is waited for.
func (a *App) dataPage(args DataPageAsk) (page DataPage, err *Error) {
	if args.Limit < 1 || args.Limit > 200 {
		return page, refuse(CodeImpossible, "limit", "a page has 1 to 200")
	}
	all := a.exported()
	from, _ := slices.BinarySearchFunc(all, args.After, func(e exported, after string) int { return strings.Compare(e.key, after) })
	for from < len(all) && all[from].key <= args.After {
		from++
	}
	upto := min(from+args.Limit, len(all))
	for _, e := range all[from:upto] {
		switch record, why := e.read(); why {
		case isThere:
			page.Records = append(page.Records, record)
		case isGoing:
			page.Going++
		case isUnread:
			page.Unread++
		}
	}
	page.All = len(all)
	if upto < len(all) {
		page.More = all[upto-1].key
	}
	return page, nil
}

// exported lists all there is.
func (a *App) exported() (all []exported) {
	for _, ref := range a.allBrews() {
		all = append(all, exported{"brew/" + ref.doc.String(), func() (DataRecord, leftOut) {
			brew, why := a.dataBrew(ref)
			return DataRecord{Kind: "brew", Brew: brew}, why
		}})
	}
	all = append(all, a.exportedCups()...)
	all = append(all, a.exportedItems()...)
	all = append(all, a.exportedHome()...)
	slices.SortFunc(all, func(x, y exported) int { return strings.Compare(x.key, y.key) })
	return slices.CompactFunc(all, func(x, y exported) bool { return x.key == y.key })
}

// exportedCups are the samples of one's clubs, and the cups that came from files and are of others.
func (a *App) exportedCups() (all []exported) {
	for _, c := range a.clubs() {
		for _, f := range c.State.Flights() {
			for _, s := range c.State.Samples(f.ID) {
				all = append(all, a.exportedSample(c, f, s))
			}
		}
	}
	a.replica.OwnParts(a.notebook(), partHistory, func(part replica.OwnPart) {
		if !part.Erased {
			all = append(all, a.exportedHistory(part.Doc))
		}
	})
	return all
}

// exportedSample has the key of the history that it would become, so that nothing stands in a file twice.
func (a *App) exportedSample(c clubBook, f club.FlightInfo, s club.SampleInfo) exported {
	return exported{"cup/" + historyDoc(c.ID, s.Body.ID).String(), func() (DataRecord, leftOut) {
		cup, some := a.cupOf(&c, f, s)
		return DataRecord{Kind: "cup", Cup: &cup}, unless(some, isGone)
	}}
}

func (a *App) exportedHistory(doc oplog.DocID) exported {
	return exported{"cup/" + doc.String(), func() (DataRecord, leftOut) {
		var content historyContent
		status := a.read(a.notebook(), a.mine(a.notebook(), doc, partHistory), &content)
		return DataRecord{Kind: "cup", Cup: &content.Cup}, unless(status == replica.BodyReady, isUnread)
	}}
}

func (a *App) lookData(Nothing) (DataView, *Error) {
	return DataView{Items: len(a.exportedItems()), Brews: a.index.count(), History: a.history()}, nil
}
