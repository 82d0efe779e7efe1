package app

// Names of the commands. Each has a struct of arguments and one of results below; a command without a result gives Nothing.
const (
	CmdNotebookName    = "notebook.name"
	CmdSafetySeen      = "safety.seen"
	CmdStorageReport   = "storage.report"
	CmdLinkRead        = "link.read"
	CmdClubCreate      = "club.create"
	CmdClubRename      = "club.rename"
	CmdClubInvite      = "club.invite"
	CmdClubRevoke      = "club.revoke"
	CmdClubJoin        = "club.join"
	CmdClubRole        = "club.role"
	CmdClubRemove      = "club.remove"
	CmdClubLeave       = "club.leave"
	CmdBookResume      = "book.resume"
	CmdFlightCreate    = "flight.create"
	CmdFlightEdit      = "flight.edit"
	CmdFlightClosing   = "flight.closing"
	CmdFlightClose     = "flight.close"
	CmdSampleSeal      = "sample.seal"
	CmdSampleUnseal    = "sample.unseal"
	CmdSampleKeep      = "sample.keep"
	CmdBrewStart       = "brew.start"
	CmdBrewMark        = "brew.mark"
	CmdBrewUnmark      = "brew.unmark"
	CmdBrewSave        = "brew.save"
	CmdBrewEdit        = "brew.edit"
	CmdBrewDiscard     = "brew.discard"
	CmdBrewPlan        = "brew.plan"
	CmdBrewHold        = "brew.hold"
	CmdBrewAbandon     = "brew.abandon"
	CmdBrewCount       = "brew.count"
	CmdBrewTime        = "brew.time"
	CmdBrewReading     = "brew.reading"
	CmdBowlsStart      = "bowls.start"
	CmdCupNotice       = "cup.notice"
	CmdSittingStep     = "sitting.step"
	CmdCoffeeSave      = "coffee.save"
	CmdBrewerSave      = "brewer.save"
	CmdGrinderSave     = "grinder.save"
	CmdGrinderRead     = "grinder.read"
	CmdHomeRead        = "home.read"
	CmdWaterSave       = "water.save"
	CmdConcentrateSave = "concentrate.save"
	CmdWaterRead       = "water.read"
	CmdConcentrateRead = "concentrate.read"
	CmdWaterMix        = "water.mix"
	CmdClubWater       = "club.water"
	CmdClubReach       = "club.reach"
	CmdDataPage        = "data.page"
	CmdDataTake        = "data.take"
	CmdInstrumentSave  = "instrument.save"
	CmdRecipeSave      = "recipe.save"
	CmdItemRemove      = "item.remove"
	CmdItemBack        = "item.back"
	CmdHomeSave        = "home.save"
	CmdPersonSave      = "person.save"
	CmdRecipeLink      = "recipe.link"
	CmdRecipeRead      = "recipe.read"
	CmdGuessPreview    = "guess.preview"
	CmdGuessSave       = "guess.save"
	CmdDeviceName      = "device.name"
	CmdDevicePair      = "device.pair"
	CmdDeviceRemove    = "device.remove"
	CmdRecoveryMake    = "recovery.make"
	CmdRecoveryConfirm = "recovery.confirm"
	CmdRecover         = "recover"
	CmdRefusedRetry    = "refused.retry"
	CmdRefusedDiscard  = "refused.discard"
)

// Nothing is the result, or the arguments, of what has none.
type Nothing struct{}

// NotebookName says how one is called, here and in every club one is in.
type NotebookName struct {
	Name string `cbor:"name"` // 1 to 40 letters
}

// SafetySeen keeps that a caution was read, so that it is not shown again.
type SafetySeen struct {
	Caution string `cbor:"caution" ts:"Caution"`
}

// The cautions.
const (
	CautionHotWater  = "hot-water" // scalds, steam, glass
	CautionCaffeine  = "caffeine"  // with pregnancy and medication
	CautionAllergens = "allergens" // infused and co-fermented coffees, shared grinders
	CautionData      = "data"      // what a browser may delete, what a host can see
)

// StorageReport tells what the page knows of this browser's storage.
type StorageReport struct {
	Persisted bool `cbor:"persisted"` // navigator.storage.persisted()
	Installed bool `cbor:"installed"` // runs as an installed app
	Low       bool `cbor:"low"`       // little room left
}

// LinkRead asks what a link, or pasted text, or the content of a QR code is for. Nothing is done with it yet.
type LinkRead struct {
	Text string `cbor:"text"`
}

// LinkMeaning is what a link is for.
type LinkMeaning struct {
	Purpose string `cbor:"purpose" ts:"\"join\" | \"device\" | \"recovery\""`
	Host    string `cbor:"host"`  // where its book lives
	Known   string `cbor:"known"` // join: the club's id when one is in it already, else ""
}
