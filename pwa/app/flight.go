package app

import (
	"slices"
	"strconv"

	"hushcup/pwa/core/atlas"
	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

func decimal(n int) string { return strconv.Itoa(n) }

// usualQuestions are asked when a flight does not choose.
var usualQuestions = []atlas.Facet{atlas.Process, atlas.Origin, atlas.Decaf}

func (a *App) createFlight(args FlightCreate) (made FlightCreated, err *Error) {
	c, err := a.organisersClub(args.Club)
	if err = first(err, text("title", &args.Title, mostTitle, true), text("note", &args.Note, mostNote, false)); err != nil {
		return made, err
	}
	questions, err := parseQuestions(args.Questions)
	if err = first(err, a.checkClosing(args.Closes)); err != nil {
		return made, err
	}
	pinsContent, pins, err := a.declare(&c, args.Narrowing, questions)
	if err != nil {
		return made, err
	}
	flight, ticket, fault := a.replica.Flight(a.now, c.ID, replica.FlightArgs{Closes: args.Closes, Pins: pins})
	if err := a.wait(ticket, fault); err != nil {
		return made, err
	}
	words := flightContent{Title: args.Title, Note: args.Note}
	for _, f := range questions {
		words.Questions = append(words.Questions, f.String())
	}
	doc := oplog.FlightDoc(flight)
	err = first(
		a.write(c.ID, doc, partFlightWords, replica.UnderEpoch, words),
		a.write(c.ID, doc, partFlightPins, replica.UnderEpoch, pinsContent))
	return FlightCreated{Flight: flight.String()}, err
}

func parseQuestions(names []string) (out []atlas.Facet, err *Error) {
	if len(names) == 0 {
		return usualQuestions, nil
	}
	for i, name := range names {
		f, fault := atlas.ParseFacet(name)
		if fault != nil || slices.Contains(out, f) {
			return nil, refuse(CodeImpossible, "questions."+decimal(i), strconv.Quote(name)+" is no question, or is asked already")
		}
		out = append(out, f)
	}
	return out, nil
}

// checkClosing refuses a closing time that is past, or so far off that it is hardly meant.
func (a *App) checkClosing(closes int64) *Error {
	switch {
	case closes == 0:
		return nil
	case closes <= a.serverNow():
		return refuse(CodeImpossible, "closes", "this time is past")
	case closes > a.serverNow()+400*day:
		return refuse(CodeImpossible, "closes", "this is more than a year away")
	}
	return nil
}

func (a *App) editFlight(args FlightEdit) *Error {
	c, f, err := a.organisersFlight(args.Club, args.Flight)
	if err = first(err, text("title", &args.Title, mostTitle, true), text("note", &args.Note, mostNote, false)); err != nil {
		return err
	}
	words, status := a.flightWords(&c, f.ID)
	if status == replica.BodyLoading {
		return errReading
	}
	words.Title, words.Note = args.Title, args.Note
	return a.write(c.ID, oplog.FlightDoc(f.ID), partFlightWords, replica.UnderEpoch, words)
}

func (a *App) moveClosing(args FlightClosing) *Error {
	c, f, err := a.organisersFlight(args.Club, args.Flight)
	if err = first(err, a.checkClosing(args.Closes)); err != nil {
		return err
	}
	if a.timeClosed(f) {
		return &Error{Code: "flight-closed", Field: "closes", Text: "the flight's closing time is past"}
	}
	return a.wait(a.replica.Closing(a.now, c.ID, f.ID, args.Closes))
}

func (a *App) closeFlight(args FlightClose) *Error {
	c, f, err := a.flight(args.Club, args.Flight)
	if err != nil {
		return err
	}
	samples, err := a.openSamples(&c, f, args.Samples)
	if err != nil {
		return err
	}
	return a.wait(a.replica.Lock(a.now, c.ID, f.ID, samples))
}

// openSamples are the named samples of a flight, or all, as far as they are open and this person may close them.
func (a *App) openSamples(c *clubBook, f club.FlightInfo, names []string) (out []oplog.SampleID, err *Error) {
	named := map[oplog.SampleID]bool{}
	for i, name := range names {
		sample, err := id[oplog.SampleID]("samples."+decimal(i), name)
		if err != nil {
			return nil, err
		}
		if s, ok := c.State.Sample(sample); !ok || s.Body.Flight != f.ID {
			return nil, unknown("samples." + decimal(i))
		}
		named[sample] = true
	}
	forbidden := false
	for _, s := range c.State.Samples(f.ID) {
		if s.ClosedPos != 0 || len(names) > 0 && !named[s.Body.ID] {
			continue
		}
		if !c.organiser() && s.Keeper != c.Member {
			forbidden = true
			continue
		}
		out = append(out, s.Body.ID)
	}
	switch {
	case len(out) > 0:
		return out, nil
	case forbidden:
		return nil, notAllowed("an organiser closes, or a sample's own keeper")
	}
	return nil, &Error{Code: "sample-closed", Text: "there is nothing open to close"}
}

func (a *App) flight(clubText, flightText string) (clubBook, club.FlightInfo, *Error) {
	c, err := a.club(clubText)
	if err != nil {
		return c, club.FlightInfo{}, err
	}
	flight, err := id[oplog.FlightID]("flight", flightText)
	if err != nil {
		return c, club.FlightInfo{}, err
	}
	f, ok := c.State.Flight(flight)
	if !ok {
		return c, f, unknown("flight")
	}
	return c, f, nil
}

func (a *App) organisersFlight(clubText, flightText string) (clubBook, club.FlightInfo, *Error) {
	c, f, err := a.flight(clubText, flightText)
	if err == nil && !c.organiser() {
		err = notAllowed("only an organiser can do this")
	}
	return c, f, err
}

func (a *App) flightWords(c *clubBook, flight oplog.FlightID) (words flightContent, status replica.BodyStatus) {
	status = a.read(c.ID, shared(oplog.FlightDoc(flight), partFlightWords), &words)
	return words, status
}

// timeClosed says whether a flight's time is over: ordered so, or by the server's clock, since whatever is ordered from now
// on comes after the close.
func (a *App) timeClosed(f club.FlightInfo) bool {
	if f.ClosedPos != 0 {
		return true
	}
	if f.Closes == 0 {
		return false
	}
	a.until(f.Closes - a.replica.ServerOffset(a.host))
	return a.serverNow() >= f.Closes
}

func (a *App) flightState(c *clubBook, f club.FlightInfo) string {
	var open, closed, opened int
	for _, s := range c.State.Samples(f.ID) {
		switch a.sampleState(f, s) {
		case "open":
			open++
		case "closed":
			closed++
		default:
			opened++
		}
	}
	switch {
	case opened > 0 && open+closed == 0:
		return "opened"
	case opened > 0:
		return "opening"
	case open > 0 || !a.timeClosed(f) && closed == 0:
		return "open"
	}
	return "closed"
}

func (a *App) flightLine(c *clubBook, f club.FlightInfo) FlightLine {
	words, _ := a.flightWords(c, f.ID)
	line := FlightLine{
		Flight: f.ID.String(), Title: words.Title, Closes: f.Closes, State: a.flightState(c, f), Share: shareWord(a.replica.FlightShare(c.ID, f.ID)),
	}
	for _, s := range c.State.Samples(f.ID) {
		line.Samples++
		if a.replica.OwnGuess(c.ID, s.Body.ID).Share != 0 {
			line.Guessed++
		}
		if s.UnsealedPos != 0 {
			line.Opened++
		}
	}
	return line
}

func (a *App) lookFlight(params FlightParams) (FlightView, *Error) {
	c, f, err := a.flight(params.Club, params.Flight)
	if err != nil {
		return FlightView{}, err
	}
	words, _ := a.flightWords(&c, f.ID)
	pinned := a.pinned(&c, f)
	v := FlightView{
		Club: c.ID.String(), ClubName: a.clubName(&c), Flight: f.ID.String(), Title: words.Title, Note: words.Note,
		Closes: f.Closes, State: a.flightState(&c, f), Questions: words.Questions, Narrowing: narrowed(pinned.Prior),
		Pinned: pinned.Status, May: a.flightMay(&c, f), Share: shareWord(a.replica.FlightShare(c.ID, f.ID)),
		Standing: c.bookStatus(),
	}
	for _, s := range c.State.Samples(f.ID) {
		v.Samples = append(v.Samples, a.sampleLine(&c, f, s))
	}
	for _, m := range c.State.Members() {
		v.Members = append(v.Members, a.describeMember(&c, m))
	}
	return v, nil
}

// narrowed says in the bridge's words what a prior leaves.
func narrowed(prior *atlas.Prior) (out []Narrowing) {
	if prior == nil {
		return nil
	}
	for f := range atlas.Facets {
		nodes := prior.Narrowed(f)
		if len(nodes) == 0 {
			continue
		}
		n := Narrowing{Facet: f.String()}
		for _, node := range nodes {
			n.Nodes = append(n.Nodes, string(node))
		}
		out = append(out, n)
	}
	return out
}

func (a *App) flightMay(c *clubBook, f club.FlightInfo) (may []string) {
	if !c.in() {
		return nil
	}
	timeClosed := a.timeClosed(f)
	if c.organiser() {
		may = append(may, "edit")
		if !timeClosed {
			may = append(may, "closing")
		}
	}
	if !timeClosed {
		may = append(may, "seal")
	}
	var close, unseal bool
	for _, s := range c.State.Samples(f.ID) {
		for _, word := range a.sampleMay(c, f, s) {
			close = close || word == "close"
			unseal = unseal || word == "unseal"
		}
	}
	if close {
		may = append(may, "close")
	}
	if unseal {
		may = append(may, "unseal")
	}
	return may
}
