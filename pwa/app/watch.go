package app

import (
	"bytes"

	"hushcup/sync/codec"
)

// need says what a view is made of: it is made anew only when one of those changed.
type need uint8

const (
	needState   need = 1 << iota // members, flights, samples
	needDocs                     // contents
	needGuesses                  // who guessed
	needSync                     // how far things have come, joining, refused
	needPage                     // what the page told
	needTime                     // the clock passed something that a view waits for
	needAll     = needState | needDocs | needGuesses | needSync | needPage | needTime
)

// timerLook wakes the views that wait for the clock.
const timerLook = "app look"

// watches are the views on the screens.
type watches struct {
	list    []*watch
	touched need
	next    int64 // when a view changes by the clock alone, 0 for never
	timer   int64 // what the timer stands at
	reading bool  // while a value is made or a command carried out: something of it is still being read
	whole   bool  // it is the rest of the index
}

type watch struct {
	id     uint64
	view   *ViewType
	look   looker
	last   []byte
	fresh  bool // not looked at yet
	unread bool // was not ready when last looked at
	whole  bool // for want of the whole index
}

func (w *watches) touch(n need) { w.touched |= n }

func (w *watches) end(id uint64) {
	for i, watch := range w.list {
		if watch.id == id {
			w.list = append(w.list[:i:i], w.list[i+1:]...)
			return
		}
	}
}

func (a *App) watch(id uint64, name string, params codec.Raw) {
	a.watches.end(id)
	for i := range views {
		if views[i].Name != name {
			continue
		}
		look, err := views[i].bind(params)
		if err != nil {
			a.emit(ViewEffect{Kind: "view", Watch: id, Error: err})
			return
		}
		a.watches.list = append(a.watches.list, &watch{id: id, view: &views[i], look: look, fresh: true})
		return
	}
	a.emit(ViewEffect{Kind: "view", Watch: id, Error: &Error{Code: CodeUnknown, Text: "there is no such view", Hint: "reload the app"}})
}

// look makes the values anew of views that something touched, and sends those that changed. What is on a screen changes by a
// command when that is durable, not before: nothing is shown as saved that may still fail, and a form that fails stays.
func (a *App) look() {
	if a.replies.writing() {
		a.lookFresh()
		return
	}
	touched := a.watches.touched
	a.watches.touched = 0
	if touched&needTime != 0 {
		a.watches.next = 0
	}
	more := len(a.index.asked) > 0
	for _, w := range a.watches.list {
		if w.fresh || w.unread && !(w.whole && more) || touched&w.view.needs != 0 {
			a.lookAt(w)
		}
	}
	a.setLookTimer()
}

// lookFresh gives a screen that is new its first value.
func (a *App) lookFresh() {
	for _, w := range a.watches.list {
		if w.fresh {
			a.lookAt(w)
		}
	}
}

func (a *App) lookAt(w *watch) {
	a.watches.reading, a.watches.whole = false, false
	value, err := w.look(a)
	w.fresh, w.unread, w.whole = false, a.watches.reading, a.watches.whole
	if w.unread && (w.last == nil || w.whole || err == errReading) {
		return // the first value waits until it is whole; one of which nothing is there, until something is
	}
	effect := ViewEffect{Kind: "view", Watch: w.id, Value: value}
	if err != nil {
		effect.Value, effect.Error = nil, err
	}
	encoded := codec.MustMarshal(effect)
	if bytes.Equal(encoded, w.last) {
		return
	}
	w.last = encoded
	a.emit(effect)
}

// until says that a view changes by itself at a time of this phone's clock.
func (a *App) until(at int64) {
	if at > a.now && (a.watches.next == 0 || at < a.watches.next) {
		a.watches.next = at
	}
}

func (a *App) setLookTimer() {
	if a.watches.next == a.watches.timer {
		return
	}
	a.watches.timer = a.watches.next
	after := int64(-1)
	if a.watches.next != 0 {
		after = max(a.watches.next-a.now, 0) + 5
	}
	a.emit(TimerEffect{Kind: "timer", Name: timerLook, After: after})
}
