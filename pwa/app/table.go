package app

// commands and views are the whole contract, each tied to what carries it out.
var commands = []CommandType{
	plain(CmdNotebookName, (*App).setName),
	plain(CmdSafetySeen, (*App).seeSafety),
	plain(CmdStorageReport, (*App).storageReport),
	command(CmdLinkRead, (*App).readLink),

	command(CmdClubCreate, (*App).createClub),
	plain(CmdClubRename, (*App).renameClub),
	command(CmdClubInvite, (*App).invite),
	plain(CmdClubRevoke, (*App).revoke),
	command(CmdClubJoin, (*App).join),
	plain(CmdClubRole, (*App).setRole),
	plain(CmdClubRemove, (*App).removeMember),
	plain(CmdClubLeave, (*App).leaveClub),
	plain(CmdBookResume, (*App).resumeBook),

	command(CmdFlightCreate, (*App).createFlight),
	plain(CmdFlightEdit, (*App).editFlight),
	plain(CmdFlightClosing, (*App).moveClosing),
	plain(CmdFlightClose, (*App).closeFlight),
	command(CmdSampleSeal, (*App).sealSample),
	plain(CmdSampleUnseal, (*App).unsealSamples),
	plain(CmdSampleKeep, (*App).keepSample),

	command(CmdBrewStart, (*App).startBrew),
	plain(CmdBrewMark, (*App).markBrew),
	plain(CmdBrewUnmark, (*App).unmarkBrew),
	plain(CmdBrewSave, (*App).saveBrew),
	plain(CmdBrewEdit, (*App).editBrew),
	plain(CmdBrewDiscard, (*App).discardBrew),

	command(CmdGuessPreview, (*App).previewGuess),
	plain(CmdGuessSave, (*App).saveGuess),

	plain(CmdDeviceName, (*App).nameDevice),
	command(CmdDevicePair, (*App).pairDevice),
	plain(CmdDeviceRemove, (*App).removeDevice),
	command(CmdRecoveryMake, (*App).makeRecovery),
	plain(CmdRecoveryConfirm, (*App).confirmRecovery),
	command(CmdRecover, (*App).recover),
	plain(CmdRefusedRetry, (*App).retryRefused),
	plain(CmdRefusedDiscard, (*App).discardRefused),
}

var views = []ViewType{
	view(ViewSync, needAll, (*App).lookSync),
	view(ViewNotebook, needState|needDocs, (*App).lookNotebook),
	view(ViewTonight, needAll, (*App).lookTonight),
	view(ViewBench, needState|needDocs|needTime, (*App).lookBench),
	view(ViewBrew, needAll, (*App).lookBrew),
	view(ViewBrews, needDocs, (*App).lookBrews),
	view(ViewClubs, needState|needDocs|needGuesses|needSync, (*App).lookClubs),
	view(ViewClub, needAll, (*App).lookClub),
	view(ViewFlight, needAll, (*App).lookFlight),
	view(ViewSample, needAll, (*App).lookSample),
	view(ViewGuess, needAll, (*App).lookGuess),
	view(ViewResult, needState|needDocs|needGuesses, (*App).lookResult),
	view(ViewPractice, needState|needDocs|needGuesses, (*App).lookPractice),
	view(ViewDevices, needState|needDocs|needSync, (*App).lookDevices),
	view(ViewRefused, needState|needDocs|needSync, (*App).lookRefused),
	view(ViewIntentions, needState|needSync, (*App).lookIntentions),
	view(ViewAtlas, 0, (*App).lookAtlas),
}
