package app

import (
	"slices"
	"sort"

	"hushcup/pwa/core/cup"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

// noticedContent is what was noticed in one document: a brew's own, or, before brewing, one of a sample and a device. So two
// devices that notice something at once do not write over each other.
type noticedContent struct {
	Times []noticeContent `cbor:"1,keyasint"` // in the order in which they came; only ever added to
}

type noticeContent struct {
	_     struct{} `cbor:",toarray"`
	Stage string
	At    int64
	Words []string
}

const (
	mostNoticed      = 200 // times in one document
	mostNoticedWords = 30  // at one time
	mostFoundWords   = 8
)

func noticedDoc(sample oplog.SampleID, device oplog.DeviceID) oplog.DocID {
	return derivedDoc("hushcup/1 noticed", sample[:], device[:])
}

func (a *App) noticeCup(args CupNotice) *Error {
	b, err := a.noticedOf(args)
	if err != nil {
		return err
	}
	words, err := noticedWords(args.Words)
	if err = first(err, oneOf("stage", args.Stage, "CupStage")); err != nil {
		return err
	}
	var content noticedContent
	switch a.read(b.book, a.mine(b.book, b.doc, partNoticed), &content) {
	case replica.BodyLoading:
		return errReading
	case replica.BodyUnreadable:
		return &Error{Code: "unreadable", Text: "what was noticed before does not open"}
	}
	if len(content.Times) >= mostNoticed {
		return refuse(CodeTooMany, "words", "this is all that one cup can hold")
	}
	content.Times = append(content.Times, noticeContent{Stage: args.Stage, At: a.now, Words: words})
	return a.write(b.book, b.doc, partNoticed, b.under(), content)
}

// noticedOf is the document in which something is to be noticed.
func (a *App) noticedOf(args CupNotice) (b openBrew, err *Error) {
	if args.Brew != "" {
		return a.brew(args.Book, args.Brew)
	}
	c, s, _, err := a.sample(args.Club, args.Sample)
	switch {
	case err != nil:
		return b, err
	case !c.in():
		return b, notAllowed("you are not in this club")
	}
	b.brewRef = brewRef{c.ID, noticedDoc(s.Body.ID, oplog.DeviceID(a.replica.Device().Sign))}
	b.part.Sample = &s.Body.ID
	return b, nil
}

// noticedWords tidies words, each once.
func noticedWords(typed []string) (words []string, err *Error) {
	for i, each := range typed {
		word, _ := cup.Own(each)
		if word == "" {
			return nil, refuse(CodeImpossible, "words."+decimal(i), "this is not a word")
		}
		if !slices.Contains(words, word) {
			words = append(words, word)
		}
	}
	switch {
	case len(words) == 0:
		return nil, refuse(CodeRequired, "words", "say at least one word")
	case len(words) > mostNoticedWords:
		return nil, refuse(CodeTooMany, "words", "at most "+decimal(mostNoticedWords)+" at a time")
	}
	return words, nil
}

func (a *App) lookNoticed(params NoticedParams) (v NoticedView, err *Error) {
	if params.Brew != "" {
		ref, err := parseBrewRef(params.Book, params.Brew)
		if err != nil {
			return v, err
		}
		v.Stages = stagesOf(a.noticedIn(ref))
		v.Cooling = a.coolingOf(ref)
		return v, nil
	}
	c, s, _, err := a.sample(params.Club, params.Sample)
	if err != nil {
		return v, err
	}
	v.Stages = stagesOf(a.noticedSample(&c, s.Body.ID))
	if brews := a.sampleBrews(&c, s.Body.ID); len(brews) > 0 {
		if ref, err := parseBrewRef(brews[0].Book, brews[0].Brew); err == nil {
			v.Cooling = a.coolingOf(ref)
		}
	}
	return v, nil
}

// timesBy are what was noticed at each stage.
type timesBy map[string][]Noticed

func (by timesBy) add(content *noticedContent, brew string) {
	for _, n := range content.Times {
		by[n.Stage] = append(by[n.Stage], Noticed{At: n.At, Brew: brew, Words: n.Words})
	}
}

func (a *App) noticedIn(ref brewRef) timesBy {
	by := timesBy{}
	var content noticedContent
	if a.read(ref.book, a.mine(ref.book, ref.doc, partNoticed), &content) == replica.BodyReady {
		by.add(&content, ref.doc.String())
	}
	return by
}

// noticedSample is what this person noticed of a sample, in all of its brews and before them.
func (a *App) noticedSample(c *clubBook, sample oplog.SampleID) timesBy {
	by, seen := timesBy{}, map[oplog.DocID]bool{}
	var docs []oplog.DocID
	a.replica.OwnParts(c.ID, partNoticed, func(part replica.OwnPart) {
		if part.Sample != nil && *part.Sample == sample && !part.Erased && !seen[part.Doc] {
			seen[part.Doc] = true
			docs = append(docs, part.Doc)
		}
	})
	for _, doc := range docs {
		var content noticedContent
		if a.read(c.ID, a.mine(c.ID, doc, partNoticed), &content) == replica.BodyReady {
			by.add(&content, a.brewOrNone(c.ID, doc))
		}
	}
	return by
}

// brewOrNone is the name of a document that is a brew.
func (a *App) brewOrNone(book oplog.BookID, doc oplog.DocID) string {
	if _, ok := a.replica.Doc(book, a.mine(book, doc, partBrew)); ok {
		return doc.String()
	}
	return ""
}

func stagesOf(by timesBy) (out []NoticedStage) {
	for _, stage := range cup.Stages() {
		times := by[string(stage)]
		if len(times) == 0 {
			continue
		}
		sort.SliceStable(times, func(i, j int) bool { return times[i].At < times[j].At })
		out = append(out, NoticedStage{Stage: string(stage), Times: times})
	}
	return out
}

// tableNoticed is what everybody noticed of an opened sample, by member.
func (a *App) tableNoticed(o *opening) (out []MemberNoticed) {
	by := map[oplog.MemberID]timesBy{}
	a.replica.Docs(o.club.ID, func(part replica.DocPart) bool {
		if part.Part != partNoticed || part.Erased || part.Sample == nil || *part.Sample != o.sample.Body.ID {
			return true
		}
		var content noticedContent
		plain, status := a.body(o.club.ID, part)
		if decodePart(plain, status, &content) != replica.BodyReady {
			return true
		}
		if by[part.Member] == nil {
			by[part.Member] = timesBy{}
		}
		by[part.Member].add(&content, "")
		return true
	})
	for _, m := range o.club.Ordered.Members() {
		if stages := stagesOf(by[m.ID]); len(stages) > 0 {
			out = append(out, MemberNoticed{Member: m.ID.String(), Name: a.name(o.club, m.ID), Stages: stages})
		}
	}
	return out
}

func (a *App) lookCupWords(params CupWordsParams) (v CupWordsView, err *Error) {
	if err := text("typed", &params.Typed, mostName, false); err != nil || params.Typed == "" {
		return v, err
	}
	for _, word := range cup.Find(params.Typed) {
		if len(v.Words) == mostFoundWords {
			break
		}
		v.Words = append(v.Words, word.ID)
	}
	return v, nil
}
