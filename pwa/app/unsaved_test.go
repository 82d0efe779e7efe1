package app_test

import (
	"crypto/rand"
	"testing"

	"hushcup/pwa/app"
	"hushcup/sync/codec"
)

// A view that is on a screen changes by a command only after the write has been
// answered: while the disk is slow, and when it fails, what the screen shows stays.
func TestAScreenShowsACommandWhenItIsDurable(t *testing.T) {
	for _, full := range []bool{false, true} {
		a := app.New(rand.Reader)
		answered(a, app.Input{Kind: app.InStart, Origin: "http://localhost"})
		shown := a.Step(app.Input{Kind: app.InWatch, Watch: 1, View: app.ViewNotebook, Args: codec.MustMarshal(app.Nothing{})})
		if v, ok := lastView(shown); !ok || v.Name != "" {
			t.Fatalf("at first: %+v", shown)
		}
		effects := a.Step(app.Input{Kind: app.InCommand, ID: 7, Name: app.CmdNotebookName, Args: codec.MustMarshal(app.NotebookName{Name: "Deneb"})})
		if v, ok := lastView(effects); ok {
			t.Fatalf("shown before it is durable: %+v", v)
		}
		answer := app.Input{Kind: app.InPersisted, Tx: transaction(effects)}
		if full {
			answer = app.Input{Kind: app.InPersistFailed, Tx: answer.Tx, Code: "disk-full"}
		}
		after := a.Step(answer)
		v, changed := lastView(after)
		switch {
		case full && changed:
			t.Errorf("shown although it failed: %+v", v)
		case !full && v.Name != "Deneb":
			t.Errorf("not shown although it is durable: %+v", after)
		}
	}
}

// answered gives an input and the answers to all writes that follow from it.
func answered(a *app.App, in app.Input) {
	for tx := transaction(a.Step(in)); tx != 0; {
		tx = transaction(a.Step(app.Input{Kind: app.InPersisted, Tx: tx}))
	}
}

func transaction(effects []app.Effect) (tx uint64) {
	for _, effect := range effects {
		if persist, ok := effect.(app.PersistEffect); ok {
			tx = persist.Tx
		}
	}
	return tx
}

func lastView(effects []app.Effect) (v app.NotebookView, ok bool) {
	for _, effect := range effects {
		if shown, is := effect.(app.ViewEffect); is {
			v, ok = shown.Value.(app.NotebookView)
		}
	}
	return v, ok
}
