package club

import "hushcup/sync/spell"

// rule is what an entry breaks; zero is nothing.
type rule uint8

// What breaking a rule means to a phone. The server refuses all of them alike.
type gravity uint8

const (
	isVoid gravity = iota
	isTampering
	isStop
)

const (
	fine rule = iota

	// Of the log itself.
	positionGap
	chainBroken
	timeFell
	wrongBook
	seqTaken
	chainGap
	seenContradicts
	seenAhead
	bodyMissing
	noCreate
	unknownKind
	newerRules

	// Of every op.
	noSuchBook
	alreadyCreated
	malformed
	timeAhead
	notAMember
	recoveryOnly
	clubOnly
	notOrganiser
	notYours

	// Of members, devices and invitations.
	badKey
	badProof
	memberKnown
	deviceKnown
	noSuchMember
	noSuchDevice
	wrongDevices
	memberDevices
	bookDevices
	bookMembers
	notYourself
	lastOrganiser
	roleUnchanged
	inviteKnown
	noSuchInvite
	inviteSpent
	inviteExpired
	inviteRevoked
	inviteEnded
	inviteTooLong
	tooMany

	// Of epochs and keys.
	staleEpoch
	epochKnown
	unknownKey
	badKeys
	noEnvelope
	wrongEnvelope
	secondWrap

	// Of flights, samples and guesses.
	flightKnown
	noSuchFlight
	flightClosed
	closingPassed
	sampleKnown
	noSuchSample
	codeTaken
	keyTaken
	wrongHolders
	notKeeper
	sampleClosed
	notAHolder
	notClosed
	seenBeforeClose
	wrongSampleKey
	alreadyOpen
	writtenOnce
	notUniform
	stillSealed
	scoringGuess
	rulesNotNewer

	ruleCount
)

// Rule is one line of the table of rules: a stable code, what it says, and what the person can do.
type Rule struct {
	Code string
	Text string
	Hint string
	on   gravity
}

// table is every rule there is. Codes are part of the protocol and never change their meaning.
var table = [ruleCount]Rule{
	positionGap:     {"position-gap", "an entry of the order is missing before this one", "", isTampering},
	chainBroken:     {"chain-broken", "the entry does not stand where the order's chain says", "", isTampering},
	timeFell:        {"time-fell", "the order's time fell", "", isTampering},
	wrongBook:       {"wrong-book", "the op belongs to another book", "", isTampering},
	seqTaken:        {"seq-taken", "another op of this device already stands at this place", "This storage was copied or rolled back; the app catches up by itself.", isTampering},
	chainGap:        {"chain-gap", "the op does not follow the device's last one", "", isTampering},
	seenContradicts: {"seen-contradicts", "the author saw another order than this one", "Somebody shows different histories to different people. Compare with another member.", isTampering},
	seenAhead:       {"seen-ahead", "the author had seen positions that this order does not have", "", isTampering},
	bodyMissing:     {"body-missing", "a body is missing that nothing superseded or erased", "", isTampering},
	noCreate:        {"no-create", "the book does not begin with a valid create", "", isTampering},
	unknownKind:     {"unknown-kind", "the op is of a kind that this version does not know", "Update the app.", isStop},
	newerRules:      {"newer-rules", "the book follows rules that this version does not know", "Update the app.", isStop},

	noSuchBook:     {"no-such-book", "the book does not exist here", "", isVoid},
	alreadyCreated: {"already-created", "the book exists already", "", isVoid},
	malformed:      {"malformed", "the op is not written as its kind demands", "Update the app.", isVoid},
	timeAhead:      {"time-ahead", "the op's time lies more than two minutes past the server's", "The clock of this device is ahead; the app corrects the op by itself.", isVoid},
	notAMember:     {"not-a-member", "the device is not in the book", "Ask an organiser for a new invitation.", isVoid},
	recoveryOnly:   {"recovery-only", "a recovery code may only bring in a device or replace a code", "Use the code to set up this device first.", isVoid},
	clubOnly:       {"club-only", "a notebook knows no such thing", "", isVoid},
	notOrganiser:   {"not-an-organiser", "only an organiser may do this", "Ask an organiser.", isVoid},
	notYours:       {"not-yours", "only its owner may do this", "", isVoid},

	badKey:        {"bad-key", "a public key is not canonical, or of low order", "", isVoid},
	badProof:      {"bad-proof", "the proof is not signed by the key that must sign it", "", isVoid},
	memberKnown:   {"member-known", "the member was in the book before", "Join as a new member.", isVoid},
	deviceKnown:   {"device-known", "the device was in the book before", "Set the device up anew, so that it has new keys.", isVoid},
	noSuchMember:  {"no-such-member", "there is no such member now", "", isVoid},
	noSuchDevice:  {"no-such-device", "the member has no such device now", "", isVoid},
	wrongDevices:  {"wrong-devices", "the keys are not handed to the right devices", "", isVoid},
	memberDevices: {"member-devices", "a member can have eight devices, recovery codes included", "Remove a device first.", isVoid},
	bookDevices:   {"book-devices", "the book has as many devices as it can hold", "Ask members to remove old devices.", isVoid},
	bookMembers:   {"book-members", "the club has as many members as it can hold", "Found a second club.", isVoid},
	notYourself:   {"not-yourself", "one cannot remove oneself or the device in one's hand", "Leave the club instead, or use another device.", isVoid},
	lastOrganiser: {"last-organiser", "the last organiser cannot go or step down", "Make another member an organiser first.", isVoid},
	roleUnchanged: {"role-unchanged", "the member has this role already", "", isVoid},
	inviteKnown:   {"invite-known", "the invitation's key was used before", "", isVoid},
	noSuchInvite:  {"no-such-invite", "there is no such invitation", "Check that the link is complete.", isVoid},
	inviteSpent:   {"invite-spent", "the invitation was used as often as it may be", "Ask for a new one.", isVoid},
	inviteExpired: {"invite-expired", "the invitation has expired", "Ask for a new one.", isVoid},
	inviteRevoked: {"invite-revoked", "the invitation was taken back", "Ask for a new one.", isVoid},
	inviteEnded:   {"invite-ended", "the club changed after the invitation was made, and ended it", "Ask for a new one.", isVoid},
	inviteTooLong: {"invite-too-long", "an invitation for one's own device is for one use within a day", "", isVoid},
	tooMany:       {"too-many", "the book holds as many of these as it can", "", isVoid},

	staleEpoch:    {"stale-epoch", "the epoch or the devices in it changed meanwhile", "The app makes it anew by itself.", isVoid},
	epochKnown:    {"epoch-known", "the epoch was there before", "", isVoid},
	unknownKey:    {"unknown-key", "the body lies under an epoch that the book does not have", "", isVoid},
	badKeys:       {"bad-keys", "this must lie under other keys", "", isVoid},
	noEnvelope:    {"no-envelope", "the envelope was not handed to the sample's key", "", isVoid},
	wrongEnvelope: {"wrong-envelope", "the envelope belongs to another sample", "", isVoid},
	secondWrap:    {"second-wrap", "another envelope was handed over before", "", isVoid},

	flightKnown:     {"flight-known", "the flight exists already", "", isVoid},
	noSuchFlight:    {"no-such-flight", "there is no such flight", "", isVoid},
	flightClosed:    {"flight-closed", "the flight is closed", "Open a new flight.", isVoid},
	closingPassed:   {"closing-passed", "the closing time has passed already", "Choose a later time.", isVoid},
	sampleKnown:     {"sample-known", "the sample exists already", "", isVoid},
	noSuchSample:    {"no-such-sample", "there is no such sample", "", isVoid},
	codeTaken:       {"code-taken", "another sample of the flight has this code", "Choose another code and relabel the bag.", isVoid},
	keyTaken:        {"key-taken", "another sample has this key", "", isVoid},
	wrongHolders:    {"wrong-holders", "the holders are not other members who are in, each named once", "Choose the holders again.", isVoid},
	notKeeper:       {"not-the-keeper", "only an organiser, or who sealed all of the samples, may close them", "Ask an organiser.", isVoid},
	sampleClosed:    {"sample-closed", "the samples are closed already", "", isVoid},
	notAHolder:      {"not-a-holder", "only the keeper and the named holders may unseal a sample", "Ask who sealed it.", isVoid},
	notClosed:       {"not-closed", "the sample is not closed yet", "Close it first.", isVoid},
	seenBeforeClose: {"seen-before-close", "the unsealing was written before the close was seen", "The app does it anew by itself.", isVoid},
	wrongSampleKey:  {"wrong-sample-key", "the key is not the sample's", "", isVoid},
	alreadyOpen:     {"already-open", "the samples are open already", "", isVoid},
	writtenOnce:     {"written-once", "first impressions are written once", "Add a note instead.", isVoid},
	notUniform:      {"not-uniform", "a guess is not padded to the one size", "Update the app.", isVoid},
	stillSealed:     {"still-sealed", "nothing about a sealed sample's guess can be erased before the unsealing", "Wait for the unsealing.", isVoid},
	scoringGuess:    {"scoring-guess", "a guess that scores cannot be erased", "", isVoid},
	rulesNotNewer:   {"rules-not-newer", "the book follows these rules already", "", isVoid},
}

// Table lists every rule, for documentation and for the screens that explain a refusal.
func Table() []Rule { return table[1:] }

// Void says that an entry breaks a rule at its position: it changes nothing but the chains.
type Void struct{ Code, Text, Hint string }

// Tampering says that the history contradicts itself: folding stops for good.
type Tampering struct{ Code, Text, Hint string }

// Stop says that a newer version wrote this: folding goes on once the app is updated.
type Stop struct{ Code, Text, Hint string }

// Refusal is the server's answer to a run: nothing of it was taken. Op is the index of the op to blame.
type Refusal struct {
	Code, Text, Hint string
	Op               int
}

func (e *Void) Error() string      { return e.Code + ": " + e.Text }
func (e *Tampering) Error() string { return e.Code + ": " + e.Text }
func (e *Stop) Error() string      { return e.Code + ": " + e.Text }
func (e *Refusal) Error() string   { return spell.Text("%s: op %d: %s", e.Code, e.Op, e.Text) }

// err is what a broken rule means to a phone.
func (r rule) err() error {
	line := &table[r]
	switch {
	case r == fine:
		return nil
	case line.on == isTampering:
		return &Tampering{line.Code, line.Text, line.Hint}
	case line.on == isStop:
		return &Stop{line.Code, line.Text, line.Hint}
	}
	return &Void{line.Code, line.Text, line.Hint}
}

// refusal is what a broken rule means at the door.
func (r rule) refusal(op int) *Refusal {
	line := &table[r]
	return &Refusal{Code: line.Code, Text: line.Text, Hint: line.Hint, Op: op}
}
