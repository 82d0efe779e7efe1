// Package club is what a book's log means: who is in, with which devices and keys, which flights and samples there are, when
// they closed and opened, and which guess counts. It is a pure state machine over the ordered log; phones fold with it and
// the server refuses with it, so both always agree. Rules are numbered CLUB-n in ../SPEC.md and named by the codes that a
// refusal carries.
//
// # Use
//
//	s := club.New()
//	err := s.Fold(entry, chainAt)   // phones: entry by entry, in order
//	entries, err := s.Admit(run, at, chainAt) // server: all of a run, or nothing
//
// Fold returns nil, a *Void (the entry stays in the order and changes nothing but the chains), or a *Tampering (folding
// stops: the history contradicts itself) or a *Stop (a newer version wrote this). Admit returns a *Refusal and leaves the
// state as it was.
//
// An entry is judged in this order, and the first fault is the one that is named: its place in the order; its kind; its book;
// its device's chain; its seen; a missing body; the rules version; then flights whose time has come are closed; its own time;
// its header; its author; and what its kind demands. All of an op's rules are checked before anything is changed.
//
// State is small and holds what rules depend on. Docs, folded beside it, holds where the content of every document stands.
// Both have snapshots. Neither opens a seal: what lies inside is the business of whoever has the keys.
package club
