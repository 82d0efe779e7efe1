// Package app is the phone's application: commands in, views out. It binds the trade (pwa/core) to the log (sync/replica)
// and knows no screen, no disk, no socket and no clock. One value of type App lives in the worker, as WebAssembly; tests and
// the demonstration run the same App natively.
//
// # The bridge
//
// Everything crosses as CBOR (package codec) with string keys. An Input goes in, a list of effects comes out, to be carried
// out in order:
//
//	effects := app.Step(input)
//
// A command is answered by exactly one Done, and not before what it wrote is durable on this phone. A watched view is sent
// once at once (unless it must first read from the disk, then as soon as that came) and again whenever its value changed.
//
// Shapes: ids are lower-case hex. Times are milliseconds since 1970; those that the club decides by (closing times) are of
// the server's clock, and the sync view says how far this phone's clock is from it. Masses are grams, temperatures °C.
// Shares of a belief are whole 1/10,000. Scores are whole 1/1,000 bit, with the factor that they stand for beside them.
// Words for persons are not made here: what the core must say is a code, worded in pwa/ui/words.ts; an Error's text is what
// is shown when that catalogue has no words for its code.
package app

import "hushcup/sync/codec"

// The kinds of input.
const (
	InStart         = "start"
	InCommand       = "command"
	InWatch         = "watch"
	InUnwatch       = "unwatch"
	InFrame         = "frame"
	InConnected     = "connected"
	InDisconnected  = "disconnected"
	InPersisted     = "persisted"
	InPersistFailed = "persist-failed"
	InGot           = "got"
	InTimer         = "timer"
	InForeground    = "foreground"
)

// Input is anything that happens outside. Kind says which of the fields below the clock mean something.
type Input struct {
	Kind string  `cbor:"kind"`
	Now  int64   `cbor:"now"`  // this phone's clock
	Mono float64 `cbor:"mono"` // milliseconds of a clock that nobody sets, from an arbitrary start

	Origin  string         `cbor:"origin,omitempty"`  // start: where the app came from, as "https://cup.example"
	Records []StoredRecord `cbor:"records,omitempty"` // start: all that do not begin with "cold/"; got: those that were found
	ID      uint64         `cbor:"id,omitempty"`      // command: comes back in done; got: of the read
	Name    string         `cbor:"name,omitempty"`    // command; timer
	Args    codec.Raw      `cbor:"args,omitempty"`    // command; watch
	Watch   uint64         `cbor:"watch,omitempty"`   // watch, unwatch: chosen by the page
	View    string         `cbor:"view,omitempty"`    // watch: the view's name
	Bytes   []byte         `cbor:"bytes,omitempty"`   // frame
	Tx      uint64         `cbor:"tx,omitempty"`      // persisted, persist-failed
	Code    string         `cbor:"code,omitempty"`    // persist-failed: "disk-full" or "storage-failed"
}

// StoredRecord is one thing on the phone's disk.
type StoredRecord struct {
	Key   string `cbor:"key"`
	Value []byte `cbor:"value"`
}

// Effect is something to be done outside, in the order of the list.
type Effect interface{ kind() string }

// PersistEffect is one atomic, durable write; it is answered by persisted or persist-failed.
type PersistEffect struct {
	Kind    string         `cbor:"kind" ts:"\"persist\""`
	Tx      uint64         `cbor:"tx"`
	Puts    []StoredRecord `cbor:"puts"`
	Deletes []string       `cbor:"deletes"`
}

// ReadEffect asks for records: those with Keys, or with Prefix all whose key begins so, in key order; with Last as well, all from
// there up to those whose key begins with Last. It is answered by got.
type ReadEffect struct {
	Kind   string   `cbor:"kind" ts:"\"read\""`
	ID     uint64   `cbor:"id"`
	Keys   []string `cbor:"keys"`
	Prefix string   `cbor:"prefix,omitempty"`
	Last   string   `cbor:"last,omitempty"`
}

// SendEffect sends one frame on the open socket.
type SendEffect struct {
	Kind  string `cbor:"kind" ts:"\"send\""`
	Bytes []byte `cbor:"bytes"`
}

// ConnectEffect opens a socket (in place of an open one); answered by connected or disconnected.
type ConnectEffect struct {
	Kind string `cbor:"kind" ts:"\"connect\""`
	URL  string `cbor:"url"`
}

// CloseEffect closes the socket.
type CloseEffect struct {
	Kind string `cbor:"kind" ts:"\"close\""`
}

// TimerEffect asks for a timer input of this name after so many milliseconds. One timer a name: a new one replaces it, a
// negative After ends it.
type TimerEffect struct {
	Kind  string `cbor:"kind" ts:"\"timer\""`
	Name  string `cbor:"name"`
	After int64  `cbor:"after"`
}

// ViewEffect carries the new value of a watched view, or why it cannot be shown (an id of nothing: "unknown").
type ViewEffect struct {
	Kind  string `cbor:"kind" ts:"\"view\""`
	Watch uint64 `cbor:"watch"`
	Value any    `cbor:"value,omitempty"`
	Error *Error `cbor:"error,omitempty"`
}

// DoneEffect answers a command: with an error nothing of it was done, else what it wrote is durable.
type DoneEffect struct {
	Kind   string `cbor:"kind" ts:"\"done\""`
	ID     uint64 `cbor:"id"`
	Error  *Error `cbor:"error,omitempty"`
	Result any    `cbor:"result,omitempty"`
}

// FatalEffect says that the core cannot go on. What is on the disk is whole; a fresh start goes on from there.
type FatalEffect struct {
	Kind string `cbor:"kind" ts:"\"fatal\""`
	Code string `cbor:"code"`
	Text string `cbor:"text"`
}

func (PersistEffect) kind() string { return "persist" }
func (ReadEffect) kind() string    { return "read" }
func (SendEffect) kind() string    { return "send" }
func (ConnectEffect) kind() string { return "connect" }
func (CloseEffect) kind() string   { return "close" }
func (TimerEffect) kind() string   { return "timer" }
func (ViewEffect) kind() string    { return "view" }
func (DoneEffect) kind() string    { return "done" }
func (FatalEffect) kind() string   { return "fatal" }

// Error is a refusal for a person: what happened and what to do. Code is stable, kebab-case; Field names the argument that
// was wrong, as "dose" or "answer.process" or "pours.2.grams"; a code "surprising" may be repeated with that field in `sure`.
type Error struct {
	Code  string `cbor:"code"`
	Text  string `cbor:"text"`
	Hint  string `cbor:"hint,omitempty"`
	Field string `cbor:"field,omitempty"`

	Why   string  `cbor:"why,omitempty"`   // of numbers: what is wrong with it, a code of core/brewing
	Limit float64 `cbor:"limit,omitempty"` // and what it went past, in the field's unit
}

func (e *Error) Error() string { return e.Code + ": " + e.Text }
