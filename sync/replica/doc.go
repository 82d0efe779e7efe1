// Package replica is the phone's side of sync: local first, then push and pull, for many books (notebooks and clubs) over
// one connection per host. It is a pure state machine: no clock, no disk, no socket, no goroutine, and randomness only
// from the reader passed in.
//
// # Use
//
//	r := replica.New(replica.Config{Rand: rand})
//	effects := r.Step(now, replica.Load{Records: everythingHot})
//	ticket, err := r.Start(now, host)
//	ticket, err := r.Put(now, replica.PutArgs{...})
//	effects = r.Step(now, replica.Nothing{}) // flushes what commands have asked for
//
// Everything from outside is an Event; everything that must happen outside is an Effect, in the order in which it must be
// carried out. Commands check, build ops and return at once with a ticket; Saved or Failed for that ticket follow after the
// transaction that holds the ops. Commands called between two Steps stand in one transaction: all of them, or none.
//
// # Storage
//
// The phone keeps records, key -> bytes. A Persist is one atomic, durable transaction. At most one is under way; what
// happens meanwhile waits for the next. Records whose keys begin with "cold/" are not given in Load; they are asked for by
// Read. See ../SPEC.md, REPLICA-1 ff, for what each record holds and what a crash leaves behind.
package replica
