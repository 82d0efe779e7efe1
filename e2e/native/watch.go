package native

import (
	"fmt"
	"time"

	"hushcup/pwa/app"
	"hushcup/sync/codec"
)

// watch is a view that somebody looks at.
type watch struct {
	values chan app.ViewEffect // the newest value only
}

// See looks at a view until it is as wanted, and gives it as it was then.
func See[V any](p *Phone, view string, args any, wanted func(V) bool) (V, error) {
	return SeeWithin(p, Patience, view, args, wanted)
}

// SeeWithin is See with its own patience.
func SeeWithin[V any](p *Phone, patience time.Duration, view string, args any, wanted func(V) bool) (V, error) {
	var last V
	id, w := p.watch(view, args)
	defer p.unwatch(id)
	deadline := time.After(patience)
	seen := false
	for {
		select {
		case shown := <-w.values:
			if shown.Error != nil {
				return last, shown.Error
			}
			value, ok := shown.Value.(V)
			if !ok {
				return last, fmt.Errorf("the view %s shows a %T", view, shown.Value)
			}
			last, seen = value, true
			if wanted(value) {
				return value, nil
			}
		case <-deadline:
			if !seen {
				return last, fmt.Errorf("the view %s showed nothing within %v (%v)", view, patience, p.Err())
			}
			return last, fmt.Errorf("the view %s was not as wanted within %v: %+v", view, patience, last)
		}
	}
}

// Now is the view as it is first shown.
func Now[V any](p *Phone, view string, args any) (V, error) {
	return See(p, view, args, func(V) bool { return true })
}

func (p *Phone) watch(view string, args any) (uint64, *watch) {
	w := &watch{values: make(chan app.ViewEffect, 1)}
	p.mu.Lock()
	p.last++
	id := p.last
	p.watches[id] = w
	p.mu.Unlock()
	p.tell(app.Input{Kind: app.InWatch, Watch: id, View: view, Args: codec.MustMarshal(args)})
	return id, w
}

func (p *Phone) unwatch(id uint64) {
	p.mu.Lock()
	delete(p.watches, id)
	p.mu.Unlock()
	p.tell(app.Input{Kind: app.InUnwatch, Watch: id})
}

// show replaces a value that nobody has looked at yet.
func (p *Phone) show(effect app.ViewEffect) {
	p.mu.Lock()
	w := p.watches[effect.Watch]
	p.mu.Unlock()
	if w == nil {
		return
	}
	select {
	case <-w.values:
	default:
	}
	w.values <- effect
}
