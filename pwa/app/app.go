package app

import "io"

// App is one person's application on one phone.
type App struct {
	rand   io.Reader
	broken bool // a fault happened: nothing is trusted any more
}

// New makes an App. Randomness comes from rand, which must be fit for keys.
func New(rand io.Reader) *App { return &App{rand: rand} }

// Step takes one input and returns what is to be done, in order.
func (a *App) Step(in Input) []Effect {
	return nil
}

var commands []CommandType
var views []ViewType

func init() {
	commands = append(commands,
		nothingYet[NotebookName, Nothing](CmdNotebookName), nothingYet[SafetySeen, Nothing](CmdSafetySeen),
		nothingYet[StorageReport, Nothing](CmdStorageReport), nothingYet[LinkRead, LinkMeaning](CmdLinkRead),
		nothingYet[ClubCreate, ClubCreated](CmdClubCreate), nothingYet[ClubRename, Nothing](CmdClubRename),
		nothingYet[ClubInvite, ClubInvited](CmdClubInvite), nothingYet[ClubRevoke, Nothing](CmdClubRevoke),
		nothingYet[ClubJoin, ClubJoining](CmdClubJoin), nothingYet[ClubRole, Nothing](CmdClubRole),
		nothingYet[ClubRemove, Nothing](CmdClubRemove), nothingYet[ClubLeave, Nothing](CmdClubLeave),
		nothingYet[BookResume, Nothing](CmdBookResume),
		nothingYet[FlightCreate, FlightCreated](CmdFlightCreate), nothingYet[FlightEdit, Nothing](CmdFlightEdit),
		nothingYet[FlightClosing, Nothing](CmdFlightClosing), nothingYet[FlightClose, Nothing](CmdFlightClose),
		nothingYet[SampleSeal, SampleSealed](CmdSampleSeal), nothingYet[SampleUnseal, Nothing](CmdSampleUnseal),
		nothingYet[SampleKeep, Nothing](CmdSampleKeep),
		nothingYet[BrewStart, BrewStarted](CmdBrewStart), nothingYet[BrewMark, Nothing](CmdBrewMark),
		nothingYet[BrewUnmark, Nothing](CmdBrewUnmark), nothingYet[BrewSave, Nothing](CmdBrewSave),
		nothingYet[BrewEdit, Nothing](CmdBrewEdit), nothingYet[BrewDiscard, Nothing](CmdBrewDiscard),
		nothingYet[GuessPreview, GuessView](CmdGuessPreview), nothingYet[GuessSave, Nothing](CmdGuessSave),
		nothingYet[DeviceName, Nothing](CmdDeviceName), nothingYet[DevicePair, DevicePairing](CmdDevicePair),
		nothingYet[DeviceRemove, Nothing](CmdDeviceRemove),
		nothingYet[Nothing, RecoveryMade](CmdRecoveryMake), nothingYet[RecoveryConfirm, Nothing](CmdRecoveryConfirm),
		nothingYet[Recover, ClubJoining](CmdRecover),
		nothingYet[RefusedRetry, Nothing](CmdRefusedRetry), nothingYet[RefusedDiscard, Nothing](CmdRefusedDiscard),
	)
	views = append(views,
		noView[Nothing, SyncView](ViewSync), noView[Nothing, NotebookView](ViewNotebook), noView[Nothing, TonightView](ViewTonight),
		noView[Nothing, BenchView](ViewBench), noView[BrewParams, BrewView](ViewBrew), noView[BrewsParams, BrewsView](ViewBrews),
		noView[Nothing, ClubsView](ViewClubs), noView[ClubParams, ClubView](ViewClub), noView[FlightParams, FlightView](ViewFlight),
		noView[SampleParams, SampleView](ViewSample), noView[GuessParams, GuessView](ViewGuess),
		noView[SampleParams, ResultView](ViewResult), noView[Nothing, PracticeView](ViewPractice),
		noView[Nothing, DevicesView](ViewDevices), noView[Nothing, RefusedView](ViewRefused),
		noView[Nothing, IntentionsView](ViewIntentions), noView[Nothing, AtlasView](ViewAtlas),
	)
}

func nothingYet[A, R any](name string) CommandType {
	return command(name, func(*App, A) (r R, err *Error) { return r, &Error{Code: "unknown", Text: "no such command"} })
}

func noView[P, V any](name string) ViewType {
	return view(name, func(*App, P) (v V, ready bool, err *Error) { return v, true, nil })
}
