package app

import (
	"reflect"

	"hushcup/sync/codec"
)

// CommandType is a command of the contract: its name and the shapes of what goes in and comes out.
type CommandType struct {
	Name   string
	Args   reflect.Type
	Result reflect.Type
	touch  bool // of a running brew: answered before anything else is looked at
	run    func(a *App, args codec.Raw) (any, *Error)
}

// ViewType is a view of the contract: its name and the shapes of its parameters and value.
type ViewType struct {
	Name   string
	Params reflect.Type
	Value  reflect.Type
	needs  need
	touch  bool // shows what a touch did: it is looked at before that is answered
	bind   func(params codec.Raw) (looker, *Error)
}

// looker makes a view's value. While something of it is still being read it says so by App.watches.reading; the view is then
// looked at again after every input until it is whole.
type looker func(a *App) (any, *Error)

// command ties a name to its handler. What the handler writes is tied to the command by App.wait.
func command[A, R any](name string, run func(a *App, args A) (R, *Error)) CommandType {
	return CommandType{Name: name, Args: reflect.TypeFor[A](), Result: reflect.TypeFor[R](), run: func(a *App, raw codec.Raw) (any, *Error) {
		var args A
		if err := decodeArgs(raw, &args); err != nil {
			return nil, err
		}
		return run(a, args)
	}}
}

// touch is a command of a finger on a running brew (see haste.go).
func touch(c CommandType) CommandType {
	c.touch = true
	return c
}

// plain is a command without a result.
func plain[A any](name string, run func(a *App, args A) *Error) CommandType {
	return command(name, func(a *App, args A) (Nothing, *Error) { return Nothing{}, run(a, args) })
}

// view ties a name to what makes its value, and to what that is made of.
func view[P, V any](name string, needs need, look func(a *App, params P) (V, *Error)) ViewType {
	bind := func(raw codec.Raw) (looker, *Error) {
		var params P
		if err := decodeArgs(raw, &params); err != nil {
			return nil, err
		}
		return func(a *App) (any, *Error) { return look(a, params) }, nil
	}
	return ViewType{Name: name, Params: reflect.TypeFor[P](), Value: reflect.TypeFor[V](), needs: needs, bind: bind}
}

// shows is a view on which one sees what a touch did.
func shows(v ViewType) ViewType {
	v.touch = true
	return v
}

func decodeArgs(raw codec.Raw, into any) *Error {
	if len(raw) == 0 {
		return nil
	}
	if codec.Unmarshal(raw, into) != nil {
		return &Error{Code: "malformed", Text: "the screen asked in a way that the core does not understand", Hint: "reload the app"}
	}
	return nil
}

// Commands is the contract's list of commands.
func Commands() []CommandType { return commands }

// Views is the contract's list of views.
func Views() []ViewType { return views }

// Effects are the shapes of everything that comes out.
func Effects() []reflect.Type {
	return []reflect.Type{
		reflect.TypeFor[PersistEffect](), reflect.TypeFor[ReadEffect](), reflect.TypeFor[SendEffect](),
		reflect.TypeFor[ConnectEffect](), reflect.TypeFor[CloseEffect](), reflect.TypeFor[TimerEffect](),
		reflect.TypeFor[ViewEffect](), reflect.TypeFor[DoneEffect](), reflect.TypeFor[FatalEffect](),
	}
}
