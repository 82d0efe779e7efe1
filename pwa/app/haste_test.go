package app

import (
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"hushcup/sync/codec"
)

// bareApp takes its inputs one by one, so that a test sees what each of them brings.
type bareApp struct {
	t   *testing.T
	app *App
	due []Input // what the disk and the timers bring next
	now int64
}

func newBareApp(t *testing.T) *bareApp {
	b := &bareApp{t: t, app: New(rand.NewChaCha8([32]byte{1})), now: 1_790_000_000_000}
	b.step(Input{Kind: InStart, Origin: "https://hushcup.test"})
	b.rest()
	return b
}

// step gives one input and says which effects for the page came of it.
func (b *bareApp) step(in Input) (shown []Effect) {
	b.now++
	in.Now, in.Mono = b.now, float64(b.now)
	for _, effect := range b.app.Step(in) {
		switch e := effect.(type) {
		case PersistEffect:
			b.due = append(b.due, Input{Kind: InPersisted, Tx: e.Tx})
		case ReadEffect:
			b.due = append(b.due, Input{Kind: InGot, ID: e.ID})
		case TimerEffect:
			if e.After >= 0 && e.After <= saveAfter {
				b.due = append(b.due, Input{Kind: InTimer, Name: e.Name})
			}
		case ViewEffect, DoneEffect:
			shown = append(shown, effect)
		}
	}
	return shown
}

func (b *bareApp) next() []Effect {
	in := b.due[0]
	b.due = b.due[1:]
	return b.step(in)
}

func (b *bareApp) rest() (shown []Effect) {
	for len(b.due) > 0 {
		shown = append(shown, b.next()...)
	}
	return shown
}

func (b *bareApp) command(name string, args any) []Effect {
	return b.step(Input{Kind: InCommand, ID: uint64(b.now), Name: name, Args: codec.MustMarshal(args)})
}

func (b *bareApp) brew() BrewStarted {
	b.command(CmdBrewStart, BrewStart{Setup: BrewSetup{Method: "drip", Dose: 15, Ratio: 16, Kettle: 92}, Run: true})
	for _, effect := range b.rest() {
		if done, ok := effect.(DoneEffect); ok {
			return done.Result.(BrewStarted)
		}
	}
	b.t.Fatal("no brew was begun")
	return BrewStarted{}
}

const (
	watchBench = 1
	watchBrew  = 2
)

func (b *bareApp) watch(id uint64, name string, params any) {
	b.step(Input{Kind: InWatch, Watch: id, View: name, Args: codec.MustMarshal(params)})
	b.rest()
}

func kinds(effects []Effect) (list []string) {
	for _, effect := range effects {
		switch e := effect.(type) {
		case DoneEffect:
			list = append(list, "done")
		case ViewEffect:
			list = append(list, map[uint64]string{watchBench: "bench", watchBrew: "brew"}[e.Watch])
		}
	}
	return list
}

// With the input that says that it is durable come the brew and the answer, in this order, and nothing else; what else follows
// comes right after it.
func TestATouchIsAnsweredBeforeAnythingElse(t *testing.T) {
	b := newBareApp(t)
	made := b.brew()
	b.watch(watchBench, ViewBench, Nothing{})
	b.watch(watchBrew, ViewBrew, BrewParams(made))
	for _, touch := range []struct {
		name string
		args any
	}{
		{CmdBrewMark, BrewMark{Book: made.Book, Brew: made.Brew, Mark: "stir"}},
		{CmdBrewUnmark, BrewUnmark(made)},
		{CmdBrewMark, BrewMark{Book: made.Book, Brew: made.Brew, Mark: "end"}},
	} {
		if shown := b.command(touch.name, touch.args); len(shown) > 0 {
			t.Fatalf("%s: %v is shown before it is durable", touch.name, kinds(shown))
		}
		var answered []string
		for answered == nil {
			answered = kinds(b.next())
		}
		if want := []string{"brew", "done"}; !reflect.DeepEqual(answered, want) {
			t.Errorf("%s is answered by %v, not %v", touch.name, answered, want)
		}
		b.rest()
	}
	if len(b.app.index.order) > 0 || b.app.watches.touched != 0 {
		t.Error("what was put off did not follow")
	}
}

// The Bench, which is looked at afterwards, does see what a touch did.
func TestWhatIsPutOffFollows(t *testing.T) {
	b := newBareApp(t)
	made := b.brew()
	b.watch(watchBench, ViewBench, Nothing{})
	b.watch(watchBrew, ViewBrew, BrewParams(made))
	b.command(CmdBrewUnmark, BrewUnmark(made)) // the start is taken back: nothing is going any more
	if shown := kinds(b.rest()); slices.Index(shown, "bench") < slices.Index(shown, "done") {
		t.Errorf("after a touch came %v", shown)
	}
	v, err := b.app.lookBench(Nothing{})
	if err != nil || len(v.Going) != 0 || len(v.Recent) != 1 || v.Recent[0].State != "planned" {
		t.Errorf("the bench shows %+v, %v", v, err)
	}
}

// A screen that is new gets its first value at once, also while a touch is under way.
func TestATouchKeepsNoNewScreenWaiting(t *testing.T) {
	b := newBareApp(t)
	made := b.brew()
	b.command(CmdBrewMark, BrewMark{Book: made.Book, Brew: made.Brew, Mark: "stir"})
	if shown := kinds(b.step(Input{Kind: InWatch, Watch: watchBench, View: ViewBench})); !slices.Contains(shown, "bench") {
		t.Errorf("a new screen got %v", shown)
	}
	if shown := kinds(b.rest()); !slices.Contains(shown, "done") {
		t.Errorf("the touch is not answered: %v", shown)
	}
}
