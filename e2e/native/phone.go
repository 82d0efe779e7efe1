// Package native runs the phone's application without a browser: the same
// pwa/app.App that the worker runs as WebAssembly, around it a disk in memory,
// a websocket and timers. It is the third surroundings of that App, beside
// pwa/worker and the simulation, and speaks to a real server.
//
//	disk := native.NewDisk()
//	vega := native.Open("http://127.0.0.1:8080", disk)
//	made, err := native.Do[app.ClubCreated](vega, app.CmdClubCreate, app.ClubCreate{Name: "Observatory"})
//	club, err := native.See(vega, app.ViewClub, app.ClubParams{Club: made.Club},
//		func(c app.ClubView) bool { return len(c.Members) == 4 })
//
// It drives load and the scenarios in which no screen matters.
package native

import (
	"crypto/rand"
	"fmt"
	"sync"
	"time"

	"hushcup/pwa/app"
	"hushcup/sync/codec"
)

// Patience is how long Do and See wait.
const Patience = 15 * time.Second

// Phone is one installation. Its methods may be called by several goroutines;
// the App inside is only ever touched by one.
type Phone struct {
	origin string
	disk   *Disk
	began  time.Time
	clock  func() time.Time
	proxy  string
	heard  func(frame []byte)

	inputs *queue
	loop   sync.WaitGroup

	// Touched by the loop only.
	app    *app.App
	socket *socket
	timers map[string]*time.Timer

	mu       sync.Mutex
	last     uint64
	commands map[uint64]chan app.DoneEffect
	watches  map[uint64]*watch
	fatal    error
}

// Option changes how a phone is opened.
type Option func(*Phone)

// Through leads the phone's websocket through a line.Line.
func Through(address string) Option { return func(p *Phone) { p.proxy = address } }

// Hearing calls f with every frame that comes in, before the App sees it.
func Hearing(f func(frame []byte)) Option { return func(p *Phone) { p.heard = f } }

// At gives the phone a clock of its own. It is read by the loop's goroutine.
func At(clock func() time.Time) Option { return func(p *Phone) { p.clock = clock } }

// Open starts the App from what the disk holds. Origin is where the app was
// loaded from, "http://127.0.0.1:8080".
func Open(origin string, disk *Disk, options ...Option) *Phone {
	p := &Phone{
		origin: origin, disk: disk, began: time.Now(), clock: time.Now,
		inputs: newQueue(), app: app.New(rand.Reader), timers: map[string]*time.Timer{},
		commands: map[uint64]chan app.DoneEffect{}, watches: map[uint64]*watch{},
	}
	for _, option := range options {
		option(p)
	}
	p.tell(app.Input{Kind: app.InStart, Origin: origin, Records: disk.hot()})
	p.loop.Add(1)
	go p.run()
	return p
}

// Close ends the phone as a killed tab does; the disk stays.
func (p *Phone) Close() {
	p.inputs.close()
	p.loop.Wait()
}

// Foreground says that the person is back.
func (p *Phone) Foreground() { p.tell(app.Input{Kind: app.InForeground}) }

// Err is why the App gave up, if it did.
func (p *Phone) Err() error {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.fatal
}

// Do gives the App a command and waits until what it wrote is durable. A
// refusal is an *app.Error.
func Do[R any](p *Phone, name string, args any) (R, error) {
	var none R
	done, err := p.do(name, args)
	if err != nil {
		return none, err
	}
	if done.Error != nil {
		return none, done.Error
	}
	result, ok := done.Result.(R)
	if !ok && done.Result != nil {
		return none, fmt.Errorf("%s gave a %T", name, done.Result)
	}
	return result, nil
}

func (p *Phone) do(name string, args any) (app.DoneEffect, error) {
	answer := make(chan app.DoneEffect, 1)
	p.mu.Lock()
	p.last++
	id := p.last
	p.commands[id] = answer
	p.mu.Unlock()
	p.tell(app.Input{Kind: app.InCommand, ID: id, Name: name, Args: codec.MustMarshal(args)})
	select {
	case done := <-answer:
		return done, nil
	case <-time.After(Patience):
		return app.DoneEffect{}, fmt.Errorf("%s was not answered within %v (%v)", name, Patience, p.Err())
	}
}

// tell stamps an input with the clocks as it goes in.
func (p *Phone) tell(in app.Input) { p.inputs.push(in) }

func (p *Phone) run() {
	defer p.loop.Done()
	defer p.putAway()
	for {
		in, ok := p.inputs.pop()
		if !ok {
			return
		}
		in.Now = p.clock().UnixMilli()
		in.Mono = float64(time.Since(p.began)) / float64(time.Millisecond)
		for _, effect := range p.app.Step(in) {
			p.carryOut(effect)
		}
	}
}

func (p *Phone) putAway() {
	p.closeSocket()
	for _, timer := range p.timers {
		timer.Stop()
	}
}

func (p *Phone) carryOut(effect app.Effect) {
	switch effect := effect.(type) {
	case app.PersistEffect:
		p.write(effect)
	case app.ReadEffect:
		p.tell(app.Input{Kind: app.InGot, ID: effect.ID, Records: p.disk.read(effect.Keys, effect.Prefix)})
	case app.SendEffect:
		p.send(effect.Bytes)
	case app.ConnectEffect:
		p.connect(effect.URL)
	case app.CloseEffect:
		p.closeSocket()
	case app.TimerEffect:
		p.setTimer(effect)
	case app.ViewEffect:
		p.show(effect)
	case app.DoneEffect:
		p.finish(effect)
	case app.FatalEffect:
		p.mu.Lock()
		p.fatal = fmt.Errorf("%s: %s", effect.Code, effect.Text)
		p.mu.Unlock()
	default:
		panic(fmt.Sprintf("native: the effect %T is not known here", effect))
	}
}

func (p *Phone) write(effect app.PersistEffect) {
	if code := p.disk.write(effect.Puts, effect.Deletes); code != "" {
		p.tell(app.Input{Kind: app.InPersistFailed, Tx: effect.Tx, Code: code})
		return
	}
	p.tell(app.Input{Kind: app.InPersisted, Tx: effect.Tx})
}

func (p *Phone) setTimer(effect app.TimerEffect) {
	if old := p.timers[effect.Name]; old != nil {
		old.Stop()
	}
	delete(p.timers, effect.Name)
	if effect.After < 0 {
		return
	}
	p.timers[effect.Name] = time.AfterFunc(time.Duration(effect.After)*time.Millisecond, func() {
		p.tell(app.Input{Kind: app.InTimer, Name: effect.Name})
	})
}

func (p *Phone) finish(done app.DoneEffect) {
	p.mu.Lock()
	answer := p.commands[done.ID]
	delete(p.commands, done.ID)
	p.mu.Unlock()
	if answer != nil {
		answer <- done
	}
}
