package app

import (
	"io"
	"strings"

	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

// App is one person's application on one phone. It is touched by one goroutine only.
type App struct {
	rand   io.Reader
	broken bool // a fault happened: nothing is trusted any more

	now    int64   // this phone's clock at the input that is being handled
	mono   float64 // the clock that nobody sets
	origin string  // where the app came from
	host   string  // the origin without its scheme: the one server that it talks to

	replica *replica.Replica
	out     []Effect
	disk    disk
	network network
	replies replies
	watches watches
	parts   partCache
	index   index
	scores  scores
	learned learned
	taste   tasteModel
	session uint64 // names this run of the app, for its steady clock
	page    StorageReport
	untidy  bool // something changed since keepHouse last looked
	links   openLinks

	personal Person             // of this device alone
	vessels  map[string]float64 // how fast cups cool, a second, by key of the record
}

// New makes an App. Randomness comes from rand, which must be fit for keys.
func New(rand io.Reader) *App {
	return &App{rand: rand, session: newSession(rand), replica: replica.New(replica.Config{Rand: rand})}
}

// Step takes one input and returns what is to be done, in order.
func (a *App) Step(in Input) []Effect {
	a.now, a.mono = in.Now, in.Mono
	a.take(in)
	if a.hasty(in.Kind) {
		a.answerTouch()
	} else {
		a.settle()
	}
	out := a.out
	a.out = nil
	return out
}

// take hands an input to whom it concerns.
func (a *App) take(in Input) {
	switch in.Kind {
	case InStart:
		a.start(in)
	case InCommand:
		a.command(in.ID, in.Name, in.Args)
	case InWatch:
		a.watch(in.Watch, in.View, in.Args)
	case InUnwatch:
		a.watches.end(in.Watch)
	case InFrame:
		a.feed(replica.FrameIn{Host: a.host, Bytes: in.Bytes})
	case InConnected:
		a.feed(replica.Connected{Host: a.host})
	case InDisconnected:
		a.feed(replica.Disconnected{Host: a.host})
	case InPersisted:
		a.persisted(in.Tx)
	case InPersistFailed:
		a.parts.forgetWaiting()
		a.persistFailed(in.Tx, in.Code)
	case InGot:
		a.got(in.ID, in.Records)
	case InTimer:
		a.timer(in.Name)
	case InForeground:
		a.feed(replica.Foreground{})
		a.watches.touch(needTime)
	}
}

// start takes what the disk holds, the app's own records for itself and all others for the replica.
func (a *App) start(in Input) {
	a.origin = strings.TrimSuffix(in.Origin, "/")
	_, a.host, _ = strings.Cut(a.origin, "://")
	a.parts.reset()
	theirs := make([]replica.Record, 0, len(in.Records))
	for _, record := range in.Records {
		if strings.HasPrefix(record.Key, ownKeys) {
			a.index.load(record)
			a.loadPerson(record)
			a.loadVessel(record)
			continue
		}
		theirs = append(theirs, replica.Record(record))
	}
	a.network.hold(a)
	a.feed(replica.Load{Records: theirs})
	a.readGoing()
	if ticket, err := a.replica.Start(a.now, a.host); err == nil {
		a.replies.ignore(ticket)
	}
	a.index.catchUp(a)
	a.untidy = true
}

// timer wakes the app's own timer or the replica's.
func (a *App) timer(name string) {
	switch name {
	case timerLook:
		a.watches.touch(needTime)
	case timerIndex: // the digesting goes on by itself
		a.index.ready(a)
	case timerSave:
		a.index.save(a)
	case timerRest: // what was put off follows by itself
	case timerPack:
		a.index.pack(a)
	case timerTrial:
		_, _ = a.searchBrews(BrewsParams{Search: BrewSearch{Words: "a"}})
	case timerDial:
		a.network.free(a)
	default:
		a.feed(replica.Timer{Name: name})
	}
}

// feed gives the replica an event and carries its effects out.
func (a *App) feed(event replica.Event) {
	for _, effect := range a.replica.Step(a.now, event) {
		a.carry(effect)
	}
}

// carry passes one effect of the replica on.
func (a *App) carry(effect replica.Effect) {
	switch e := effect.(type) {
	case replica.Persist:
		a.persist(e)
	case replica.Read:
		a.emit(ReadEffect{Kind: "read", ID: a.disk.reading(e.ID), Keys: e.Keys})
	case replica.Send:
		if e.Host == a.host {
			a.emit(SendEffect{Kind: "send", Bytes: e.Bytes})
		}
	case replica.SetTimer:
		a.emit(TimerEffect{Kind: "timer", Name: e.Name, After: e.After})
	case replica.Dial:
		a.dial(e.Host)
	case replica.HangUp:
		a.hangUp(e.Host)
	case replica.Saved:
		a.replies.saved(e.Ticket)
	case replica.Failed:
		a.replies.failed(e.Ticket, &Error{Code: e.Code, Text: e.Text})
	case replica.Changed:
		a.changed(e)
	case replica.Stopped:
		a.watches.touch(needSync | needState)
	}
}

// changed notes which views and which digests a change touches.
func (a *App) changed(c replica.Changed) {
	for _, of := range [...]struct {
		what replica.What
		need need
	}{{replica.ChangedState, needState}, {replica.ChangedDocs, needDocs}, {replica.ChangedGuesses, needGuesses}, {replica.ChangedSync, needSync}} {
		if c.What&of.what != 0 {
			a.watches.touch(of.need)
		}
	}
	if c.What&replica.ChangedState != 0 {
		a.index.meet(a, c.Book)
	}
	if c.What&replica.ChangedDocs != 0 {
		a.index.touch(a, c.Book, c.Docs)
	}
	if c.What&(replica.ChangedState|replica.ChangedDocs) != 0 {
		a.untidy = true
	}
	a.replies.something = true
}

func (a *App) emit(e Effect) { a.out = append(a.out, e) }

// settle does what follows from an input until nothing follows any more, then answers and shows.
func (a *App) settle() {
	for range 8 {
		again := a.retryCommands()
		again = a.untidy && a.keepHouse() || again
		a.feed(replica.Nothing{})
		if !again {
			break
		}
	}
	a.index.flush(a)
	a.look()
	a.feed(replica.Nothing{}) // what the views asked to be read
	a.answerCommands()
}

// notebook is the book of this person alone.
func (a *App) notebook() oplog.BookID { return a.replica.Notebook() }
