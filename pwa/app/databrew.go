package app

import (
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

// brewOfContent names the club's sample that a brew was of, which came from a file to somebody who is not in that club.
type brewOfContent struct {
	Club   string `cbor:"1,keyasint"`
	Sample string `cbor:"2,keyasint"`
	Code   int    `cbor:"3,keyasint"`
	Title  string `cbor:"4,keyasint"`
}

// dataBrew is a brew as a file carries it; nil with why it is left out.
func (a *App) dataBrew(ref brewRef) (*DataBrew, leftOut) {
	part, ok := a.replica.Doc(ref.book, a.mine(ref.book, ref.doc, partBrew))
	if !ok || part.Erased {
		return nil, isGone
	}
	var content brewContent
	plain, status := a.body(ref.book, part)
	notes := a.brewNotes(ref.book, a.me(ref.book), ref.doc)
	noticed := a.notesOf(ref)
	of, used := a.brewOf(ref, part), a.usedOf(&openBrew{brewRef: ref})
	switch {
	case decodePart(plain, status, &content) != replica.BodyReady:
		return nil, isUnread // or still being read; then the page is made again
	case content.State == brewGone:
		return nil, isGone
	case content.State == brewGoing:
		return nil, isGoing
	}
	out := content.data(ref.doc.String())
	out.Outcome.Notes, out.Noticed, out.Of, out.Used = notes, noticed, of, used
	if of != nil {
		out.Setup.Coffee = "" // the words that stood in for the sample
	}
	return out, isThere
}

func (content *brewContent) data(id string) *DataBrew {
	out := &DataBrew{
		ID: id, Created: content.Created, State: stateWord(content.State), Began: content.Began, Ended: content.Ended,
		Setup: content.Setup.setup(), Outcome: content.outcome(), Absent: content.Clock.Doubtful, Counts: content.Counts,
		Yield: content.yield(), Abandoned: content.Abandoned, Table: content.Table, Bowl: content.Bowl, Kitchen: DataKitchen(content.Kitchen),
	}
	if content.Parent != (parentContent{}) {
		out.Parent = content.Parent.Doc.String()
	}
	for i, m := range content.Marks {
		out.Marks = append(out.Marks, DataMark{Mark: m.Mark, At: m.At, Grams: m.Grams, Step: content.ofStep(i)})
	}
	for _, r := range content.Readings {
		out.Readings = append(out.Readings, DataHeat{At: r.At, Celsius: r.Celsius})
	}
	return out
}

func (a *App) notesOf(ref brewRef) (out []DataNote) {
	var content noticedContent
	a.read(ref.book, a.mine(ref.book, ref.doc, partNoticed), &content)
	for _, n := range content.Times {
		out = append(out, DataNote{Stage: n.Stage, At: n.At, Words: n.Words})
	}
	return out
}

// brewOf is the club's sample that a brew is of: that club's own, or as a file had it.
func (a *App) brewOf(ref brewRef, part replica.DocPart) *DataOf {
	if part.Sample == nil {
		var content brewOfContent
		if a.read(ref.book, a.mine(ref.book, ref.doc, partBrewOf), &content) != replica.BodyReady {
			return nil
		}
		of := DataOf(content)
		return &of
	}
	info, ok := a.bookInfo(ref.book)
	if !ok {
		return nil
	}
	c := a.withState(info)
	s, ok := c.State.Sample(*part.Sample)
	if !ok {
		return &DataOf{Club: ref.book.String(), Sample: part.Sample.String()}
	}
	f, _ := c.State.Flight(s.Body.Flight)
	of := a.dataOf(&c, f, s)
	return &of
}

// allBrews are the brews of all books, in no order; none that was thrown away.
func (a *App) allBrews() (out []brewRef) {
	for _, book := range a.replica.Books() {
		a.replica.OwnParts(book.ID, partBrew, func(part replica.OwnPart) {
			if !part.Erased {
				out = append(out, brewRef{book.ID, part.Doc})
			}
		})
	}
	return out
}

// holdsBrew finds a brew of one's own by its document in any book: where it is, and whether it was thrown away. It is still
// being read when that is not known yet.
func (a *App) holdsBrew(doc oplog.DocID) (in oplog.BookID, known, gone bool) {
	for _, book := range a.replica.Books() {
		key := replica.DocKey{Member: book.Member, Doc: doc, Part: partBrew}
		part, ok := a.replica.Doc(book.ID, key)
		if !ok {
			continue
		}
		var content brewContent
		plain, status := a.body(book.ID, part)
		decodePart(plain, status, &content)
		return book.ID, true, part.Erased || content.State == brewGone
	}
	return in, false, false
}
