package village

import (
	"context"
	"slices"
	"sort"
	"strings"

	"hushcup/pwa/app"
	"hushcup/sync/codec"
)

// Phone is one installation: an App, its disk, its line.
type Phone struct {
	village *Village
	name    string
	app     *app.App
	Disk    *Disk
	Skew    int64 // its clock minus the village's
	born    int64 // when the running App was started: its steady clock counts from here

	offline bool
	line    *line
	inputs  []app.Input
	timers  map[string]int64
	last    uint64
	done    map[uint64]app.DoneEffect
	seen    map[uint64]app.ViewEffect
	Fatal   *app.FatalEffect
}

// Disk is what outlives a phone's App.
type Disk struct {
	Records map[string][]byte
	Refuse  string // writes fail with this code when it is not empty
	Writes  int
}

// Phone adds a phone, out of its box.
func (v *Village) Phone(name string) *Phone {
	p := &Phone{village: v, name: name, Disk: &Disk{Records: map[string][]byte{}}}
	v.phones = append(v.phones, p)
	p.Start()
	return p
}

// Start starts the App from what the disk holds. A running one is killed first.
func (p *Phone) Start() {
	p.cutSilently()
	p.app, p.inputs, p.timers = app.New(p.village.config.Rand), nil, map[string]int64{}
	p.done, p.seen = map[uint64]app.DoneEffect{}, map[uint64]app.ViewEffect{}
	p.born = p.village.now
	p.tell(app.Input{Kind: app.InStart, Origin: p.village.config.Origin, Records: p.Disk.hot()})
	p.village.Settle()
}

// Stop closes the App; the disk stays. Nothing happens on the phone until Start.
func (p *Phone) Stop() {
	p.cutSilently()
	p.app, p.inputs, p.timers = nil, nil, map[string]int64{}
}

// Offline takes the network away, or gives it back.
func (p *Phone) Offline(off bool) {
	p.offline = off
	if off {
		p.cut()
	} else {
		p.tell(app.Input{Kind: app.InForeground})
	}
	p.village.Settle()
}

// Sleep is a screen that is locked for so long: the phone's steady clock and its timers stand still. It has no network.
func (p *Phone) Sleep(by int64) {
	timers := p.timers
	p.timers = map[string]int64{}
	p.village.Advance(by)
	p.born += by
	for name, at := range timers {
		p.timers[name] = at + by
	}
}

func (p *Phone) cutSilently() { p.line = nil }

func (p *Phone) cut() {
	if p.line != nil {
		p.line = nil
		p.tell(app.Input{Kind: app.InDisconnected})
	}
}

func (p *Phone) receive(frame []byte) { p.tell(app.Input{Kind: app.InFrame, Bytes: frame}) }

func (p *Phone) tell(in app.Input) {
	if p.app != nil {
		p.inputs = append(p.inputs, in)
	}
}

// work gives the App one input and carries out what follows.
func (p *Phone) work() bool {
	if len(p.inputs) == 0 {
		return false
	}
	in := p.inputs[0]
	p.inputs = p.inputs[1:]
	in.Now = p.village.now + p.Skew
	in.Mono = float64(p.village.now - p.born)
	for _, effect := range p.app.Step(in) {
		p.carryOut(effect)
	}
	return true
}

func (p *Phone) carryOut(effect app.Effect) {
	switch e := effect.(type) {
	case app.PersistEffect:
		if code := p.Disk.write(e); code != "" {
			p.tell(app.Input{Kind: app.InPersistFailed, Tx: e.Tx, Code: code})
		} else {
			p.tell(app.Input{Kind: app.InPersisted, Tx: e.Tx})
		}
	case app.ReadEffect:
		p.tell(app.Input{Kind: app.InGot, ID: e.ID, Records: p.Disk.read(e)})
	case app.SendEffect:
		if p.line != nil {
			p.village.carryOut(p.line, p.line.session.Frames(context.Background(), p.village.now, [][]byte{e.Bytes}))
		}
	case app.ConnectEffect:
		p.connect()
	case app.CloseEffect:
		p.cutSilently()
	case app.TimerEffect:
		delete(p.timers, e.Name)
		if e.After >= 0 {
			p.timers[e.Name] = p.village.now + e.After
		}
	case app.ViewEffect:
		p.seen[e.Watch] = e
	case app.DoneEffect:
		p.done[e.ID] = e
	case app.FatalEffect:
		p.Fatal = &e
	}
}

func (p *Phone) connect() {
	p.cutSilently()
	if p.offline {
		p.tell(app.Input{Kind: app.InDisconnected})
		return
	}
	p.tell(app.Input{Kind: app.InConnected})
	p.village.open(p)
}

// ring gives the App the timers whose time has come, in the order of their names.
func (p *Phone) ring() {
	var names []string
	for name, at := range p.timers {
		if at <= p.village.now {
			names = append(names, name)
		}
	}
	sort.Strings(names)
	for _, name := range names {
		delete(p.timers, name)
		p.tell(app.Input{Kind: app.InTimer, Name: name})
	}
}

// Do gives a command and settles. The result is the zero value when the command is refused, or not answered yet.
func Do[R any](p *Phone, name string, args any) (result R, refusal *app.Error) {
	id := p.Begin(name, args)
	p.village.Settle()
	done, answered := p.Done(id)
	switch {
	case !answered:
		return result, &app.Error{Code: "unanswered", Text: name + " was not answered"}
	case done.Error != nil:
		return result, done.Error
	}
	return done.Result.(R), nil
}

// Begin gives a command without letting anything happen yet.
func (p *Phone) Begin(name string, args any) uint64 {
	p.last++
	p.tell(app.Input{Kind: app.InCommand, ID: p.last, Name: name, Args: codec.MustMarshal(args)})
	return p.last
}

// Done is the answer to a command, if there is one.
func (p *Phone) Done(id uint64) (app.DoneEffect, bool) {
	done, ok := p.done[id]
	return done, ok
}

// See looks at a view as it is now.
func See[V any](p *Phone, name string, params any) (value V, refusal *app.Error) {
	id := p.Watch(name, params)
	defer p.Unwatch(id)
	p.village.Settle()
	return Seen[V](p, id)
}

// Watch keeps looking at a view.
func (p *Phone) Watch(name string, params any) uint64 {
	p.last++
	p.tell(app.Input{Kind: app.InWatch, Watch: p.last, View: name, Args: codec.MustMarshal(params)})
	return p.last
}

// Unwatch stops looking.
func (p *Phone) Unwatch(id uint64) {
	p.tell(app.Input{Kind: app.InUnwatch, Watch: id})
	p.village.Settle()
	delete(p.seen, id)
}

// Seen is what a watched view showed last.
func Seen[V any](p *Phone, id uint64) (value V, refusal *app.Error) {
	seen, ok := p.seen[id]
	switch {
	case !ok:
		return value, &app.Error{Code: "unseen", Text: "the view showed nothing"}
	case seen.Error != nil:
		return value, seen.Error
	}
	return seen.Value.(V), nil
}

func (d *Disk) hot() []app.StoredRecord {
	return d.list(func(key string) bool { return !strings.HasPrefix(key, "cold/") })
}

func (d *Disk) list(wanted func(key string) bool) (found []app.StoredRecord) {
	for key, value := range d.Records {
		if wanted(key) {
			found = append(found, app.StoredRecord{Key: key, Value: slices.Clone(value)})
		}
	}
	sort.Slice(found, func(i, j int) bool { return found[i].Key < found[j].Key })
	return found
}

func (d *Disk) read(e app.ReadEffect) (found []app.StoredRecord) {
	if e.Prefix != "" {
		return d.list(func(key string) bool {
			return strings.HasPrefix(key, e.Prefix) || e.Last != "" && key >= e.Prefix && (key < e.Last || strings.HasPrefix(key, e.Last))
		})
	}
	for _, key := range e.Keys {
		if value, ok := d.Records[key]; ok {
			found = append(found, app.StoredRecord{Key: key, Value: slices.Clone(value)})
		}
	}
	return found
}

// write is one atomic transaction.
func (d *Disk) write(e app.PersistEffect) (refusal string) {
	if d.Refuse != "" {
		return d.Refuse
	}
	d.Writes++
	for _, key := range e.Deletes {
		delete(d.Records, key)
	}
	for _, put := range e.Puts {
		d.Records[put.Key] = slices.Clone(put.Value)
	}
	return ""
}
