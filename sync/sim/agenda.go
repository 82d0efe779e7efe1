package sim

import "container/heap"

// agenda is what is still to happen, by time and then by the order in which it was put down.
type agenda struct {
	items []appointment
	count uint64
}

type appointment struct {
	at   int64
	turn uint64
	do   func()
}

func (a *agenda) Len() int { return len(a.items) }
func (a *agenda) Less(i, j int) bool {
	if a.items[i].at != a.items[j].at {
		return a.items[i].at < a.items[j].at
	}
	return a.items[i].turn < a.items[j].turn
}
func (a *agenda) Swap(i, j int) { a.items[i], a.items[j] = a.items[j], a.items[i] }
func (a *agenda) Push(x any)    { a.items = append(a.items, x.(appointment)) }
func (a *agenda) Pop() any {
	last := a.items[len(a.items)-1]
	a.items = a.items[:len(a.items)-1]
	return last
}

func (a *agenda) put(at int64, do func()) {
	a.count++
	heap.Push(a, appointment{at, a.count, do})
}

func (a *agenda) take() appointment { return heap.Pop(a).(appointment) }
