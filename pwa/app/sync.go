package app

import (
	"slices"
	"strconv"

	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

func (a *App) lookSync(Nothing) (SyncView, *Error) {
	status := a.replica.Sync()
	v := SyncView{
		Refused: status.Refused, Host: a.host, Storage: status.Storage, Persisted: a.page.Persisted, Installed: a.page.Installed,
		Offset: a.replica.ServerOffset(a.host),
	}
	if v.Storage == "" {
		v.Storage = "ok"
	}
	var code string
	for _, host := range status.Hosts {
		if host.Host == a.host {
			v.Connected, code = host.Open, host.Code
			v.OffsetSet = host.Open
		}
	}
	v.OnItsWay = status.OnItsWay
	v.Waiting = max(status.Waiting-v.OnItsWay, 0)
	if !v.Connected {
		v.NoAnswer = noAnswer(code)
	}
	v.Problem = a.problem(v.NoAnswer, status, v.Connected)
	v.Mark = syncMark(v, status.Waiting)
	return v, nil
}

// problem is the worst of what keeps things from going out, a Problem word.
func (a *App) problem(noAnswer string, status replica.SyncStatus, connected bool) string {
	if status.Storage != "" {
		return "storage"
	}
	delay := ""
	for _, book := range a.replica.Books() {
		if book.Waiting > 0 && delay == "" {
			delay = delays(book.Code)
		}
		switch {
		case book.Status == replica.StatusStopped && book.Code == "update-the-app":
			return "update"
		case book.Status == replica.StatusStopped:
			return "tampering"
		case book.Status == replica.StatusRestored:
			return "restored"
		}
	}
	switch {
	case status.Refused > 0:
		return "refused"
	case noAnswer == "silent":
		return "offline"
	case !connected:
		return noAnswer
	case status.Waiting > 0 && a.recovering():
		return "recovering"
	}
	if delay == "" && farOff(a.replica.ServerOffset(a.host)) {
		return "clock"
	}
	return delay
}

// farOff says whether a phone's clock is so wrong that its person should know. What it writes gets the right time by itself.
func farOff(offset int64) bool { return offset > oplog.MaxAhead || offset < -oplog.MaxAhead }

// delays says why a host that is there does not take a book's ops for now, a Problem word.
func delays(code string) string {
	switch code {
	case "slow-down", "book-limit", "store-down", "server-fault", "server-behind":
		return "slow-down"
	case "word-needed":
		return code
	case "server-too-old":
		return "old-server"
	}
	return ""
}

// recovering says that this phone speaks as its recovery device, which writes nothing of its own.
func (a *App) recovering() bool {
	return slices.ContainsFunc(a.replica.Joining(), func(j replica.JoinInfo) bool {
		return j.Kind == "recovery" && j.State != replica.JoinDone && j.State != replica.JoinFailed
	})
}

// noAnswer says why there is no connection, a NoAnswer word: what a host said before it hung up stands until it welcomes
// this phone again.
func noAnswer(code string) string {
	switch code {
	case "app-too-old":
		return "old-app"
	case "server-too-old":
		return "old-server"
	case "wrong-host":
		return "bad-host"
	}
	return "silent"
}

// passing are the problems that need nobody.
var passing = []string{"", "offline", "slow-down", "recovering", "old-server", "clock"}

func syncMark(v SyncView, waiting int) string {
	switch {
	case !slices.Contains(passing, v.Problem):
		return "trouble"
	case waiting == 0:
		return "shared"
	case v.OnItsWay > 0 && v.Connected:
		return "sending"
	case v.Connected:
		return "waiting"
	}
	return "device"
}

func (a *App) lookRefused(Nothing) (RefusedView, *Error) {
	var v RefusedView
	for _, op := range a.replica.Refused() {
		v.Refused = append(v.Refused, a.refused(op))
	}
	return v, nil
}

func (a *App) refused(op replica.RefusedOp) Refused {
	r := Refused{
		ID: strconv.FormatUint(op.ID, 10), Book: op.Book.String(), What: refusedWhat(op), Code: op.Code, Text: op.Text, Retry: true,
	}
	info, ok := a.bookInfo(op.Book)
	if !ok || op.Book == a.notebook() {
		return r
	}
	c := a.withState(info)
	r.Name = a.clubName(&c)
	if part, ok := a.replica.Doc(op.Book, a.mine(op.Book, op.Doc, op.Part)); ok && part.Sample != nil {
		if s, ok := c.State.Sample(*part.Sample); ok {
			r.Sample, r.SampleCode = s.Body.ID.String(), int(s.Body.Code)
		}
	}
	return r
}

// refusedWhat says what a refused op was about, a RefusedWhat word.
func refusedWhat(op replica.RefusedOp) string {
	switch op.Kind {
	case oplog.Part:
		return refusedPart(op.Part)
	case oplog.Flight, oplog.Closing:
		return "flight"
	case oplog.Sample:
		return "sample"
	case oplog.Lock:
		return "close"
	case oplog.Unseal:
		return "unseal"
	case oplog.Invite, oplog.Revoke:
		return "invite"
	case oplog.Join, oplog.Role, oplog.Remove, oplog.Leave, oplog.Epoch:
		return "member"
	case oplog.Device:
		return "device"
	}
	return "other"
}

func refusedPart(part uint32) string {
	switch part {
	case partGuess, partFirstGuess:
		return "guess"
	case partBrew, partBrewNotes:
		return "brew"
	case partName, partBookWords:
		return "name"
	case partFlightWords, partFlightPins:
		return "flight"
	}
	return "other"
}

func (a *App) refusedID(text string) (uint64, *Error) {
	number, err := strconv.ParseUint(text, 10, 64)
	if err == nil {
		for _, op := range a.replica.Refused() {
			if op.ID == number {
				return number, nil
			}
		}
	}
	return 0, unknown("id")
}

func (a *App) retryRefused(args RefusedRetry) *Error {
	number, err := a.refusedID(args.ID)
	if err != nil {
		return err
	}
	return a.wait(a.replica.Retry(a.now, number))
}

func (a *App) discardRefused(args RefusedDiscard) *Error {
	number, err := a.refusedID(args.ID)
	if err != nil {
		return err
	}
	return a.wait(a.replica.Discard(a.now, number))
}

func (a *App) lookIntentions(Nothing) (IntentionsView, *Error) {
	v := IntentionsView{Joining: a.joining()}
	for _, i := range a.replica.Intentions() {
		intention := UnsealIntention{Club: i.Book.String(), Sample: i.Sample.String()}
		if state := a.replica.Ahead(i.Book); state != nil {
			if s, ok := state.Sample(i.Sample); ok {
				intention.Flight, intention.Code = s.Body.Flight.String(), int(s.Body.Code)
			}
		}
		v.Unseals = append(v.Unseals, intention)
	}
	return v, nil
}
