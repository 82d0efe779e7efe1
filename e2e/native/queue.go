package native

import (
	"sync"

	"hushcup/pwa/app"
)

// queue holds inputs without bound, so that no timer and no socket ever waits
// for the App.
type queue struct {
	mu     sync.Mutex
	some   *sync.Cond
	inputs []app.Input
	closed bool
}

func newQueue() *queue {
	q := &queue{}
	q.some = sync.NewCond(&q.mu)
	return q
}

func (q *queue) push(in app.Input) {
	q.mu.Lock()
	defer q.mu.Unlock()
	if !q.closed {
		q.inputs = append(q.inputs, in)
		q.some.Signal()
	}
}

// pop waits for an input; false once the queue is closed.
func (q *queue) pop() (app.Input, bool) {
	q.mu.Lock()
	defer q.mu.Unlock()
	for len(q.inputs) == 0 && !q.closed {
		q.some.Wait()
	}
	if q.closed {
		return app.Input{}, false
	}
	in := q.inputs[0]
	q.inputs = q.inputs[1:]
	return in, true
}

func (q *queue) close() {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.closed = true
	q.some.Broadcast()
}
