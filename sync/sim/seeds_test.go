package sim

import "testing"

// Seeds that once broke a promise, and what was wrong. Whoever changes how worlds are drawn changes what befalls in them: what
// a seed was about is then worth a scenario in testdata, as those found before have.

func keeps(t *testing.T, seed uint64) {
	t.Helper()
	if fault := New(seed, None).Run(); fault != nil {
		t.Error(fault)
	}
}

// A member's own `leave` came back with a forged signature; started anew, the phone asked no more how it was taken out.
func TestSeed_141_LeaveForgedOnItsWayBack(t *testing.T) { keeps(t, 141) }

// A phone was removed while its disk was full: what the failed write brought back waited for ever.
func TestSeed_201_RemovedWhileTheDiskWasFull(t *testing.T) { keeps(t, 201) }

// A run was replayed by a lying server; started anew from an honest one, the phone stayed stopped.
func TestSeed_1014_StoppedByAReplayAndStartedAnew(t *testing.T) { keeps(t, 1014) }

// An organiser had stepped down, and that waited behind the resume that it then may not say.
func TestSeed_21934_ResumeBehindOnesOwnDemotion(t *testing.T) { keeps(t, 21934) }

// The store lost that a member ever came in; what it had had ordered stays readable on its phone.
func TestSeed_31894_JoinLostWithTheTail(t *testing.T) { keeps(t, 31894) }

// A tail was offered back without the op for which a body in it had been dropped, and that op was lost for good.
func TestSeed_50576_BodyDroppedForAnOpThatWasLost(t *testing.T) { keeps(t, 50576) }

// A server had dropped a body for an entry that the phone's own server had not heard of.
func TestSeed_51052_BodyDroppedForAnEntryElsewhere(t *testing.T) { keeps(t, 51052) }

// A store was cut short without getting back the bodies that it had dropped for what it lost: a fault of the simulation's own.
func TestSeed_64618_BackupWithoutItsBodies(t *testing.T) { keeps(t, 64618) }

// A device was let in by a recovery code and taken out again before it heard of either: the recovery never ended.
func TestSeed_100611_TakenOutBeforeTheRecoveryHeardOfIt(t *testing.T) { keeps(t, 100611) }

// A book was stopped at its very first entry by a forged run; started anew after it had been taken out, the phone asked for
// nothing, and the book stayed stopped.
func TestSeed_203948_StoppedAtItsFirstEntryThenTakenOut(t *testing.T) { keeps(t, 203948) }

// A member was removed while its book was stopped, and a server that withheld the removal said so first: what came then was
// not folded, and the cursor stood still.
func TestSeed_204973_RemovedWhileItsBookWasStopped(t *testing.T) { keeps(t, 204973) }

// A phone came back with an old storage, and later with one that had been copied shortly before that: the simulation had written
// what the phone made after the first over what it owed with the second. A fault of the simulation's own.
func TestSeed_312421_RolledBackTwiceToAStorageOfBetween(t *testing.T) { keeps(t, 312421) }

// A flight's document was written again while a wrong clock kept the flight out of what the phone expects: to the simulation these
// were two documents, a fault of its own.
func TestSeed_4555_DocumentOfAFlightThatIsNotExpected(t *testing.T) { keeps(t, 4555) }
