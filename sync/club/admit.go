package club

import "hushcup/sync/oplog"

// Admit judges a verified run (oplog.Packed.Unpack) as the next of the book's order at a server time, and folds it if every
// op of it is good. `at` is raised to the newest time in the order. On a *Refusal the state is as it was.
func (s *State) Admit(run *oplog.Run, at int64, chainAt ChainAt) ([]oplog.Entry, error) {
	panic("unwritten")
}

// Undo takes back the last successful Admit, for a server whose commit failed. It may be called once after an Admit, before
// anything else is folded or admitted.
func (s *State) Undo() { panic("unwritten") }
