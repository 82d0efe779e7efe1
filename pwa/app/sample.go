package app

import (
	"math"
	"slices"

	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

func (a *App) sealSample(args SampleSeal) (made SampleSealed, err *Error) {
	c, f, err := a.flight(args.Club, args.Flight)
	if err != nil {
		return made, err
	}
	if !c.in() {
		return made, notAllowed("you are not in this club")
	}
	if a.timeClosed(f) {
		return made, &Error{Code: "flight-closed", Text: "the flight's closing time is past"}
	}
	answer, err := args.Answer.content()
	if err = first(err, checkGrams(args.Grams, args.Sure), args.Declared.check()); err != nil {
		return made, err
	}
	holders, err := c.holders(args.Holders)
	if err != nil {
		return made, err
	}
	code, err := a.drawCode(&c, f.ID)
	if err != nil {
		return made, err
	}
	sample, ticket, fault := a.replica.SealSample(a.now, c.ID, replica.SampleArgs{
		Flight: f.ID, Code: code, Centigrams: uint32(math.Round(args.Grams * 100)), Holders: holders,
		Declared: codec.MustMarshal(declaredContent(args.Declared)), Answer: codec.MustMarshal(answer),
	})
	return SampleSealed{Sample: sample.String(), Code: int(code)}, a.wait(ticket, fault)
}

func checkGrams(grams float64, sure []string) *Error {
	switch {
	case !(grams >= 0.5 && grams <= 2000):
		return refuse(CodeImpossible, "grams", "a portion is 0.5 to 2,000 g")
	case (grams < 8 || grams > 350) && !slices.Contains(sure, "grams"):
		return refuse(CodeSurprising, "grams", "is this what each home gets?")
	}
	return nil
}

func (d *Declared) check() *Error {
	if d.Choice == "" {
		return refuse(CodeRequired, "declared.choice", "say what is added and which allergens are known; nothing is an answer too")
	}
	err := first(oneOf("declared.choice", d.Choice, "Choice"), text("declared.note", &d.Note, 300, false))
	for _, allergen := range d.Allergens {
		err = first(err, oneOf("declared.allergens", allergen, "Allergen"))
	}
	for _, additive := range d.Additives {
		err = first(err, oneOf("declared.additives", additive, "Additive"))
	}
	empty := len(d.Allergens) == 0 && len(d.Additives) == 0
	switch {
	case err != nil:
		return err
	case d.Choice == "something" && empty && d.Note == "":
		return refuse(CodeRequired, "declared.additives", "name what is in it")
	case d.Choice != "something" && !empty:
		return refuse(CodeImpossible, "declared.choice", "this says that nothing is known, and names something")
	}
	return nil
}

// holders finds the members beside the keeper who may open a sample.
func (c *clubBook) holders(names []string) (out []oplog.MemberID, err *Error) {
	for i, name := range names {
		field := "holders." + decimal(i)
		m, err := c.member(name)
		if err != nil {
			return nil, withField(err, field)
		}
		if m.ID == c.Member || slices.Contains(out, m.ID) {
			continue
		}
		out = append(out, m.ID)
	}
	return out, nil
}

func (a *App) unsealSamples(args SampleUnseal) *Error {
	c, err := a.memberClub(args.Club)
	if err != nil {
		return err
	}
	if len(args.Samples) == 0 {
		return refuse(CodeRequired, "samples", "say which samples")
	}
	var unseal []oplog.SampleID
	overdue := false
	lock := map[oplog.FlightID][]oplog.SampleID{}
	for i, name := range args.Samples {
		s, f, err := a.sampleIn(&c, name)
		if err == nil {
			err = a.checkUnseal(&c, f, s, args.Close)
		}
		if err != nil {
			return withField(err, "samples."+decimal(i))
		}
		switch {
		case s.ClosedPos != 0:
		case a.timeClosed(f):
			overdue = true
		default:
			lock[f.ID] = append(lock[f.ID], s.Body.ID)
		}
		unseal = append(unseal, s.Body.ID)
	}
	for _, f := range c.State.Flights() {
		if len(lock[f.ID]) > 0 {
			if err := a.wait(a.replica.Lock(a.now, c.ID, f.ID, lock[f.ID])); err != nil {
				return err
			}
		}
	}
	if overdue {
		if err := a.nudge(&c); err != nil {
			return err
		}
	}
	return a.wait(a.replica.Unseal(a.now, c.ID, unseal))
}

// nudge writes something that changes nothing, one's own name. A flight whose time is over is closed from the next entry on,
// and a lock is refused then; so this is the entry that orders the close.
func (a *App) nudge(c *clubBook) *Error {
	return a.write(c.ID, profileDoc(c.Member), partName, replica.UnderEpoch, nameContent{Name: a.name(c, c.Member)})
}

// checkUnseal refuses what may not be opened by this person, or not yet.
func (a *App) checkUnseal(c *clubBook, f club.FlightInfo, s club.SampleInfo, alsoClose bool) *Error {
	state := a.sampleState(f, s)
	switch {
	case state == "unsealed":
		return &Error{Code: "already-open", Text: "it is open"}
	case !s.Holds(c.Member):
		return notAllowed("only its keeper, or who holds its key, can open it")
	case state == "open" && !alsoClose:
		return &Error{Code: CodeNotYet, Text: "it is not closed", Hint: "close it first"}
	case state == "open" && s.Keeper != c.Member && !c.organiser():
		return &Error{Code: CodeNotYet, Text: "it is not closed", Hint: "its keeper or an organiser closes it"}
	}
	return nil
}

func (a *App) keepSample(args SampleKeep) *Error {
	c, s, _, err := a.sample(args.Club, args.Sample)
	if err != nil {
		return err
	}
	content, status := a.sittingOf(&c, s)
	keep := lookedAt
	if args.Keep {
		keep = keepClosed
	}
	switch {
	case status == replica.BodyLoading:
		return errReading
	case content.Keep == keep:
		return nil
	}
	content.Keep = keep
	return a.write(a.notebook(), sittingDoc(c.ID, s.Body.ID), partSitting, replica.UnderEpoch, content)
}

func (a *App) sample(clubText, sampleText string) (clubBook, club.SampleInfo, club.FlightInfo, *Error) {
	c, err := a.club(clubText)
	if err != nil {
		return c, club.SampleInfo{}, club.FlightInfo{}, err
	}
	s, f, err := a.sampleIn(&c, sampleText)
	return c, s, f, err
}

func (a *App) sampleIn(c *clubBook, text string) (club.SampleInfo, club.FlightInfo, *Error) {
	sample, err := id[oplog.SampleID]("sample", text)
	if err != nil {
		return club.SampleInfo{}, club.FlightInfo{}, err
	}
	s, ok := c.State.Sample(sample)
	if !ok {
		return s, club.FlightInfo{}, unknown("sample")
	}
	f, _ := c.State.Flight(s.Body.Flight)
	return s, f, nil
}

// sampleState is a SampleState word.
func (a *App) sampleState(f club.FlightInfo, s club.SampleInfo) string {
	switch {
	case s.UnsealedPos != 0:
		return "unsealed"
	case s.ClosedPos != 0 || a.timeClosed(f):
		return "closed"
	}
	return "open"
}

func (a *App) closedHow(f club.FlightInfo, s club.SampleInfo) string {
	switch s.ClosedHow {
	case club.ClosedByLock:
		return "hand"
	case club.ClosedByTime:
		return "time"
	case club.ClosedByEarly:
		return "opened-early"
	}
	if a.timeClosed(f) {
		return "time"
	}
	return ""
}

// guessState is where this person's guess about a sample stands.
func (a *App) guessState(c *clubBook, s club.SampleInfo) GuessState {
	own := a.replica.OwnGuess(c.ID, s.Body.ID)
	g := GuessState{Made: own.Share != 0, Share: shareWord(own.Share), Holder: s.Holds(c.Member)}
	switch {
	case own.Share != replica.Shared:
	case own.Timing == replica.TimingLate:
		g.Timing = "late"
	default:
		g.Timing = "in"
	}
	_, g.First = a.replica.Doc(c.ID, a.mine(c.ID, oplog.GuessDoc(s.Body.ID, c.Member), partFirstGuess))
	return g
}

func shareWord(share replica.Share) string {
	switch share {
	case replica.OnItsWay:
		return "onItsWay"
	case replica.Shared:
		return "shared"
	case replica.Refused:
		return "refused"
	}
	return "device"
}

// keeping says what this person decided about an opened sample on which they had not guessed: kept closed, or still to be
// asked. Those who guessed, or knew the answer, are not asked.
func (a *App) keeping(c *clubBook, s club.SampleInfo, g GuessState) (kept, asks bool) {
	decided := a.decided(c, s)
	if g.Holder {
		return false, false
	}
	kept = decided == keepClosed
	return kept, s.UnsealedPos != 0 && decided == undecided && !g.Made
}

// What this person decided about an opened sample.
const (
	undecided  uint8 = 0
	keepClosed uint8 = 1
	lookedAt   uint8 = 2
)

func (a *App) decided(c *clubBook, s club.SampleInfo) uint8 {
	sitting, _ := a.sittingOf(c, s)
	return sitting.Keep
}

func (a *App) sittingOf(c *clubBook, s club.SampleInfo) (sitting sittingContent, status replica.BodyStatus) {
	status = a.read(a.notebook(), a.mine(a.notebook(), sittingDoc(c.ID, s.Body.ID), partSitting), &sitting)
	return sitting, status
}

func (a *App) sampleMay(c *clubBook, f club.FlightInfo, s club.SampleInfo) (may []string) {
	if !c.in() {
		return nil
	}
	state, g := a.sampleState(f, s), a.guessState(c, s)
	may = append(may, "brew")
	if !g.Holder && state == "open" && !g.First {
		may = append(may, "first")
	}
	if !g.Holder && (state != "unsealed" || a.unseen(c, s, g)) {
		may = append(may, "guess")
	}
	keeper := s.Keeper == c.Member
	if state == "open" && (keeper || c.organiser()) {
		may = append(may, "close")
	}
	if state != "unsealed" && (keeper || state == "closed" && g.Holder) {
		may = append(may, "unseal")
	}
	kept, asks := a.keeping(c, s, g)
	if !g.Holder && !kept {
		may = append(may, "keep")
	}
	if kept && state == "unsealed" || asks {
		may = append(may, "show")
	}
	return may
}

func (a *App) declared(c *clubBook, sample oplog.SampleID) (Declared, bool) {
	plain, status := a.replica.Declared(c.ID, sample)
	if status == replica.BodyLoading {
		a.watches.reading = true
	}
	var content declaredContent
	readable := status == replica.BodyReady && codec.UnmarshalOpen(plain, &content) == nil
	return Declared(content), readable
}
